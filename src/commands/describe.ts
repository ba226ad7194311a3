import { shortened } from "../intake/problems/card/wording.ts";
import { type Command, ExitStatus } from "./command.ts";

/** Tells how a reader log is written, and what to put into facility.yaml to have it read. */
export const describe: Command = {
  name: "describe",
  summary: "describes how a reader log is written",
  options: [],
  operand: { placeholder: "FILE", advice: "describe needs one file: proofwalk describe reads/dock-1.csv" },
  examples: [
    { words: "describe reads/dock-1.csv", purpose: "how a reader log is written, and the entry to paste" },
    {
      words: "describe data/north-hall/reads/dock-1.csv",
      purpose: "the same, with the ids of the facility that the log lies in",
    },
  ],
  exits: { 0: "the log was described, with an entry to paste; 2 where none can be written" },
  async run({ operand: file }, terminal) {
    const { describeLog } = await import("../intake/reader-log/describe/describe.ts");
    const { UnreadableLog } = await import("../intake/reader-log/describe/sample.ts");
    const { descriptionText } = await import("../intake/reader-log/describe/text.ts");
    try {
      const described = await describeLog(file);
      terminal.out(descriptionText(described));
      return described.entry === "" ? ExitStatus.refused : ExitStatus.fine;
    } catch (fault) {
      if (!(fault instanceof UnreadableLog)) throw fault;
      terminal.err(`${shortened(file)}: ${fault.message}\n`);
      return ExitStatus.refused;
    }
  },
};
