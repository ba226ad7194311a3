import { Registry } from "../../../model/registry.ts";
import { suggest } from "../../problems/card/wording.ts";
import { columnMissing, columnOfAnotherForm, formUnclear } from "../../problems/csv-file.ts";
import type { CsvReport } from "../../problems/reports.ts";
import { extrasLike, type Header } from "../../tables/header.ts";
import { type LogForm, passColumns } from "../rows/log-form.ts";
import { itemised } from "./itemised.ts";
import { listed } from "./listed.ts";
import { tally } from "./tally.ts";
import { timed } from "./timed.ts";

/** The forms that a pass log may have. */
const logForms = new Registry<LogForm>([itemised, listed, tally, timed]);

/** Every column that the tool itself reads. No condition may take such a name: it already means something. */
export const reservedColumns: ReadonlySet<string> = new Set([
  ...passColumns,
  ...logForms.all().flatMap((form) => form.columns),
]);

/** Whether the words for a column may stand for it: a log that has columns of one form takes none of another. */
export function fitsForm(column: string, recognised: ReadonlySet<string>): boolean {
  const marked = logForms.all().filter(({ marks }) => marks.some((mark) => recognised.has(mark)));
  const isCommon = passColumns.some((name) => name === column);
  return isCommon || marked.length === 0 || marked.some((form) => form.columns.includes(column));
}

/** What a facility asks of its logs. */
export interface LogDemands {
  hasSeveralRounds: boolean;
  /** Whether facility.yaml has reader_logs, well formed or not. */
  hasReaderLogs: boolean;
}

/**
 * Which form a log has, told by its header; null, with the reason reported, where that cannot be told or the rows cannot be
 * read. Rows can be read without the columns that name their pass.
 */
export function formOf(header: Header, demands: LogDemands, report: CsvReport): LogForm | null {
  const form = meantForm(header, demands.hasReaderLogs, report);
  if (form === null) return null;
  reportForeignColumns(header, form, report);
  const missing = reportMissingColumns({ header, report }, form, demands);
  return missing.some((column) => form.needed.includes(column)) ? null : form;
}

function meantForm(header: Header, hasReaderLogs: boolean, report: CsvReport): LogForm | null {
  const all = logForms.all();
  const has = (column: string) => header.fields.has(column);
  const meant = all.find((form) => form.isMeant?.(header, hasReaderLogs));
  if (meant !== undefined) return meant;
  const [marked, ...others] = all.filter((form) => form.marks.some(has));
  if (marked !== undefined && others.length === 0) return marked;
  const forms = all.map(({ summary }) => summary);
  const columns = all.flatMap(({ marks }) => marks).filter(has);
  report.at(
    { record: header.at, field: null },
    columns.length === 0 ? formUnclear.none({ forms }) : formUnclear.several({ columns, forms }),
  );
  return null;
}

/** Those that are missing. */
function reportMissingColumns(
  { header, report }: { header: Header; report: CsvReport },
  form: LogForm,
  { hasSeveralRounds }: LogDemands,
): string[] {
  const needed = ["pass", "read_point", ...(hasSeveralRounds ? ["round"] : []), ...form.needed];
  const missing = needed.filter((column) => !header.fields.has(column));
  const others = header.extras.map(({ name }) => name);
  for (const name of missing) {
    const file = form.name;
    const advice = form.otherwise?.(name, header) ?? null;
    const likely = extrasLike(name, header);
    const problem =
      name === "round"
        ? columnMissing.round({ file })
        : likely.length > 0
          ? columnMissing.likely({ name, file, likely })
          : advice === null || suggest(name, others) !== null
            ? columnMissing.with({ name, file, others })
            : columnMissing.orElse({ name, file, advice });
    report.at({ record: header.at, field: null }, problem);
  }
  return missing;
}

function reportForeignColumns({ at, fields }: Header, form: LogForm, report: CsvReport): void {
  const foreign = new Set(logForms.all().flatMap(({ columns }) => columns));
  for (const name of foreign) {
    const field = fields.get(name);
    if (field === undefined || form.columns.includes(name)) continue;
    const facts = { name, file: form.name, own: form.columns, advice: form.foreignAdvice(name) };
    report.at({ record: at, field }, columnOfAnotherForm.with(facts));
  }
}
