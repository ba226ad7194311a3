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
