import { describe, expect, test } from "vitest";
import { describeFaults, itemised, oneLog, row } from "./fault.ts";
import { read } from "./folder.ts";

describe("a row", () => {
  test("a row that names no pass is still looked at in every other cell", async () => {
    const { problems } = await read(
      oneLog(
        "round,pass,read_point,started_at,tag,presented,read,rssi_dbm,void_reason",
        "as-lft,,dock-9,yesterday,3.08E+23,yes,yes,61,no",
        "as-left,P1,dock-1,,T1,perhaps,,,",
      ),
    );
    expect(problems.map((problem) => `${problem.line}:${problem.column} ${problem.code}`)).toEqual([
      "2:1 round-unknown",
      "2:8 pass-blank",
      "2:9 read-point-unknown",
      "2:16 time-unreadable",
      "2:26 tag-in-exponent-notation",
      "2:43 rssi-out-of-range",
      "2:46 void-reason-unclear",
      "3:23 answer-unclear",
      "3:31 answer-blank",
    ]);
  });
});

test("a level is taken in the range of readers' own logs and of criteria", async () => {
  const level = (dbm: string) => read(row(`T1,yes,yes,${dbm},,,`));
  for (const dbm of ["-128", "-200", "0"]) expect((await level(dbm)).problems, dbm).toEqual([]);
  const { problems } = await level("-200.5");
  expect(problems[0]).toMatchObject({ code: "rssi-out-of-range", expected: "a level from -200 to 0 dBm" });
});

describeFaults("the cells of an itemised log", [
  {
    claim: "a round must exist",
    files: oneLog(itemised, "as-lef,P1,dock-1,T1,yes,yes,,,,"),
    code: "round-unknown",
    line: 2,
    at: "as-lef",
    found: /round = "as-lef"/,
    says: /Did you mean "as-left"/,
  },
  {
    claim: "a pass has a round",
    files: oneLog(itemised, ",P1,dock-1,T1,yes,yes,,,,"),
    code: "round-blank",
    line: 2,
    at: ",P1",
    says: /the id of a round: "as-found", "as-left".*which round the pass belongs to/,
  },
  {
    claim: "a pass has a read point",
    files: oneLog(itemised, "as-left,P1,,T1,yes,yes,,,,"),
    code: "read-point-blank",
    line: 2,
    at: ",T1",
    says: /the id of a read point: "dock-1", "dock-2".*at which read point the pass was walked/,
  },
  {
    claim: "a read point must exist",
    files: oneLog(itemised, "as-left,P1,dock1,T1,yes,yes,,,,"),
    code: "read-point-unknown",
    line: 2,
    at: "dock1",
    says: /Did you mean "dock-1"/,
  },
  {
    claim: "a pass has a name",
    files: oneLog(itemised, "as-left,,dock-1,T1,yes,yes,,,,"),
    code: "pass-blank",
    line: 2,
    at: ",dock-1",
    says: /Give each pass a name/,
  },
  {
    claim: "yes and no are the only answers",
    files: row("T1,yes,maybe,,,,"),
    code: "answer-unclear",
    line: 2,
    at: "maybe",
    says: /yes or no/,
  },
  {
    claim: "a blank does not say whether a tag was read",
    files: row("T1,yes,,,,,"),
    code: "answer-blank",
    line: 2,
    at: ",,,,",
    says: /whether the tag was read/,
  },
  {
    claim: "a row that presents or reads something names its tag",
    files: row(",yes,no,,,,"),
    code: "tag-blank",
    line: 2,
    at: ",yes,no",
    says: /presented nothing/,
  },
  {
    claim: "a code in exponent notation has lost its digits",
    files: row("3.08E+23,yes,yes,,,,"),
    code: "tag-in-exponent-notation",
    line: 2,
    at: "3.08E+23",
    says: /spreadsheet.*as text/,
  },
  {
    claim: "a code in exponent notation with a comma has lost them too",
    files: row('"3,08E+23",yes,yes,,,,'),
    code: "tag-in-exponent-notation",
    line: 2,
    at: '"3,08E+23"',
    says: /spreadsheet/,
  },
  {
    claim: "received power is negative",
    files: row("T1,yes,yes,61.5,,,"),
    code: "rssi-out-of-range",
    line: 2,
    at: "61.5",
    says: /-61\.5 meant/,
  },
  {
    claim: "hundredths of a dB are recognised",
    files: row("T1,yes,yes,-6150,,,"),
    code: "rssi-out-of-range",
    line: 2,
    at: "-6150",
    says: /write -61\.5/,
  },
  {
    claim: "an RSSI is a number",
    files: row("T1,yes,yes,-61 dBm,,,"),
    code: "rssi-out-of-range",
    line: 2,
    at: "-61 dBm",
    says: /in dBm/,
  },
  {
    claim: "a tag that was not read has no strength",
    files: row("T1,yes,no,-61,,,"),
    code: "read-contradicts-itself",
    line: 2,
    at: "-61",
    says: /no rssi_dbm where read = no/,
  },
  {
    claim: "a tag that was not read has no antenna",
    files: row("T1,yes,no,,2,,"),
    code: "read-contradicts-itself",
    line: 2,
    at: "2,,",
    says: /no antenna/,
  },
  {
    claim: "a tag that was not read has no reads",
    files: row("T1,yes,no,,,3,"),
    code: "read-contradicts-itself",
    line: 2,
    at: "3,",
    says: /no reads/,
  },
  {
    claim: "a tag that was read has at least one read",
    files: row("T1,yes,yes,,,0,"),
    code: "read-contradicts-itself",
    line: 2,
    at: "0,",
    says: /at least 1/,
  },
  {
    claim: "reads are counted in whole numbers",
    files: row("T1,yes,yes,,,many,"),
    code: "count-unreadable",
    line: 2,
    at: "many",
    says: /whole number/,
  },
  {
    claim: "no is not the reason for a void pass",
    files: row("T1,yes,yes,,,,no"),
    code: "void-reason-unclear",
    line: 2,
    at: "no",
    says: /clear the cell/,
  },
  {
    claim: "a column of antennas holds antennas",
    files: oneLog(
      itemised,
      ...Array.from({ length: 32_769 }, (_, i) => `as-left,P1,dock-1,T${i},yes,yes,,a${i},,`),
    ),
    code: "antennas-too-many",
    line: 32_770,
    at: "a32768",
    says: /at most 32768 different antennas.*other than the antenna's number or name/,
  },
  {
    claim: "a tag is in a pass once",
    files: oneLog(itemised, "as-left,P1,dock-1,T1,yes,yes,,,,", "as-left,P1,dock-1,T1,yes,no,,,,"),
    code: "tag-twice",
    line: 3,
    at: "T1",
    says: /pass "P1" already has it/,
  },
  {
    claim: "a pass presents something or nothing",
    files: oneLog(itemised, "as-left,P1,dock-1,,no,no,,,,", "as-left,P1,dock-1,T1,yes,yes,,,,"),
    code: "pass-contradicts-itself",
    line: 2,
    at: ",no,no",
    says: /presented nothing/,
  },
]);
