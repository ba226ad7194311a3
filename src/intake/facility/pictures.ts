import { z } from "zod";
import type { Attachment } from "../../model/record/picture.ts";
import { floorPlanDepth } from "../problems/pictures.ts";
import type { DeclaredNames, YamlReport } from "../problems/reports.ts";
import { pathOutside } from "../problems/yaml.ts";
import { day, type Entry, filled, optional, text, valueAt, words } from "../yaml/shape.ts";
import { isOutside } from "./record.ts";

/* What facility.yaml says of photographs and drawings. */

const attachmentsFolder = "attachments/";

export const attachmentSchema = z.strictObject({
  file: text("The file in attachments/: JPEG, PNG or plain SVG."),
  caption: words("What it shows."),
  read_point: words("The read point that it shows."),
  open_point: words("The open point that it belongs to."),
  taken: day("The day it was taken, YYYY-MM-DD."),
});
type RawAttachment = z.infer<typeof attachmentSchema>;

export const floorPlanImage = optional(
  filled,
  "A picture of the ground in the facility's folder: JPEG, PNG or plain SVG. width_m gives its scale.",
);

export function checkPictures(
  attachments: Entry<RawAttachment>[],
  { readPoints, openPoints, root }: { readPoints: DeclaredNames; openPoints: DeclaredNames; root: unknown },
  report: YamlReport,
): void {
  for (const { value, path } of attachments) {
    const { file, read_point: readPoint, open_point: openPoint } = value;
    if (isOutside(file)) report.value([...path, "file"], pathOutside);
    if (readPoint != null) report.reference([...path, "read_point"], readPoint, readPoints);
    if (openPoint != null) report.reference([...path, "open_point"], openPoint, openPoints);
  }
  checkFloorPlan(valueAt(root, ["floor_plan"]), report);
}

function checkFloorPlan(plan: unknown, report: YamlReport): void {
  if (typeof plan !== "object" || plan === null) return;
  const image = valueAt(plan, ["image"]) ?? null;
  const depth = valueAt(plan, ["depth_m"]) ?? null;
  if (image !== null && depth !== null) report.value(["floor_plan", "depth_m"], floorPlanDepth.both());
  if (image === null && depth === null) report.value(["floor_plan"], floorPlanDepth.neither());
  if (typeof image === "string" && isOutside(image)) report.value(["floor_plan", "image"], pathOutside);
}

/** A file is named in its folder or by its path. */
export function normaliseAttachment(raw: RawAttachment): Attachment {
  return {
    file: raw.file.startsWith(attachmentsFolder) ? raw.file : `${attachmentsFolder}${raw.file}`,
    caption: raw.caption ?? null,
    readPoint: raw.read_point ?? null,
    openPoint: raw.open_point ?? null,
    taken: raw.taken ?? null,
  };
}
