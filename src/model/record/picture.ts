import { z } from "zod";

/* Photographs and drawings, as zod schemas: the types are made of them, and so is the schema of result.json. */

const text = z.string().nullable();

/** What a picture's file may hold besides the picture, in the order in which it is told. */
export const besidesPicture = ["place", "person", "device", "text", "preview"] as const;
export type BesidesPicture = (typeof besidesPicture)[number];

export const besidesWords: Record<BesidesPicture, string> = {
  place: "a place",
  person: "the name of a person",
  device: "the number of a device",
  text: "other text",
  preview: "a second, smaller picture",
};

export const pictureSchema = z
  .object({
    kind: z.enum(["jpeg", "png", "svg"]),
    width: z.number().int().describe("In pixels, once it is turned; of an SVG, in units of its own."),
    height: z.number().int(),
    orientation: z.number().int().describe("How it is stored, 1 to 8 as Exif counts; 1 is upright."),
    holds: z
      .array(z.enum(besidesPicture))
      .describe(
        "What the file holds besides the picture: a place, a person's name, a device's number, other text, a preview.",
      ),
    leftOut: z.array(z.string()).describe("Parts of an SVG that its copy on the pages lacks."),
  })
  .describe("Only for photographs and drawings. The copies on the pages hold nothing but the picture.");
export type Picture = z.infer<typeof pictureSchema>;

export const attachmentSchema = z.object({
  file: z.string().describe("Relative to the facility's folder."),
  caption: text,
  readPoint: text,
  openPoint: text,
  taken: text.describe("YYYY-MM-DD, as facility.yaml states it."),
});
export type Attachment = z.infer<typeof attachmentSchema>;

/** The size of a copy whose longer edge is at most `longest`: never larger than the original. */
export function copySize(
  { width, height }: { width: number; height: number },
  longest: number,
): { width: number; height: number } {
  const scale = Math.min(1, longest / Math.max(width, height));
  const scaled = (edge: number) => Math.max(1, Math.round(edge * scale));
  return { width: scaled(width), height: scaled(height) };
}
