import { shortened } from "../intake/quotation.ts";
import { describeLog } from "../intake/reader-log/describe/describe-log.ts";
import { descriptionText } from "../intake/reader-log/describe/description-text.ts";
import { UnreadableLog } from "../intake/reader-log/describe/log-description.ts";
import { type Exit, ExitStatus, type Terminal } from "./terminal.ts";

/** Tells how a reader log is written, and what to put into facility.yaml to have it read. */
export async function describe(file: string, terminal: Terminal): Promise<Exit> {
  try {
    terminal.out(descriptionText(await describeLog(file)));
    return ExitStatus.fine;
  } catch (fault) {
    if (!(fault instanceof UnreadableLog)) throw fault;
    terminal.err(`${shortened(file)}: ${fault.message}\n`);
    return ExitStatus.refused;
  }
}
