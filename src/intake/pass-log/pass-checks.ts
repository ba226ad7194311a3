import type { Round } from "../../model/facility.ts";
import { quoted } from "../quotation.ts";
import type { LogContext } from "./log-context.ts";
import type { OpenPass } from "./pass-book.ts";

/** A round may run over midnight, or be dated by its first or last day; a week away is another round or another year. */
const mostDaysApart = 2;

/** Whether the times of each pass fit each other and its round. */
export function checkPasses({ passes, files, facility }: LogContext): void {
  for (const pass of passes.passes) {
    const { startedAt, endedAt } = pass;
    const { report, header } = files[pass.file]!;
    if (startedAt !== null && endedAt !== null && endedAt.epochMs < startedAt.epochMs) {
      report.cell(
        pass.endRecord,
        header.fields.get("ended_at")!,
        "pass-ends-before-start",
        endedAt.local,
        `a time not before ${startedAt.local}, when pass ${quoted(pass.id)} started`,
        "Correct one of the two times; mind the date where a pass runs over midnight.",
      );
    }
    remarkOnDay(pass, facility.rounds[pass.round]!);
  }

  function remarkOnDay(pass: OpenPass, round: Round): void {
    const day = pass.startedAt?.local.slice(0, 10) ?? null;
    if (day === null || round.date === null || daysBetween(day, round.date) <= mostDaysApart) return;
    const { report, header } = files[pass.file]!;
    report.warning(
      pass.startRecord,
      header.fields.get("started_at")!,
      "pass-far-from-round",
      `pass ${quoted(pass.id)} started on ${day}`,
      `a day near ${round.date}, the date of round ${quoted(round.id)}`,
      "Check the round named in this row, the year, and the date of the round in facility.yaml.",
    );
  }
}

function daysBetween(a: string, b: string): number {
  return Math.abs(Date.parse(`${a}T00:00:00Z`) - Date.parse(`${b}T00:00:00Z`)) / 86_400_000;
}
