import { quoted } from "../quotation.ts";
import type { WrittenReaderLog } from "../reader-log-schema.ts";
import { suggest } from "../suggestion.ts";
import { isTimeZone, timeZoneNames } from "../time-zone.ts";
import type { YamlReporter } from "./reporter.ts";
import type { WrittenSections } from "./written-facility.ts";
import type { Path } from "./yaml-tree.ts";

/** What the entries of `reader_logs` say about the rest of facility.yaml, and about themselves. */
export function checkReaderLogs({ readerLogs, ids }: WrittenSections, report: YamlReporter): void {
  for (const { value, path } of readerLogs) {
    checkReadPoint(value, path, ids.readPoints, report);
    checkColumns(value, path, report);
    checkZone(value, path, report);
    checkPaths(value, path, report);
  }
}

function checkReadPoint(
  { read_point: point }: WrittenReaderLog,
  path: Path,
  known: ReadonlySet<string>,
  report: YamlReporter,
): void {
  if (typeof point === "string") {
    report.reference([...path, "read_point"], point, known, "the id of a read point", "read_points");
    return;
  }
  for (const [value, id] of Object.entries(point.values)) {
    const key = [...path, "read_point", "values", value];
    report.reference(key, id, known, "the id of a read point", "read_points");
  }
}

/** Numbers where there is no header, names where there is one. */
function checkColumns(log: WrittenReaderLog, path: Path, report: YamlReporter): void {
  const named: [Path, string | number | null | undefined][] = Object.entries(log.columns).map(
    ([key, column]) => [["columns", key], column],
  );
  if (typeof log.read_point !== "string") named.push([["read_point", "column"], log.read_point.column]);
  for (const [key, column] of named) {
    if (column == null || (typeof column === "number") === (log.header === "no")) continue;
    report.error(
      [...path, ...key],
      "reader-column-unclear",
      log.header === "no" ? "the number of a column, from 1" : "the name of a column",
      log.header === "no"
        ? "With header: no the columns have no names: count them from the left, from 1."
        : "Columns go by the names in the header; numbers are for logs without one (header: no).",
    );
  }
}

function checkZone({ time }: WrittenReaderLog, path: Path, report: YamlReporter): void {
  if (time?.zone != null && !isTimeZone(time.zone)) {
    const near = suggest(time.zone, timeZoneNames());
    report.error(
      [...path, "time", "zone"],
      "time-zone-unknown",
      "an IANA time zone, for instance Europe/Dublin",
      `${near === null ? "" : `Did you mean ${quoted(near)}? `}Write the zone as Area/City.`,
    );
  }
  if (time?.format == null || time.unit == null || time.unit === "iso") return;
  report.error(
    [...path, "time", "format"],
    "time-format-unused",
    "a format only for times in words",
    `Times in ${time.unit} are numbers: remove the format, or the unit.`,
  );
}

/** Evidence lies in the facility's folder: a path that leaves it could not be archived with it. */
function checkPaths(log: WrittenReaderLog, path: Path, report: YamlReporter): void {
  const several = Array.isArray(log.files);
  (several ? (log.files as string[]) : [log.files as string]).forEach((file, i) => {
    if (!/^([a-z]:|[/\\])|(^|[/\\])\.\.([/\\]|$)|\\/i.test(file)) return;
    report.error(
      several ? [...path, "files", i] : [...path, "files"],
      "path-outside",
      "a path below the facility's folder, with /",
      "Put the log into the facility's folder, in reads/ say, and name it from there.",
    );
  });
}
