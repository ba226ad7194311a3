import { countedInWords, sentenceStart } from "../../model/number-words.ts";
import { byCodePoint } from "../../model/order.ts";
import type { Result } from "../../model/result/result.ts";
import type { Names } from "../parts/names.ts";
import type { FacilityContext } from "../parts/page.ts";
import { dateOrWords, dateText } from "../words/dates.ts";

interface OpenPointRow {
  id: string;
  text: string;
  readPoint: string;
  owner: string;
  due: string;
  /** `Open`, `Overdue` where it was due before the report was issued, or `Closed 21 May 2026`. */
  status: string;
  closed: boolean;
  overdue: boolean;
}

interface ConcessionRow {
  criterion: string;
  readPoint: string;
  grantedBy: string;
  on: string;
  until: string;
  reason: string;
  expired: boolean;
}

/** What is left open and what is conceded, as a page holds them. */
export interface Agreements {
  openPointSentence: string;
  openPoints: OpenPointRow[];
  concessionSentence: string;
  concessions: ConcessionRow[];
}

export function agreements({ result, names }: FacilityContext): Agreements {
  return {
    openPointSentence: openPointSentence(result),
    openPoints: openPointRows(result, names),
    concessionSentence: concessionSentence(result),
    concessions: concessionRows(result, names),
  };
}

/** Open ones first, otherwise in the order of the file. */
function openPointRows(result: Result, names: Names): OpenPointRow[] {
  const rows = result.openPoints.map(
    (point): OpenPointRow => ({
      id: point.id,
      text: point.text,
      readPoint: point.readPoint === null ? "the facility" : names.readPoint(point.readPoint),
      owner: point.owner ?? "nobody named",
      due: dateOrWords(point.due, "no date"),
      status:
        point.closed !== null
          ? `Closed ${dateText(point.closed)}`
          : isOverdue(point, result)
            ? "Overdue"
            : "Open",
      closed: point.closed !== null,
      overdue: isOverdue(point, result),
    }),
  );
  return [...rows.filter((row) => !row.closed), ...rows.filter((row) => row.closed)];
}

/** Still open though it was due before the report was issued. */
function isOverdue({ closed, due }: Result["openPoints"][number], { report }: Result): boolean {
  return closed === null && due !== null && report !== null && byCodePoint(due, report.issued) < 0;
}

/** `Two open points are still to be put right; one is closed.` */
function openPointSentence(result: Result): string {
  if (result.openPoints.length === 0) return "No open point is listed.";
  const closed = result.openPoints.filter((point) => point.closed !== null).length;
  const open = result.openPoints.length - closed;
  const rest = closed === 0 ? "" : `; ${countedInWords(closed, "is closed", "are closed")}`;
  if (open === 0) return closed === 1 ? "The one point listed is closed." : "All points listed are closed.";
  const late = result.openPoints.filter((point) => isOverdue(point, result)).length;
  const overdue =
    late === 0
      ? ""
      : ` ${sentenceStart(countedInWords(late, "was", "were"))} due before the report was issued.`;
  return `${sentenceStart(countedInWords(open, "open point is", "open points are"))} still to be resolved${rest}.${overdue}`;
}

function concessionRows(result: Result, names: Names): ConcessionRow[] {
  return result.concessions.map((concession) => ({
    criterion: names.criterion(concession.criterion),
    readPoint: names.readPoint(concession.readPoint),
    grantedBy: concession.grantedBy,
    on: dateOrWords(concession.on, "no date"),
    until: dateOrWords(concession.until, "no end stated"),
    reason: concession.reason ?? "no reason stated",
    expired: concession.expired,
  }));
}

/** `Two concessions are granted; one of them had expired when the report was issued.` */
function concessionSentence(result: Result): string {
  const { concessions } = result;
  if (concessions.length === 0) return "No concession has been granted.";
  const expired = concessions.filter((concession) => concession.expired).length;
  const granted = sentenceStart(
    countedInWords(concessions.length, "concession is granted", "concessions are granted"),
  );
  if (expired === 0) return `${granted}.`;
  const which =
    concessions.length === 1
      ? "it"
      : expired === concessions.length
        ? "all of them"
        : `${countedInWords(expired, "of them", "of them")}`;
  return `${granted}; ${which} had expired when the report was issued.`;
}
