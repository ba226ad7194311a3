import { Registry } from "../../model/registry.ts";
import type { JourneyMeasure } from "../measure.ts";
import { carrierSightingRate } from "./carrier-sighting-rate.ts";
import { journeyCompleteRate } from "./journey-complete-rate.ts";
import { journeyOrderRate } from "./journey-order-rate.ts";
import { legSightingRate } from "./leg-sighting-rate.ts";
import { sightingLagQuantile } from "./sighting-lag-quantile.ts";

/** Every measure that a criterion of a journey can name. */
export const journeyMeasures = new Registry<JourneyMeasure>([
  journeyCompleteRate,
  legSightingRate,
  journeyOrderRate,
  carrierSightingRate,
  sightingLagQuantile,
]);
