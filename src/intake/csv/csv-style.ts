import type { CsvFault } from "./csv-walk.ts";

/** How a file parts its fields and lines. */
export interface CsvStyle {
  delimiter: "," | ";";
  lineEnds: string[];
  /** Whether numbers may carry a decimal comma. */
  decimalComma: boolean;
}

/** Recognises the style from the first piece of a file: it needs the whole first line. */
export function styleOf(start: Buffer): { style: CsvStyle | null; fault: CsvFault | null } {
  const encoding = otherEncoding(start);
  if (encoding !== null) {
    return { style: null, fault: { kind: "encoding", detail: encoding, record: null, field: null } };
  }
  const text = start.toString("utf8").replace(/^\ufeff/, "");
  const lineEnds = text.includes("\r") && !text.includes("\n") ? ["\r"] : ["\r\n", "\n"];
  const header = /[^\r\n]+/.exec(text)?.[0] ?? "";
  const bare = header.replace(/"(?:[^"]|"")*"/g, "");
  const marks = [",", ";", "\t"].filter((mark) => bare.includes(mark));
  if (marks.length > 1 || marks[0] === "\t") {
    const names = marks.map((mark) => ({ ",": "commas", ";": "semicolons", "\t": "tabs" })[mark]!);
    return { style: null, fault: { kind: "separator", detail: names.join(" and "), record: 0, field: null } };
  }
  const semicolons = marks[0] === ";";
  return { style: { delimiter: semicolons ? ";" : ",", lineEnds, decimalComma: semicolons }, fault: null };
}

function otherEncoding(start: Buffer): string | null {
  const mark = start.subarray(0, 2).toString("hex");
  if (mark === "fffe" || mark === "feff") return "UTF-16";
  return start.subarray(0, 4096).includes(0) ? "UTF-16 or no text at all" : null;
}
