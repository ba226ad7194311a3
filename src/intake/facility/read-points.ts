import { z } from "zod";
import type { ReadPoint } from "../../model/facility.ts";
import type { YamlReport } from "../problems/reports.ts";
import { type Entry, optional, percent, scalar, settingTexts, text, words } from "../yaml/shape.ts";
import { checkName, checkUnique, type Declared } from "./names.ts";

export const readPointSchema = z.strictObject({
  id: text("Short name of the read point, as the pass logs write it."),
  name: words("Name of the read point on the pages; the id if left out."),
  kind: words("What kind of read point it is, for example dock door."),
  at: optional(
    z.strictObject({ x: percent("From the left edge."), y: percent("From the top edge.") }),
    "Where it stands on the floor plan, in percent of its width and depth.",
  ),
  equipment: optional(z.record(z.string(), scalar), "What is installed: reader, serial, firmware, any keys."),
  sign_off_round: words("The round this read point is judged on, if it is not the facility's."),
});

export function checkReadPoints(
  readPoints: Entry<z.infer<typeof readPointSchema>>[],
  { rounds }: Declared,
  report: YamlReport,
): void {
  checkUnique(readPoints, "id", report);
  for (const { value, path } of readPoints) {
    checkName([...path, "id"], value.id, report);
    if (value.sign_off_round != null)
      report.reference([...path, "sign_off_round"], value.sign_off_round, rounds);
  }
}

export function normaliseReadPoint(point: z.infer<typeof readPointSchema>, signOffRound: string): ReadPoint {
  return {
    id: point.id,
    name: point.name ?? point.id,
    kind: point.kind ?? null,
    at: point.at ?? null,
    equipment: settingTexts(point.equipment ?? {}),
    signOffRound: point.sign_off_round ?? signOffRound,
  };
}
