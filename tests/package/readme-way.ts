import { readFile, writeFile } from "node:fs/promises";
import { writeXlsx } from "hucre/xlsx";
import { parse, stringify } from "yaml";

/** One step of the README's way from nothing to a site: a command line, or keys for facility.yaml. */
export type Step = { command: string } | { yaml: string };

/** The steps in the code blocks of the README, in their order. */
export async function readmeSteps(): Promise<Step[]> {
  const readme = await readFile("README.md", "utf8");
  const way = /\n## Your own first facility\n(.*?)\n## /s.exec(readme)?.[1] ?? "";
  return [...way.matchAll(/^```(yaml)?\n(.*?)^```$/gms)].flatMap(([, language, text = ""]): Step[] => {
    if (language === "yaml") return [{ yaml: text }];
    const lines = text.split("\n").filter((line) => line.startsWith("proofwalk "));
    return lines.map((line) => ({ command: line.replace(/\s+#.*$/, "").trim() }));
  });
}

/** Puts keys into a facility.yaml, in place of those that are there. */
export async function putKeys(facilityYaml: string, yaml: string): Promise<void> {
  const there = parse(await readFile(facilityYaml, "utf8"));
  await writeFile(facilityYaml, stringify({ ...there, ...parse(yaml) }));
}

const codes = ["331645AA3C00194000070001", "331645AA3C00194000070002"];

/** What somebody who follows the README has: a load, logs of two doors, and what the reader of the first wrote, 32 s ahead. */
export const filesOfTheWay = {
  "manifests/cage.csv": `tag,orientation\n${codes[0]},flat\n${codes[1]},edge-on\n`,
  "passes/dock-1.csv": `pass,read_point,started_at,ended_at,speed_m_s,load,manifest
P1,dock-1,2026-03-12T13:00:00Z,2026-03-12T13:00:08Z,0.8,full,cage
P2,dock-1,2026-03-12T13:02:00Z,2026-03-12T13:02:08Z,1.4,half,cage
`,
  "passes/dock-2.csv": `pass,read_point,speed_m_s,load,orientation,tag,presented,read
P1,dock-2,0.8,full,flat,${codes[0]},yes,yes
P1,dock-2,0.8,full,edge-on,${codes[1]},yes,no
`,
  "reads/dock-1.csv": [
    "FirstSeenTimestampUTC,EPC-96,AntennaID,PeakRSSI,TagSeenCount",
    ...[0, 120].flatMap((second) =>
      codes.map((code, i) => `${(1773320400 + 32 + second + 1 + i) * 1e6},${code},${i + 1},-5${i},7`),
    ),
    "",
  ].join("\n"),
};

/** The workbook whose sheets the README names: a walk of each door. */
export function workbookOfTheWay(): Promise<Uint8Array> {
  const sheets = ["dock-1", "dock-2"].map((door, i) => ({
    name: `Dock ${i + 1}`,
    rows: [
      ["pass", "read_point", "speed_m_s", "load", "orientation", "EPC", "read"],
      ["P7", door, 1.2, "full", "flat", codes[0]!, "yes"],
    ],
  }));
  return writeXlsx({ sheets });
}
