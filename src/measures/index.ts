import { Registry } from "../model/registry.ts";
import { agreementRate } from "./agreement-rate.ts";
import { bystanderReadRate } from "./bystander-read-rate.ts";
import { completePassRate } from "./complete-pass-rate.ts";
import { idleReadRate } from "./idle-read-rate.ts";
import type { Measure } from "./measure.ts";
import { powerMargin } from "./power-margin.ts";
import { rssiQuantile } from "./rssi-quantile.ts";
import { strayPassRate } from "./stray-pass-rate.ts";
import { tagReadRate } from "./tag-read-rate.ts";

/** Every measure that a criterion can name. */
export const measures = new Registry<Measure>([
  tagReadRate,
  completePassRate,
  strayPassRate,
  bystanderReadRate,
  agreementRate,
  rssiQuantile,
  idleReadRate,
  powerMargin,
]);
