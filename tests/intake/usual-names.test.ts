import { describe, expect, test } from "vitest";
import { log, places, read, readSound, soundYaml } from "./folder.ts";
import { rowsOf } from "./rows.ts";

const plain = await readSound({
  "passes/a.csv": log(
    "round,pass,read_point,started_at,ended_at,speed_m_s,orientation,tag,presented,read,rssi_dbm,antenna,reads,walked_by",
    "as-left,P1,dock-1,2026-05-21 10:00:00,2026-05-21 10:00:30,1.5,flat,30395DFA8339C0000000000A,yes,yes,-53.5,1,3,A. Walker",
    "as-left,P1,dock-1,2026-05-21 10:00:00,2026-05-21 10:00:30,1.5,flat,30395DFA8339C0000000000B,yes,no,,,,A. Walker",
  ),
});

describe("names that people give columns", () => {
  test("case, blanks, units, labels and the trade's words are read as what they are, with one remark", async () => {
    const { input, problems } = await read({
      "passes/a.csv": log(
        "Round;Pass No.;Read point;Start;End time;Speed (m/s);Tag Orientation;EPC;Presented;Read?;RSSI;Ant;Read count;Operator",
        "as-left;P1;dock-1;21.05.2026 10:00;21.05.2026 10:00:30;1,5;flat;30395DFA8339C0000000000A;yes;yes;-53,5;1;3;A. Walker",
        "as-left;P1;dock-1;21.05.2026 10:00;21.05.2026 10:00:30;1,5;flat;30395DFA8339C0000000000B;yes;no;;;;A. Walker",
      ),
    });
    expect(places(problems)).toEqual([
      "warning passes/a.csv:1:1 column-read-as",
      "warning passes/a.csv:1:1 semicolon-separated",
      "warning passes/a.csv:2:19 date-order-taken",
    ]);
    const [renamed] = problems;
    expect(renamed!.found).toMatch(/^"Round", "Pass No\.".*"EPC".*"Operator"$/);
    expect(renamed!.expected).toMatch(/^round, pass,.*orientation, tag,.*walked_by$/);
    expect(rowsOf(input!.log)).toEqual(rowsOf(plain.log));
    expect(input!.log.passes).toEqual(plain.log.passes);
  });

  test("a declared condition keeps its name, though the trade uses it for something else", async () => {
    const { log: kept } = await readSound({
      "facility.yaml": soundYaml.replace(
        "column: orientation, label: Tag orientation",
        "column: run, label: Run",
      ),
      "passes/a.csv": log("round,pass,read_point,run,tag,read", "as-left,P1,dock-1,second,T1,yes"),
    });
    expect(rowsOf(kept)[0]!.columns.run).toBe("second");
  });

  test("of two words for one column the better is taken, and the other kept as it is", async () => {
    const { input, problems } = await read({
      "passes/a.csv": log("round,pass,read_point,Code,EPC,read", "as-left,P1,dock-1,K7,T1,yes"),
    });
    expect(input!.log.tags).toEqual(["T1"]);
    expect(places(problems)).toEqual([
      "warning passes/a.csv:1:23 column-undeclared",
      "warning passes/a.csv:1:28 column-read-as",
    ]);
  });

  test("a word of another form does not turn a log into that form", async () => {
    const { input, problems } = await read({
      "passes/a.csv": log("round,pass,read_point,tag,read,Missing", "as-left,P1,dock-1,T1,yes,no"),
    });
    expect(input!.log.passes[0]!.form).toBe("itemised");
    expect(places(problems)).toEqual(["warning passes/a.csv:1:32 column-undeclared"]);
  });

  test("a manifest may head its codes as the trade does", async () => {
    const { input } = await read({
      "manifests/cage.csv": log("Tag ID,Orientation", "T1,flat", "T2,edge-on"),
      "passes/a.csv": log("round,pass,read_point,Manifest,Missed", "as-left,P1,dock-1,cage,T2"),
    });
    expect(
      rowsOf(input!.log).map(({ tag, tagsRead, columns }) => [tag, tagsRead, columns.orientation]),
    ).toEqual([
      ["T1", 1, "flat"],
      ["T2", 0, "edge-on"],
    ]);
  });

  test("a column nobody knows is asked about where its values are what the log lacks", async () => {
    const { problems } = await read({
      "passes/a.csv": log(
        "round,pass,read_point,tag,read,Beginn",
        "as-left,P1,dock-1,T1,yes,21.05.2026 10:00",
      ),
    });
    expect(places(problems)).toEqual(["warning passes/a.csv:1:32 column-undeclared"]);
    expect(problems[0]!.found).toMatch(/"Beginn" with times: "21\.05\.2026 10:00"/);
    expect(problems[0]!.advice).toMatch(/Is it "started_at" or "ended_at"\?/);
  });

  test("a title above a good header is named and passed over", async () => {
    const { input, problems } = await read({
      "passes/a.csv": log(
        "Dock door 1 as left,,,,",
        "",
        "round,pass,read_point,tag,read",
        "as-left,P1,dock-1,T1,yes",
      ),
    });
    expect(input!.log.tags).toEqual(["T1"]);
    expect(places(problems)).toEqual(["warning passes/a.csv:1:1 title-above-header"]);
    expect(problems[0]!.found).toBe('the line "Dock door 1 as left" above the header');
  });

  test("a title may have commas though the columns below it are separated by semicolons", async () => {
    const { input, problems } = await read({
      "passes/a.csv": log(
        "Dock door 1, as left;;;;",
        "round;pass;read_point;tag;read",
        "as-left;P1;dock-1;T1;yes",
      ),
    });
    expect(input!.log.tags).toEqual(["T1"]);
    expect(places(problems)).toEqual([
      "warning passes/a.csv:1:1 semicolon-separated",
      "warning passes/a.csv:1:1 title-above-header",
    ]);
  });

  test("a column without a name is passed over while it is empty", async () => {
    const { problems } = await read({
      "passes/a.csv": log(",round,pass,read_point,,tag,read", ",as-left,P1,dock-1,,T1,yes"),
    });
    expect(problems).toEqual([]);
  });
});

describe("dates that do not begin with the year", () => {
  const header = "round,pass,read_point,started_at,tag,read";
  const started = async (yaml: string, ...times: string[]) => {
    const rows = times.map((time, i) => `as-left,P${i},dock-1,${time},T1,yes`);
    const { input, problems } = await read({ "facility.yaml": yaml, "passes/a.csv": log(header, ...rows) });
    return { local: input?.log.passes.map((pass) => pass.startedAtLocal), problems };
  };

  test("one date that is clear settles the whole column", async () => {
    const { local, problems } = await started(soundYaml, "05/11/2026 09:00", "13/11/2026 9:05:10");
    expect(local).toEqual(["2026-11-05 09:00:00", "2026-11-13 09:05:10"]);
    const taken = problems.find(({ code }) => code === "date-order-taken");
    expect(taken).toMatchObject({ line: 2, column: 19 });
    expect(taken!.advice).toMatch(/All 2 dates of the file were read with the day before the month/);
  });

  test("months may come first, with the half of the day", async () => {
    const { local } = await started(soundYaml, "5/11/2026 12:00 AM", "5/21/2026 1:05:10 PM");
    expect(local).toEqual(["2026-05-11 00:00:00", "2026-05-21 13:05:10"]);
  });

  test("facility.yaml settles what the dates leave open", async () => {
    const yaml = `${soundYaml}date_order: month-first\n`;
    const { local, problems } = await started(yaml, "05/11/2026 09:00");
    expect(local).toEqual(["2026-05-11 09:00:00"]);
    expect(problems.map(({ code }) => code)).not.toContain("date-order-taken");
  });

  test("a day that does not exist in the stated order is refused", async () => {
    const { problems } = await started(`${soundYaml}date_order: month-first\n`, "31/05/2026 09:00");
    expect(problems.map(({ code }) => code)).toContain("time-impossible");
  });
});
