import { Role } from "../../../model/pass-log.ts";
import type { CsvRecord } from "../../csv/records.ts";
import type { Sheet } from "../../csv/sheet.ts";
import type { CsvReport } from "../../problems/reports.ts";
import type { Header } from "../../tables/header.ts";
import type { Manifest } from "./manifest.ts";
import { type ColumnTable, type Row, unreadTag } from "./table.ts";

/** Columns that a log may have in any form. */
export const passColumns = [
  "round",
  "pass",
  "read_point",
  "started_at",
  "ended_at",
  "void_reason",
  "walked_by",
  "note",
] as const;

/**
 * A form of pass log. To add one: a card in `forms/`, and its line in the list there. What other rooms need to know of a
 * form stands in the fields of its passes.
 */
export interface LogForm {
  readonly id: string;
  /** With its article: `an itemised log`. */
  readonly name: string;
  /** Its columns and what a row is, as a message lists the forms. */
  readonly summary: string;
  /** The columns that it may have besides those of every log, and those that it needs. */
  readonly columns: readonly string[];
  readonly needed: readonly string[];
  /** Columns of which any gives the form away. */
  readonly marks: readonly string[];
  /** Where its columns are those of another form: whether it is meant all the same. */
  isMeant?(header: Header, hasReaderLogs: boolean): boolean;
  /** Whether a pass is a row, or a row a tag. */
  readonly isRowAPass: boolean;
  /** Whether tags are named, or only counted. */
  readonly namesTags: boolean;
  /** Whether the log itself says which tags were read, or the reader's own log. */
  readonly readsFrom: "pass-log" | "reader-log";
  /** What to do about a column of another form. */
  foreignAdvice(column: string): string;
  /** How else a log without the needed column may be meant, to follow "or,"; null for not at all. */
  otherwise?(column: string, header: Header): string | null;
  open(log: OpenLog): RecordReader;
}

/** One pass log. */
export interface LogFile {
  form: LogForm;
  header: Header;
  sheet: Sheet;
  report: CsvReport;
}

/** What a form is given to read a log with. */
export interface OpenLog {
  file: LogFile;
  table: ColumnTable;
  /** By name, without .csv. */
  manifests: ReadonlyMap<string, Manifest>;
}

/** Reads one record; null, with the reason reported, where no row can be made of it. */
export type RecordReader = (record: CsvRecord) => TagsOfRecord | null;

/** What a record says of the tags in its pass. */
interface TagsOfRecord {
  rows: Row[];
  /** Whether the log says which tags were read that were not presented. */
  straysRecorded: boolean;
  /** How many there were, where they are only counted. */
  tallyStrays: number | null;
  rssiRecorded: boolean;
  /** Whether its list of missed tags is blank; left out where a form has none. */
  isMissedBlank?: boolean;
  manifest: Manifest | null;
  /** Whether the load is not known, which has been reported: the rows say only how the pass was made. */
  isLoadUnknown?: boolean;
}

/** A pass whose load is not known: what its record says of how it was made is looked at all the same. */
export function unknownLoad(texts: readonly number[], straysRecorded: boolean): TagsOfRecord {
  const rows = [{ ...unreadTag(-1, Role.nothing, texts), presentations: 0 }];
  return {
    rows,
    straysRecorded,
    tallyStrays: null,
    rssiRecorded: false,
    manifest: null,
    isLoadUnknown: true,
  };
}
