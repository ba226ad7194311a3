import { reservedColumns } from "../log-columns.ts";
import { quoted } from "../quotation.ts";
import { suggest } from "../suggestion.ts";
import { isTimeZone, timeZoneNames } from "../time-zone.ts";
import type { YamlReporter } from "./reporter.ts";
import { nameOf, valueAt } from "./schema-faults.ts";
import type { Written, WrittenSections } from "./written-facility.ts";

/** What the rounds, read points, conditions and figures of facility.yaml say about each other. */
export function checkFacility(sections: WrittenSections, report: YamlReporter): void {
  checkTop(report);
  checkDuplicates(sections.rounds, (round) => round.id, "id", report);
  checkDuplicates(sections.readPoints, (point) => point.id, "id", report);
  checkDuplicates(sections.conditions, (condition) => condition.column, "column", report);
  checkDuplicates(sections.criteria, (criterion) => criterion.id, "id", report);
  checkDuplicates(sections.openPoints, (point) => point.id, "id", report);
  checkRounds(sections, report);
  checkReadPoints(sections, report);
  checkConditions(sections, report);
}

function checkTop(report: YamlReporter): void {
  const { tree } = report;
  const root = tree.value;
  const zone = valueAt(root, ["time_zone"]);
  if (typeof zone === "string" && !isTimeZone(zone)) {
    const near = suggest(zone, timeZoneNames());
    report.error(
      ["time_zone"],
      "time-zone-unknown",
      "an IANA time zone, for instance Europe/Dublin",
      `${near === null ? "" : `Did you mean ${quoted(near)}? `}Write the zone as Area/City.`,
    );
  }
  const confidence = valueAt(root, ["confidence"]);
  if (typeof confidence === "number" && !(confidence > 0.5 && confidence < 1)) {
    const meant = confidence > 50 && confidence < 100 ? `Write ${confidence / 100}. ` : "";
    report.error(
      ["confidence"],
      "confidence-out-of-range",
      "a number above 0.5 and below 1",
      `${meant}0.95 is usual; no sample gives certainty.`,
    );
  }
  const correlation = valueAt(root, ["miss_correlation"]);
  if (typeof correlation === "number" && !(correlation >= 0 && correlation < 1)) {
    report.error(
      ["miss_correlation"],
      "miss-correlation-out-of-range",
      "a number from 0 to below 1",
      "0.02 is taken where it is left out.",
    );
  }
  const change = valueAt(root, ["smallest_change_that_matters"]);
  if (typeof change === "number" && !(change > 0 && change < 1)) {
    const meant =
      change >= 1 && change < 100 ? `Write ${change / 100} for ${change} percentage points. ` : "";
    report.error(
      ["smallest_change_that_matters"],
      "smallest-change-out-of-range",
      "a number above 0 and below 1",
      `${meant}0.005 is taken where it is left out.`,
    );
  }
  if ((valueAt(root, ["report"]) ?? null) === null) {
    report.problems.add(report.file, null, {
      severity: "warning",
      code: "report-missing",
      found: 'no "report"',
      expected: "report: { number, revision, issued }",
      advice:
        "Add it before signing: without it the pages carry no report number, and concessions cannot expire.",
    });
  }
  const areas = valueAt(root, ["floor_plan", "areas"]);
  if (!Array.isArray(areas)) return;
  for (const [i, area] of areas.entries()) checkArea(area, i, report);
}

function checkArea(area: unknown, index: number, report: YamlReporter): void {
  for (const [from, size, what] of [
    ["x", "width", "right"],
    ["y", "height", "lower"],
  ] as const) {
    const start = valueAt(area, [from]);
    const length = valueAt(area, [size]);
    if (typeof start !== "number" || typeof length !== "number" || start + length <= 100) continue;
    report.error(
      ["floor_plan", "areas", index, size],
      "area-off-plan",
      `${from} + ${size} of at most 100, percent of the plan`,
      `The area runs over the ${what} edge: make ${from} or ${size} smaller.`,
    );
  }
}

function checkDuplicates<T>(
  entries: Written<T>[],
  nameOf: (entry: T) => string,
  key: string,
  report: YamlReporter,
): void {
  const seen = new Map<string, number>();
  for (const { value, path } of entries) {
    const name = nameOf(value);
    const first = seen.get(name);
    if (first === undefined) {
      seen.set(name, report.tree.valueAt([...path, key]).line);
      continue;
    }
    report.error(
      [...path, key],
      "id-duplicate",
      `a different ${key} for each entry`,
      `The same ${key} is already used in line ${first}: rename one of the two.`,
    );
  }
}

function checkRounds({ rounds, ids }: WrittenSections, report: YamlReporter): void {
  let latest: string | null = null;
  for (const { value, path } of rounds) {
    checkName([...path, "id"], value.id, report);
    for (const readPoint of Object.keys(value.settings ?? {})) {
      const key = [...path, "settings", readPoint];
      report.keyReference(key, readPoint, ids.readPoints, "the id of a read point", "read_points");
    }
    if (value.date == null) continue;
    if (latest !== null && value.date < latest) {
      report.warning(
        [...path, "date"],
        "rounds-out-of-order",
        `round ${quoted(value.id)} of ${value.date} after one of ${latest}`,
        "rounds from the earliest to the latest",
        "The last round is the one that is judged: move the rounds into the order they were walked.",
      );
    } else latest = value.date;
  }
  const signOff = valueAt(report.tree.value, ["sign_off_round"]);
  if (typeof signOff === "string") {
    report.reference(["sign_off_round"], signOff, ids.rounds, "the id of a round", "rounds");
  }
}

function checkReadPoints({ readPoints, ids }: WrittenSections, report: YamlReporter): void {
  for (const { value, path } of readPoints) {
    checkName([...path, "id"], value.id, report);
    if (value.sign_off_round != null) {
      const key = [...path, "sign_off_round"];
      report.reference(key, value.sign_off_round, ids.rounds, "the id of a round", "rounds");
    }
  }
}

/** The logs are read without the blanks around a value, so an id must not need them. */
function checkName(path: (string | number)[], name: string, report: YamlReporter): void {
  if (name === name.trim() && !/[\r\n]/.test(name) && name !== "__proto__") return;
  report.error(
    path,
    "name-unusable",
    "a name in one line without blanks at its ends",
    "Remove the blanks or line breaks, or choose another name: the pass logs could not name it otherwise.",
    `${nameOf(path)}: ${quoted(name)}`,
  );
}

function checkConditions({ conditions }: WrittenSections, report: YamlReporter): void {
  for (const { value, path } of conditions) {
    checkColumnName([...path, "column"], value.column, report);
    const bands = value.bands ?? [];
    bands.forEach((edge, i) => {
      if (i === 0 || edge > bands[i - 1]!) return;
      report.error(
        [...path, "bands", i],
        "bands-not-rising",
        `an edge above ${bands[i - 1]}`,
        "List the edges from the lowest to the highest, each once.",
      );
    });
  }
}

export function checkColumnName(path: (string | number)[], column: string, report: YamlReporter): void {
  checkName(path, column, report);
  if (!reservedColumns.has(column)) return;
  report.error(
    path,
    "column-reserved",
    "a column of your own",
    `${quoted(column)} already has a meaning in pass logs: give the column another name, here and in the logs.`,
  );
}
