import { z } from "zod";

/* What the shapes of facility.yaml are made of: each with the sentence that editors and faults show. */

/** Ids, names and the like: digits are accepted as they were typed. */
export const filled = z.string().regex(/\S/);
export const text = (description: string) => filled.meta({ description, digitsToo: true });
export const optional = <T extends z.ZodType>(schema: T, description: string) =>
  schema.nullish().meta({ description });
export const date = (description: string) => z.iso.date().meta({ description });
export const words = (description: string) => optional(filled.meta({ digitsToo: true }), description);
export const day = (description: string) => optional(z.iso.date(), description);
export const scalar = z.union([z.string(), z.number(), z.boolean(), z.null()]);
export const percent = (description: string) => z.number().min(0).max(100).meta({ description });
