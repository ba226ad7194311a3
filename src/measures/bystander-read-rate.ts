import { Role } from "../model/pass-log.ts";
import type { Measure } from "./evidence.ts";
import { countPresentations } from "./presentation-counts.ts";

/**
 * Reads of tags placed where they must not be read (a neighbouring lane, say). n counts bystander presentations: the
 * rows of an itemised log, or of a manifest, whose `presented` says no.
 */
export const bystanderReadRate: Measure = {
  unit: "bystander presentations",
  gather: (selection) => countPresentations(selection, Role.notPresented),
};
