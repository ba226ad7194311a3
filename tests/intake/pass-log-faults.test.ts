import { describe, expect, test } from "vitest";
import { criterion, errors, type Files, log, read, soundLog, soundYaml } from "./folder.ts";

interface Fault {
  claim: string;
  files: Files;
  /** Where, if not in the log. */
  file?: string;
  code: string;
  line: number | null;
  /** The text in that line that the column points at; null for the start of the line. */
  at: string | null;
  found?: RegExp;
  says: RegExp;
}

const itemised = "round,pass,read_point,tag,presented,read,rssi_dbm,antenna,reads,void_reason";
const listed = "round,pass,read_point,manifest,missed_tags,stray_tags";
const tally = "round,pass,read_point,tags_presented,tags_read,stray_tags";
const load = { "manifests/load.csv": log("tag,presented", "T1,yes", "T2,yes", "B1,no") };
const oneLog = (...lines: string[]): Files => ({ "passes/a.csv": log(lines[0]!, ...lines.slice(1)) });
const row = (cells: string) => oneLog(itemised, `as-left,P1,dock-1,${cells}`);
const times = (start: string, end = "") =>
  oneLog("round,pass,read_point,started_at,ended_at,tag,read", `as-left,P1,dock-1,${start},${end},T1,yes`);

const faults: Fault[] = [
  {
    claim: "a log of no form says which columns each form needs",
    files: oneLog("round,pass,read_point,colour", "as-left,P1,dock-1,red"),
    code: "form-unclear",
    line: 1,
    at: null,
    says: /itemised \(tag, read\).*listed \(manifest, missed_tags\).*tally \(tags_presented, tags_read\)/,
  },
  {
    claim: "a log of two forms is sent apart",
    files: oneLog(`${itemised},manifest`, "as-left,P1,dock-1,T1,yes,yes,,,,,load"),
    code: "form-unclear",
    line: 1,
    at: null,
    found: /"tag", "read", "manifest"/,
    says: /log of their own/,
  },
  {
    claim: "a form half there names the missing half",
    files: oneLog("round,pass,read_point,tag", "as-left,P1,dock-1,T1"),
    code: "column-missing",
    line: 1,
    at: null,
    found: /no column "read"/,
    says: /itemised log needs/,
  },
  {
    claim: "the round must be told where there are several",
    files: oneLog("pass,read_point,tag,read", "P1,dock-1,T1,yes"),
    code: "column-missing",
    line: 1,
    at: null,
    found: /"round"/,
    says: /several rounds/,
  },
  {
    claim: "strays of an itemised log are rows",
    files: oneLog("round,pass,read_point,tag,read,stray_tags", "as-left,P1,dock-1,T1,yes,"),
    code: "column-of-another-form",
    line: 1,
    at: "stray_tags",
    says: /row of its own/,
  },
  {
    claim: "a misspelt column gets the suggestion",
    files: oneLog("round,pass,read_point,tag,raed", "as-left,P1,dock-1,T1,yes"),
    code: "column-misspelt",
    line: 1,
    at: "raed",
    says: /Did you mean "read"/,
  },
  {
    claim: "case and blanks in a column's name are a near miss",
    files: oneLog("round,pass,Read Point,tag,read", "as-left,P1,dock-1,T1,yes"),
    code: "column-misspelt",
    line: 1,
    at: "Read Point",
    says: /Did you mean "read_point"/,
  },
  {
    claim: "a column without its unit is a near miss",
    files: oneLog("round,pass,read_point,tag,read,RSSI", "as-left,P1,dock-1,T1,yes,-60"),
    code: "column-misspelt",
    line: 1,
    at: "RSSI",
    says: /Did you mean "rssi_dbm"/,
  },
  {
    claim: "a column stands once",
    files: oneLog("round,pass,read_point,tag,read,tag", "as-left,P1,dock-1,T1,yes,T1"),
    code: "column-duplicate",
    line: 1,
    at: "tag",
    says: /Column 4 already/,
  },
  {
    claim: "a column in the middle has a name",
    files: oneLog("round,pass,read_point,,tag,read", "as-left,P1,dock-1,,T1,yes"),
    code: "column-unnamed",
    line: 1,
    at: ",tag,read",
    says: /Name the column/,
  },
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
    claim: "a day of the month first is ambiguous",
    files: times("21/05/2026 10:00"),
    code: "time-unreadable",
    line: 2,
    at: "21/05/2026",
    says: /year first/,
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
  {
    claim: "a row has as many cells as the header",
    files: oneLog("round,pass,read_point,tag,read", "as-left,P1,dock-1,T1"),
    code: "row-width",
    line: 2,
    at: null,
    found: /4 cells/,
    says: /5 cells, as in the header/,
  },
  {
    claim: "a cell too many is placed",
    files: oneLog("round,pass,read_point,tag,read", "as-left,P1,dock-1,T1,yes,extra"),
    code: "row-width",
    line: 2,
    at: "extra",
    says: /double quotes/,
  },
  {
    claim: "a row with other separators is found",
    files: oneLog("round,pass,read_point,tag,read", "as-left;P1;dock-1;T1;yes"),
    code: "separators-mixed",
    line: 2,
    at: null,
    says: /one mark between cells/,
  },
  {
    claim: "a header with two separators is refused",
    files: oneLog("round;pass;read_point,tag,read", "as-left;P1;dock-1,T1,yes"),
    code: "separators-mixed",
    line: 1,
    at: null,
    found: /commas and semicolons/,
    says: /one mark/,
  },
  {
    claim: "tabs are refused",
    files: oneLog("round\tpass\tread_point\ttag\tread", "as-left\tP1\tdock-1\tT1\tyes"),
    code: "separators-mixed",
    line: 1,
    at: null,
    found: /tabs/,
    says: /commas instead of tabs/,
  },
  {
    claim: "an open quote is placed at its cell",
    files: oneLog(
      "round,pass,read_point,tag,read,note",
      'as-left,P1,dock-1,T1,yes,"oh',
      "as-left,P1,dock-1,T2,yes,",
    ),
    code: "quotes-unbalanced",
    line: 2,
    at: '"oh',
    says: /Close the quote/,
  },
  {
    claim: "a quote inside a cell is placed",
    files: oneLog("round,pass,read_point,tag,read,note", 'as-left,P1,dock-1,T1,yes,5" label'),
    code: "quotes-unbalanced",
    line: 2,
    at: '5" label',
    says: /write "" for a quote/,
  },
  {
    claim: "text in another encoding names its line",
    files: {
      "passes/a.csv": Buffer.concat([
        Buffer.from("round,pass,read_point,tag,read,walked_by\nas-left,P1,dock-1,T1,yes,"),
        Buffer.from([0xe9]),
        Buffer.from("\n"),
      ]),
    },
    code: "encoding-not-utf-8",
    line: 2,
    at: null,
    says: /CSV UTF-8/,
  },
  {
    claim: "UTF-16 is refused",
    files: { "passes/a.csv": Buffer.from(`\ufeff${soundLog}`, "utf16le") },
    code: "encoding-not-utf-8",
    line: null,
    at: null,
    found: /UTF-16/,
    says: /CSV UTF-8/,
  },
  {
    claim: "a pass is in one log",
    files: { ...row("T1,yes,yes,,,,"), "passes/b.csv": log(tally, "as-left,P1,dock-1,5,5,") },
    file: "passes/b.csv",
    code: "pass-in-two-files",
    line: 2,
    at: "P1",
    says: /already stands in passes\/a\.csv \(itemised form\)/,
  },
  {
    claim: "a tally has one row a pass",
    files: oneLog(tally, "as-left,P1,dock-1,5,5,", "as-left,P1,dock-1,5,4,"),
    code: "pass-twice",
    line: 3,
    at: "P1",
    says: /one row a pass/,
  },
  {
    claim: "no more tags are read than presented",
    files: oneLog(tally, "as-left,P1,dock-1,5,6,"),
    code: "read-more-than-presented",
    line: 2,
    at: "6,",
    says: /at most 5.*stray_tags/,
  },
  {
    claim: "tags are counted in whole numbers",
    files: oneLog(tally, "as-left,P1,dock-1,five,5,"),
    code: "count-unreadable",
    line: 2,
    at: "five",
    says: /in digits/,
  },
  {
    claim: "a tally says how many were read",
    files: oneLog(tally, "as-left,P1,dock-1,5,,"),
    code: "count-blank",
    line: 2,
    at: ",",
    says: /write 0 for none/,
  },
  {
    claim: "a manifest must exist",
    files: { ...load, ...oneLog(listed, "as-left,P1,dock-1,laod,,none") },
    code: "manifest-unknown",
    line: 2,
    at: "laod",
    says: /Did you mean "load"/,
  },
  {
    claim: "a listed pass names its manifest",
    files: { ...load, ...oneLog(listed, "as-left,P1,dock-1,,,none") },
    code: "manifest-blank",
    line: 2,
    at: ",,none",
    says: /Name the manifest/,
  },
  {
    claim: "a missed tag is on the manifest",
    files: { ...load, ...oneLog(listed, "as-left,P1,dock-1,load,T1 T9,none") },
    code: "missed-tag-not-on-manifest",
    line: 2,
    at: "T1 T9",
    found: /"T9"/,
    says: /Did you mean "T1"/,
  },
  {
    claim: "a tag that was not presented cannot be missed",
    files: { ...load, ...oneLog(listed, "as-left,P1,dock-1,load,B1,none") },
    code: "missed-tag-not-presented",
    line: 2,
    at: "B1",
    says: /cannot be missed/,
  },
  {
    claim: "a presented tag is no stray",
    files: { ...load, ...oneLog(listed, "as-left,P1,dock-1,load,,T1") },
    code: "stray-tag-presented",
    line: 2,
    at: "T1",
    says: /no stray/,
  },
  {
    claim: "a code stands once among the missed",
    files: { ...load, ...oneLog(listed, "as-left,P1,dock-1,load,T1 T1,none") },
    code: "tag-twice",
    line: 2,
    at: "T1 T1",
    says: /repetition/,
  },
  {
    claim: "codes are parted by blanks",
    files: { ...load, ...oneLog(listed, 'as-left,P1,dock-1,load,"T1,T2",none') },
    code: "tags-not-parted",
    line: 2,
    at: '"T1,T2"',
    says: /blanks between/,
  },
  {
    claim: "a count is no list of codes",
    files: { ...load, ...oneLog(listed, "as-left,P1,dock-1,load,,0") },
    code: "tags-not-codes",
    line: 2,
    at: "0",
    says: /write their codes, or "none"/,
  },
  {
    claim: "a manifest lists a tag once",
    files: {
      "manifests/load.csv": log("tag", "T1", "T1"),
      ...oneLog(listed, "as-left,P1,dock-1,load,,none"),
    },
    file: "manifests/load.csv",
    code: "tag-twice",
    line: 3,
    at: "T1",
    says: /earlier row/,
  },
  {
    claim: "a manifest names every tag",
    files: {
      "manifests/load.csv": log("tag,presented", "T1,yes", ",yes"),
      ...oneLog(listed, "as-left,P1,dock-1,load,,none"),
    },
    file: "manifests/load.csv",
    code: "tag-blank",
    line: 3,
    at: null,
    says: /remove the row/,
  },
  {
    claim: "a manifest needs its tags",
    files: {
      "manifests/load.csv": log("epc_code", "T1"),
      ...oneLog(listed, "as-left,P1,dock-1,load,T1,none"),
    },
    file: "manifests/load.csv",
    code: "column-missing",
    line: 1,
    at: null,
    found: /"tag"/,
    says: /manifest needs/,
  },
  {
    claim: "a manifest says what was loaded, not what was read",
    files: {
      "manifests/load.csv": log("tag,read", "T1,yes"),
      ...oneLog(listed, "as-left,P1,dock-1,load,,none"),
    },
    file: "manifests/load.csv",
    code: "column-of-another-form",
    line: 1,
    at: "read",
    says: /belongs in the pass log/,
  },
  {
    claim: "a condition is stated once",
    files: {
      "manifests/load.csv": log("tag,orientation", "T1,flat"),
      ...oneLog(`${listed},orientation`, "as-left,P1,dock-1,load,,none,edge-on"),
    },
    code: "condition-stated-twice",
    line: 2,
    at: "edge-on",
    says: /manifests\/load\.csv states it as well \("flat"\)/,
  },
  {
    claim: "a value falls into a band",
    files: { "passes/a.csv": soundLog.replace(",1,flat", ",3.5,flat") },
    code: "value-outside-bands",
    line: 2,
    at: "3.5",
    says: /"0 to 1", "1 to 2", "2 to 3"/,
  },
  {
    claim: "a banded condition is a number",
    files: { "passes/a.csv": soundLog.replace(",1,flat", ",fast,flat") },
    code: "condition-not-a-number",
    line: 2,
    at: "fast",
    says: /number alone/,
  },
  {
    claim: "a condition that a criterion groups by is filled in",
    files: {
      "facility.yaml": `${criterion("measure: tag-read-rate, at_least: 0.9, for_each: [orientation]")}${soundYaml}`,
      "passes/a.csv": soundLog.replace(",1,flat", ",1,"),
    },
    code: "condition-blank",
    line: 2,
    at: ",T1",
    says: /criterion "c1" selects or groups by it/,
  },
  {
    claim: "a condition that a criterion groups by is a column of the log",
    files: {
      "facility.yaml": `${criterion("measure: tag-read-rate, at_least: 0.9, for_each: [orientation]")}${soundYaml}`,
      ...row("T1,yes,yes,,,,"),
    },
    code: "condition-column-missing",
    line: 1,
    at: null,
    found: /"orientation"/,
    says: /Add the column/,
  },
  {
    claim: "reads that are ranked have a strength",
    files: {
      "facility.yaml": `${criterion("measure: rssi-quantile, quantile: 0.05, at_least: -65")}${soundYaml}`,
      ...row("T1,yes,yes,,,,"),
    },
    code: "rssi-blank",
    line: 2,
    at: ",,,",
    says: /ranks by it/,
  },
  {
    claim: "agreement needs what the read point concluded",
    files: {
      "facility.yaml": `${criterion("measure: agreement-rate, at_least: 0.9, observed: seen, expected: meant")}${soundYaml}`,
      ...oneLog("round,pass,read_point,tag,read,meant", "as-left,P1,dock-1,T1,yes,in"),
    },
    code: "agreement-column-missing",
    line: 1,
    at: null,
    found: /"seen"/,
    says: /concluded/,
  },
];

describe("a pass log", () => {
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

  test.each(faults)("$claim", async ({ files, file = "passes/a.csv", code, line, at, found, says }) => {
    const { input, problems } = await read(files);
    expect(input).toBeNull();
    const all = errors(problems);
    expect(all, JSON.stringify(all, null, 1)).toHaveLength(1);
    const problem = all[0]!;
    expect(problem.code).toBe(code);
    expect(problem.file).toBe(file);
    expect(problem.line).toBe(line);
    if (line !== null) {
      const text = files[file]!.toString().split("\n")[line - 1]!;
      expect(text.slice(problem.column! - 1).slice(0, at?.length)).toBe(at ?? text);
    }
    if (found !== undefined) expect(problem.found).toMatch(found);
    expect(`${problem.expected} ${problem.advice}`).toMatch(says);
    for (const part of [problem.found, problem.expected, problem.advice]) expect(part.trim()).not.toBe("");
  });
});
