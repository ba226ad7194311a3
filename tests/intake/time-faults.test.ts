import { describeFaults, oneLog } from "./fault.ts";
import { soundLog, soundYaml } from "./folder.ts";

const times = (start: string, end = "") =>
  oneLog("round,pass,read_point,started_at,ended_at,tag,read", `as-left,P1,dock-1,${start},${end},T1,yes`);

describeFaults("the times of a pass", [
  {
    claim: "the rows of a pass share its start",
    files: { "passes/a.csv": soundLog.replace(/(T1.*\n.*)10:00:00/, "$110:00:05") },
    code: "pass-contradicts-itself",
    line: 3,
    at: "2026-05-21 10:00:05",
    says: /2026-05-21 10:00:00, as an earlier row/,
  },
  {
    claim: "a pass ends after it starts",
    files: times("2026-05-21 10:00:00", "2026-05-21 09:59:00"),
    code: "pass-ends-before-start",
    line: 2,
    at: "2026-05-21 09:59:00",
    says: /not before 2026-05-21 10:00:00/,
  },
  {
    claim: "a date that can be read both ways is asked about",
    files: times("05/11/2026 10:00", "05/11/2026 10:01"),
    code: "date-order-unclear",
    line: 2,
    at: "05/11/2026",
    says: /2026-11-05 with the day first, 2026-05-11 with the month first.*date_order: day-first or/,
  },
  {
    claim: "dates in two orders contradict each other",
    files: times("21/05/2026 10:00", "05/21/2026 10:01"),
    code: "date-order-unclear",
    line: 2,
    at: "05/21/2026",
    says: /"21\/05\/2026 10:00" in the same file/,
  },
  {
    claim: "a year of two digits could be a day",
    files: times("21/05/26 10:00"),
    code: "time-unreadable",
    line: 2,
    at: "21/05/26",
    says: /four digits of the year/,
  },
  {
    claim: "a time without a day is no time",
    files: times("10:00:00"),
    code: "time-unreadable",
    line: 2,
    at: "10:00:00",
    says: /the day as well/,
  },
  {
    claim: "the 30th of February is no day",
    files: times("2026-02-30 10:00:00"),
    code: "time-impossible",
    line: 2,
    at: "2026-02-30",
    says: /Correct the date/,
  },
  {
    claim: "an hour that came twice wants its offset",
    files: times("2026-10-25 01:30:00"),
    code: "time-twice",
    line: 2,
    at: "2026-10-25",
    says: /2026-10-25T01:30:00\+01:00 for the first, 2026-10-25T01:30:00\+00:00 for the second/,
  },
  {
    claim: "an hour that was skipped never was",
    files: times("2026-03-29 01:30:00"),
    code: "time-skipped",
    line: 2,
    at: "2026-03-29",
    says: /skipped this hour/,
  },
  {
    claim: "a clock without a zone says nothing",
    files: { ...times("2026-05-21 10:00:00"), "facility.yaml": soundYaml.replace(/time_zone.*\n/, "") },
    code: "time-without-zone",
    line: 2,
    at: "2026-05-21",
    says: /state time_zone/,
  },
]);
