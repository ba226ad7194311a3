import type { TableFiles } from "../parts/csv.ts";
import type { Names } from "../parts/names.ts";

/** What the sections of the page are made from, besides their own part of the result. */
export interface WhyContext {
  names: Names;
  files: TableFiles;
  /** Of every interval. */
  confidence: number;
}
