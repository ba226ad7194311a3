import { mkdir, mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** Texts that somebody could put into any free field, each with a word of its own to be found by. */
export const hostileTexts = {
  markup: `<img src=x onerror="globalThis.struck='markup'"><script>globalThis.struck='script'</script>`,
  quotes: `"double" 'single' \`back\` </title></style></textarea>--> {{ 7 * 7 }} {% raw %}`,
  formula: `=HYPERLINK("x:y";"formula")+cmd|' /C calc'!A0`,
  rightToLeft: "\u202Eright to left\u202C \u05E9\u05DC\u05D5\u05DD \u0645\u0631\u062D\u0628\u0627",
  long: "l\u00F6ng".repeat(75),
};

const all = Object.values(hostileTexts);

/** A data folder of one facility whose every free field holds one of the hostile texts in turn. */
export async function hostileData(): Promise<string> {
  const data = await mkdtemp(join(tmpdir(), "proofwalk-hostile-"));
  const folder = join(data, "yard");
  await mkdir(join(folder, "passes"), { recursive: true });
  await mkdir(join(folder, "manifests"), { recursive: true });
  await writeFile(join(folder, "facility.yaml"), facilityYaml());
  await writeFile(join(folder, "passes", "walk.csv"), itemised());
  await writeFile(join(folder, "passes", "listed.csv"), listed());
  const load = all
    .map((text, i) => `${cell(`L${i}${text}`.replace(/\s/g, ""))},yes,${cell(text)}`)
    .join("\n");
  await writeFile(join(folder, "manifests", "load.csv"), `tag,presented,lie\n${load}\n`);
  return data;
}

let turn = 0;
/** The next hostile text, as YAML reads it (JSON is YAML). */
const next = () => JSON.stringify(all[turn++ % all.length]);

function facilityYaml(): string {
  turn = 0;
  return `
name: ${next()}
client: ${next()}
address: ${next()}
time_zone: Europe/Dublin
report: { number: ${next()}, revision: ${next()}, issued: 2026-05-22 }
prepared_by: { name: ${next()}, organisation: ${next()}, role: ${next()} }
witnessed_by: [{ name: ${next()}, organisation: ${next()} }]
rounds:
  - { id: first, title: ${next()}, date: 2026-05-18 }
  - { id: second, title: ${next()}, date: 2026-05-21, changes: ${next()}, settings: { dock: { power: ${next()} } } }
read_points:
${all.map((text, i) => `  - { id: ${i === 0 ? "dock" : `dock-${i}`}, name: ${JSON.stringify(text)}, kind: ${next()}, at: { x: ${10 + i * 15}, y: 40 }, equipment: { reader: ${next()}, ${JSON.stringify(text)}: ${next()} } }`).join("\n")}
floor_plan: { width_m: 30, depth_m: 20, areas: [{ name: ${next()}, x: 5, y: 5, width: 60, height: 60 }] }
conditions:
  - { column: way, label: ${next()}, unit: ${next()} }
  - { column: lie, label: ${next()} }
criteria:
  - { id: reads, title: ${next()}, measure: tag-read-rate, at_least: 0.9, for_each: [way] }
  - { id: strays, title: ${next()}, measure: stray-pass-rate, at_most: 0.2, read_points: [dock] }
concessions:
  - { criterion: reads, read_point: dock, granted_by: ${next()}, on: 2026-05-22, until: 2026-08-31, reason: ${next()} }
open_points:
${all.map((text, i) => `  - { id: ${JSON.stringify(`O${i} ${text}`)}, read_point: dock, text: ${next()}, owner: ${next()}, due: 2026-06-01, closed: null }`).join("\n")}
`;
}

function itemised(): string {
  const header = "round,pass,read_point,way,lie,tag,presented,read,void_reason,walked_by,note,surplus";
  const rows = all.flatMap((text, i) => {
    const common = (pass: string) => `second,${cell(pass)},dock,${cell(text)},${cell(text)}`;
    const tail = (reason: string) => `${cell(reason)},${cell(text)},${cell(text)},${cell(text)}`;
    return [
      `${common(`P${i} ${text}`)},${cell(`A${i} ${text}`)},yes,${i % 2 ? "yes" : "no"},${tail("")}`,
      `${common(`P${i} ${text}`)},${cell(`S${i} ${text}`)},no,yes,${tail("")}`,
      `${common(`V${i} ${text}`)},${cell(`A${i} ${text}`)},yes,no,${tail(text)}`,
    ];
  });
  return [header, ...rows, ""].join("\n");
}

function listed(): string {
  const header = "round,pass,read_point,way,manifest,missed_tags,stray_tags";
  return [header, `first,Q1,dock-1,${cell(all[0]!)},load,,none`, ""].join("\n");
}

function cell(text: string): string {
  return `"${text.replaceAll('"', '""')}"`;
}
