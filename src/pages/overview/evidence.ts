import { counted, countText } from "../../model/number-words.ts";
import type { Result } from "../../model/result.ts";

interface EvidenceFile {
  path: string;
  /** Empty for a file without rows of its own: the settings of the facility. */
  rows: string;
  used: string;
  voids: string;
  /** The first twelve hexadecimal digits. */
  mark: string;
}

export interface Evidence {
  sentence: string;
  files: EvidenceFile[];
}

/** The files that every figure is made from, each with the beginning of its SHA-256. */
export function evidence(result: Result): Evidence {
  const count = (value: number | null) => (value === null ? "" : countText(value));
  const rows = result.inputs.reduce((sum, input) => sum + (input.rows ?? 0), 0);
  return {
    sentence: `Made from ${counted(result.inputs.length, "file", "files")} with ${counted(rows, "row", "rows")}. Each file is identified by its checksum (SHA-256, first digits shown).`,
    files: result.inputs.map((input) => ({
      path: input.path,
      rows: count(input.rows),
      used: count(input.used),
      voids: count(input.void),
      mark: input.sha256.slice(0, 12),
    })),
  };
}
