import { shortened } from "../intake/problems/wording.ts";
import { type Command, ExitStatus } from "./command.ts";

/** Tells how a reader log is written, and what to put into facility.yaml to have it read. */
export const describe: Command = {
  name: "describe",
  summary: "describes how a reader log is written",
  options: [],
  operand: { placeholder: "FILE", advice: "describe needs one file: proofwalk describe reads/dock-1.csv" },
  examples: [
    { words: "describe reads/dock-1.csv", purpose: "how a reader log is written, and the entry to paste" },
  ],
  async run({ operand: file }, terminal) {
    const { describeLog } = await import("../intake/reader-log/describe/describe.ts");
    const { UnreadableLog } = await import("../intake/reader-log/describe/sample.ts");
    const { descriptionText } = await import("../intake/reader-log/describe/text.ts");
    try {
      terminal.out(descriptionText(await describeLog(file)));
      return ExitStatus.fine;
    } catch (fault) {
      if (!(fault instanceof UnreadableLog)) throw fault;
      terminal.err(`${shortened(file)}: ${fault.message}\n`);
      return ExitStatus.refused;
    }
  },
};
