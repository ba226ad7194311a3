import type { PassForm } from "../../model/pass-log.ts";
import { itemisedColumns, listedColumns, tallyColumns, timedColumns } from "../log-columns.ts";
import { listing, quoted } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import type { CsvReporter } from "./csv-reporter.ts";
import type { Header } from "./header.ts";
import type { LogContext } from "./log-context.ts";

const needed: Record<PassForm, readonly string[]> = {
  itemised: ["tag", "read"],
  listed: ["manifest", "missed_tags"],
  tally: ["tags_presented", "tags_read"],
  timed: ["manifest", "started_at", "ended_at"],
};

const allowed: Record<PassForm, readonly string[]> = {
  itemised: itemisedColumns,
  listed: listedColumns,
  tally: tallyColumns,
  timed: timedColumns,
};

/** The forms that a column of their own gives away; a timed log is known by having none of those. */
const forms: PassForm[] = ["itemised", "listed", "tally"];

const allForms =
  "one form: itemised (tag, read), one row a tag; listed (manifest, missed_tags), one row a pass; tally (tags_presented, tags_read), one row a pass; or, with reader_logs, timed (manifest, started_at, ended_at)";

/** Which form a log has, told by its header; null, with the reason reported, where that cannot be told. */
export function logForm(
  header: Header,
  { facility, readerLogsNamed }: Pick<LogContext, "facility" | "readerLogsNamed">,
  report: CsvReporter,
): PassForm | null {
  const has = (name: string) => header.fields.has(name);
  const severalRounds = facility.rounds.length > 1;
  const timed = readerLogsNamed && needed.timed.every(has) && !has("missed_tags");
  const marked = timed ? (["timed"] as PassForm[]) : forms.filter((form) => needed[form].some(has));
  const form = marked[0];
  if (form === undefined || marked.length > 1) {
    const marks = forms.flatMap((each) => needed[each]).filter(has);
    report.error(
      header.record,
      null,
      "form-unclear",
      marks.length === 0 ? "columns of no form" : `columns of several forms: ${listing(marks)}`,
      allForms,
      marks.length === 0
        ? "Add the columns of the form that the log is meant to have."
        : "Keep the columns of one form, and move the others into a log of their own.",
    );
    return null;
  }
  const extras = header.extras.map((extra) => extra.name);
  let complete = true;
  for (const name of ["pass", "read_point", ...(severalRounds ? ["round"] : []), ...needed[form]]) {
    if (has(name)) continue;
    complete = false;
    report.error(
      header.record,
      null,
      "column-missing",
      `no column ${quoted(name)}`,
      `${name}, which ${form === "itemised" ? "an itemised" : `a ${form}`} log needs`,
      missingAdvice(name, header, extras),
    );
  }
  const foreign = new Set(
    forms.flatMap((other) => allowed[other]).filter((name) => !allowed[form].includes(name)),
  );
  for (const name of foreign) {
    const field = header.fields.get(name);
    if (field !== undefined) {
      report.error(
        header.record,
        field,
        "column-of-another-form",
        `the column ${quoted(name)}`,
        `columns of ${form === "itemised" ? "an itemised" : `a ${form}`} log: ${listing(allowed[form])}`,
        adviceFor(name, form),
      );
    }
  }
  return complete ? form : null;
}

function missingAdvice(name: string, header: Header, extras: string[]): string {
  if (name === "round") return "The facility has several rounds: say for each row which one it belongs to.";
  const suggestion = didYouMean(name, extras);
  const mayBeTimed =
    name === "missed_tags" && suggestion === "" && needed.timed.every((column) => header.fields.has(column));
  return mayBeTimed
    ? "Add the column; or, where the reader's own log tells who was read, name that log under reader_logs in facility.yaml."
    : `${suggestion}Add the column, or correct its name.`;
}

function adviceFor(name: string, form: PassForm): string {
  if (form === "timed") return "What was read and heard comes from the reader's log here: remove the column.";
  if (name === "stray_tags")
    return "In an itemised log a stray is a row of its own, with presented = no and read = yes.";
  if (form === "itemised") return "Remove the column.";
  return "One row stands for a whole pass here: remove the column, or log the pass itemised.";
}
