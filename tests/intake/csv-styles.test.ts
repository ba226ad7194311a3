import { createHash } from "node:crypto";
import { describe, expect, test } from "vitest";
import { log, places, read, readSound, soundLog } from "./folder.ts";

const header = "round,pass,read_point,tag,read,rssi_dbm,speed_m_s,note";

async function passesOf(text: string | Buffer) {
  return (await readSound({ "passes/a.csv": text })).log;
}

describe("CSV as it comes", () => {
  test("a byte order mark, Windows, old Mac and missing line ends change nothing", async () => {
    const plain = await passesOf(soundLog);
    expect(await passesOf(`\ufeff${soundLog}`)).toEqual(plain);
    expect(await passesOf(soundLog.replaceAll("\n", "\r\n"))).toEqual(plain);
    expect(await passesOf(soundLog.replaceAll("\n", "\r"))).toEqual(plain);
    expect(await passesOf(soundLog.trimEnd())).toEqual(plain);
    expect(await passesOf(`\n${soundLog}\n\n,,,\n`)).toEqual(plain);
    expect(await passesOf(soundLog.replaceAll("\n", ",,\n"))).toEqual(plain);
  });

  test("semicolons with decimal commas are read, with a remark", async () => {
    const semicolons = log(
      header.replaceAll(",", ";"),
      'as-left;P1;dock-1;T1;yes;-53,5;0,5;"well; fine"',
      "as-left;P1;dock-1;T2;no;;1.5;a, b",
    );
    const { input, problems } = await read({ "passes/a.csv": semicolons });
    expect(places(problems)).toEqual(["warning passes/a.csv:1:1 semicolon-separated"]);
    expect(input?.log.rows.rssiDbm[0]).toBe(-53.5);
    expect(input?.log.rows.columns.get("speed_m_s")).toMatchObject({
      values: ["0.5", "1.5"],
    });
    expect(input?.log.passes[0]?.notes).toEqual(["a, b", "well; fine"]);
  });

  test("the hash is that of the bytes on disk", async () => {
    const bytes = Buffer.from(`\ufeff${soundLog}`);
    const { inputs } = await readSound({ "passes/a.csv": bytes });
    expect(inputs[1]?.sha256).toBe(createHash("sha256").update(bytes).digest("hex"));
    expect(inputs[1]?.bytes).toBe(bytes.length);
  });

  test("characters cut in two by the end of a chunk come through whole", async () => {
    const note = "ü€𝄞".repeat(30);
    const rows = Array.from(
      { length: 9000 },
      (_, i) => `as-left,P${i},dock-1,T${i},yes,-50,1,${note}${"x".repeat(i % 7)}`,
    );
    const text = log(header, ...rows);
    expect(Buffer.byteLength(text)).toBeGreaterThan(2 << 20);
    const { passes } = await passesOf(text);
    expect(passes).toHaveLength(9000);
    expect(passes.every((pass) => pass.notes[0]?.startsWith(note))).toBe(true);
  });

  test("places are right behind line breaks, quotes and blank lines", async () => {
    for (const end of ["\n", "\r\n"]) {
      const text = [
        header,
        'as-left,P1,dock-1,T1,yes,-50,1,"two',
        'lines, and a ""quote"""',
        "",
        'as-left,P1,dock-1,T2,yes,-50,"fast","ünï"',
        'as-left,P1,dock-1,"T3",yes,-50,1,x',
        'as-left,P1,"dock-9",T4,"perhaps",-50,1,x',
      ].join(end);
      const { problems } = await read({ "passes/a.csv": text });
      expect(places(problems)).toEqual([
        "error passes/a.csv:5:30 condition-not-a-number",
        "error passes/a.csv:7:12 read-point-unknown",
        "error passes/a.csv:7:24 answer-unclear",
      ]);
    }
  });

  test("a folder in the place of a log, and a log that cannot be read, do not stop the rest", async () => {
    const { input, problems } = await read({ "passes/a.csv/x.txt": "x", "passes/b.csv": soundLog });
    expect(places(problems)).toEqual(["warning passes/a.csv:-:- file-not-read"]);
    expect(input?.log.passes).toHaveLength(1);
  });
});
