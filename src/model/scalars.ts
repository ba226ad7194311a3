import { z } from "zod";

/* The single values that archived objects are made of. */

export const count = z.number().int();
export const text = z.string().nullable();
export const share = z.number().describe("0 to 1.");
export const uri = text.describe(
  "The tag's pure identity, or its raw URI; null for a label that is no code.",
);
/** Condition and value by column; null for the whole. */
export const groupOf = z.record(z.string(), z.string()).nullable();
