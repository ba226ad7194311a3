import { quoted } from "../quotation.ts";
import type { YamlReporter } from "./reporter.ts";
import type { WrittenSections } from "./written-facility.ts";

/** What concessions and open points refer to, and whether their days fit together. */
export function checkConcessions(sections: WrittenSections, report: YamlReporter): void {
  const { ids } = sections;
  const seen = new Map<string, number>();
  for (const { value, path } of sections.concessions) {
    report.reference(
      [...path, "criterion"],
      value.criterion,
      ids.criteria,
      "the id of a criterion",
      "criteria",
    );
    report.reference(
      [...path, "read_point"],
      value.read_point,
      ids.readPoints,
      "the id of a read point",
      "read_points",
    );
    const criterion = sections.criteria.find((entry) => entry.value.id === value.criterion)?.value;
    const asked = criterion?.read_points ?? null;
    if (asked !== null && ids.readPoints.has(value.read_point) && !asked.includes(value.read_point)) {
      report.error(
        [...path, "read_point"],
        "concession-without-finding",
        `a read point of criterion ${quoted(value.criterion)}`,
        "The criterion is not asked of this read point, so there is nothing to concede: correct one of the two.",
      );
    }
    const key = JSON.stringify([value.criterion, value.read_point]);
    const first = seen.get(key);
    if (first === undefined) seen.set(key, report.tree.valueAt(path).line);
    else {
      report.error(
        path,
        "concession-duplicate",
        "one concession for a criterion at a read point",
        `There is already one in line ${first}: keep the one that holds.`,
        `a second concession for ${quoted(value.criterion)} at ${quoted(value.read_point)}`,
      );
    }
    if (value.on != null && value.until != null && value.until < value.on) {
      report.error(
        [...path, "until"],
        "concession-ends-before-start",
        `a day not before ${value.on}`,
        "A concession cannot end before it was granted: correct until or on.",
      );
    }
  }
  for (const { value, path } of sections.openPoints) {
    if (value.read_point == null) continue;
    report.reference(
      [...path, "read_point"],
      value.read_point,
      ids.readPoints,
      "the id of a read point",
      "read_points",
    );
  }
}
