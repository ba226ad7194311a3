import type { Facility } from "../../model/facility.ts";
import type { PassForm } from "../../model/pass-log.ts";
import type { CsvReporter } from "./csv-reporter.ts";
import type { Header } from "./header.ts";
import type { Manifest } from "./manifest.ts";
import type { PassBook } from "./pass-book.ts";
import type { RowStore } from "./row-store.ts";
import type { Times } from "./times.ts";
import type { Vocabulary } from "./vocabulary.ts";

/** What all logs of a facility are read into. */
export interface LogContext {
  facility: Facility;
  vocabulary: Vocabulary;
  rows: RowStore;
  passes: PassBook;
  times: Times;
  /** By name, without .csv. */
  manifests: Map<string, Manifest>;
  files: LogFile[];
  /** Whether facility.yaml has reader_logs, well formed or not: then a log may be timed. */
  readerLogsNamed: boolean;
}

/** One pass log. */
export interface LogFile {
  index: number;
  path: string;
  form: PassForm;
  header: Header;
  decimalComma: boolean;
  report: CsvReporter;
}

/** Takes the records of one log, after its header. */
export type TakeRecord = (record: string[], ordinal: number) => void;
