import { problem } from "./problem.ts";

/* What the readers' own logs say. */

export const readerLogEmpty = problem({
  code: "reader-log-empty",
  severity: "warning",
  means: "A reader log has no rows.",
  found: "no rows",
  expected: "a reader log with reads in it",
  advice: "Look whether the export is complete.",
});

export const clockShifted = problem(
  {
    code: "clock-shifted",
    severity: "warning",
    means:
      "Most reads of a read point miss its passes, and a constant shift of the reader's clock would bring them in.",
    advice: "Compare the two clocks, and state clock_offset_s in reader_logs if they are known to differ.",
  },
  {
    with: (facts: { readPoint: string; found: string; expected: string; advice: string }) => ({
      found: `at ${facts.readPoint}: ${facts.found}`,
      expected: facts.expected,
      advice: facts.advice,
    }),
  },
);
