import { Role } from "../model/pass-log.ts";
import type { Measure } from "./evidence.ts";
import { countPresentations } from "./presentation-counts.ts";

/** Tags read of tags presented. n counts presentations: one tag in one pass. */
export const tagReadRate: Measure = {
  unit: "presentations",
  gather: (selection) => countPresentations(selection, Role.presented),
};
