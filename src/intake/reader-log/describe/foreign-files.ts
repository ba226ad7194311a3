import { UnreadableLog } from "./log-description.ts";

/** Refuses, with what to do, the kinds of file that people hand over in good faith and that are no logs. */
export function refuseForeign(bytes: Buffer, text: string): void {
  const mark = bytes.subarray(0, 2).toString("hex");
  if (mark === "fffe" || mark === "feff")
    throw new UnreadableLog("It is written in UTF-16. Save it as UTF-8.");
  if (bytes.subarray(0, 2).toString("latin1") === "PK") {
    throw new UnreadableLog(
      "It is a spreadsheet or another packed folder. Export the log as CSV, codes as text.",
    );
  }
  // A long run of NULs is what a power cut leaves in a log; single ones are another encoding.
  if (
    bytes
      .subarray(0, 4096)
      .toString("latin1")
      .replace(/\0{16,}/g, "")
      .includes("\0")
  )
    throw new UnreadableLog("It is UTF-16 without its mark, or no text at all.");
  if (/^\s*\[\s*[[{]/.test(text))
    throw new UnreadableLog("It is one JSON list. Write one object a line (JSON lines).");
  if (/^\s*</.test(text))
    throw new UnreadableLog("It is XML or HTML. Export the log as CSV or as JSON lines.");
  if (text.trim() === "") throw new UnreadableLog("It holds no rows.");
}
