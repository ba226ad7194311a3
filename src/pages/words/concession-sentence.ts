import type { ConcessionResult } from "../../model/result.ts";
import { dateText } from "./dates.ts";

/** `Conceded by NAME on 22 May 2026 until 31 August 2026: REASON It expired before the report was issued.` */
export function concessionSentence(concession: ConcessionResult): string {
  const on = concession.on === null ? "" : ` on ${dateText(concession.on)}`;
  const until = concession.until === null ? ", with no end stated" : ` until ${dateText(concession.until)}`;
  const reason = concession.reason === null ? "." : `: ${stopped(concession.reason)}`;
  const head = `Conceded by ${concession.grantedBy}${on}${until}`;
  return `${head}${reason}${concession.expired ? " It expired before the report was issued." : ""}`;
}

function stopped(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}
