import type { MeasureId } from "../model/facility.ts";
import { agreementRate } from "./agreement-rate.ts";
import { bystanderReadRate } from "./bystander-read-rate.ts";
import { completePassRate } from "./complete-pass-rate.ts";
import type { Measure } from "./evidence.ts";
import { idleReadRate } from "./idle-read-rate.ts";
import { rssiQuantile } from "./rssi-quantile.ts";
import { strayPassRate } from "./stray-pass-rate.ts";
import { tagReadRate } from "./tag-read-rate.ts";

/** Every measure that a criterion can name. */
export const measures: Record<MeasureId, Measure> = {
  "tag-read-rate": tagReadRate,
  "complete-pass-rate": completePassRate,
  "stray-pass-rate": strayPassRate,
  "bystander-read-rate": bystanderReadRate,
  "agreement-rate": agreementRate,
  "rssi-quantile": rssiQuantile,
  "idle-read-rate": idleReadRate,
};
