import { z } from "zod";
import type { Round } from "../../model/facility.ts";
import type { YamlReport } from "../problems/reports.ts";
import { roundsOutOfOrder } from "../problems/yaml.ts";
import { day, type Entry, optional, scalar, settingTexts, text, words } from "../yaml/shape.ts";
import { checkName, checkUnique, type Declared } from "./names.ts";
import { checkRadio, normaliseRadio, radioSchema } from "./radio.ts";

export const roundSchema = z.strictObject({
  id: text("Short name of the round, as the pass logs write it."),
  title: words("Name of the round on the pages; the id if left out."),
  date: day("The day the round was walked, YYYY-MM-DD."),
  changes: words("What was changed before this round, in words."),
  settings: optional(
    z.record(z.string(), z.record(z.string(), scalar).nullable()),
    "Settings of the readers in this round: by read point, any keys.",
  ),
  radio: optional(
    z.record(z.string(), radioSchema.nullable()),
    "The radio of the read points in this round, by read point: cable, antenna, region, zone. The power stands in settings, as transmit_power_dbm.",
  ),
});

export function checkRounds(
  rounds: Entry<z.infer<typeof roundSchema>>[],
  { readPoints }: Declared,
  report: YamlReport,
): void {
  checkOrder(rounds, report);
  for (const { value, path } of rounds) {
    checkName([...path, "id"], value.id, report);
    for (const readPoint of Object.keys(value.settings ?? {}))
      report.keyReference([...path, "settings", readPoint], readPoint, readPoints);
    for (const [readPoint, radio] of Object.entries(value.radio ?? {})) {
      const place = [...path, "radio", readPoint];
      report.keyReference(place, readPoint, readPoints);
      if (radio !== null)
        checkRadio(
          radio,
          { round: value.id, settings: value.settings?.[readPoint] ?? {}, path: place },
          report,
        );
    }
  }
}

/** Reports ids that are given twice, and dates that go back. */
export function checkOrder(
  rounds: Entry<{ id: string; date?: string | null | undefined }>[],
  report: YamlReport,
): void {
  checkUnique(rounds, "id", report);
  let latest: string | null = null;
  for (const { value, path } of rounds) {
    if (value.date == null) continue;
    if (latest !== null && value.date < latest)
      report.value([...path, "date"], roundsOutOfOrder.with({ round: value.id, date: value.date, latest }));
    else latest = value.date;
  }
}

export function normaliseRound(round: z.infer<typeof roundSchema>): Round {
  const settings = Object.entries(round.settings ?? {}).map(
    ([point, values]) => [point, settingTexts(values ?? {})] as const,
  );
  const radio = Object.entries(round.radio ?? {}).flatMap(([point, values]) =>
    values === null ? [] : [[point, normaliseRadio(values)] as const],
  );
  return {
    id: round.id,
    title: round.title ?? round.id,
    date: round.date ?? null,
    changes: round.changes ?? null,
    settings: Object.fromEntries(settings),
    ...(radio.length === 0 ? {} : { radio: Object.fromEntries(radio) }),
  };
}
