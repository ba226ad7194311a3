import { rowsOfTables } from "./changes-statements.ts";
import * as common from "./pages-in-common.ts";
import { missedTags, passesOf, presented, voidPasses, withoutVoids } from "./recount.ts";
import type { Shed } from "./shed.ts";
import { whyTables } from "./why-statements.ts";

/** What the page of inputs says, with the figures of the recount. */
export function inputsStatements(shed: Shed): string[] {
  const { files, rows, before, after, findings, facts } = shed;
  const inVoids = [before, after].flatMap((round) =>
    round.filter(({ pass }) => voidPasses(round).includes(pass)),
  );
  const used = rows.length - inVoids.length;
  const [settings, log] = files as [Shed["files"][number], Shed["files"][number]];
  return [
    ...common.onEveryPage(shed),
    `${files.length} files were read, with ${rows.length} rows: ${used} entered the figures, ${inVoids.length} belong to void passes`,
    `${settings.path} ${settings.bytes} bytes … ${settings.sha256}`,
    `${log.path} ${log.bytes} bytes ${rows.length} ${used} ${inVoids.length} ${log.sha256}`,
    ...tableSizes(shed).map(([table, size]) => `${table} … ${size} row`),
    `assumed-correlation.csv … ${4 * findings.filter(({ measure }) => clustered(measure)).length} rows`,
    `rounds.csv … ${facts.rounds.length} rows`,
    `before-to-after-changes.csv … ${rowsOfTables(shed).changes} rows`,
    `before-to-after-changed-tags.csv … ${rowsOfTables(shed).changedTags} row`,
    "the first 32 digits of the SHA-256 of result.json; the code on the sign-off sheet has all 64",
    "Checking this archive in three steps",
    "step 2, in the folder of this page; for step 3 put",
    "shasum -a 256",
    "sha256sum",
    "contents.sha256 tells",
    "sha256sum -c contents.sha256",
    "SHA256",
    "UTF-8",
    "Rates are fractions from 0 to 1",
  ];
}

const clustered = (measure: string) => measure === "tag-read-rate" || measure === "bystander-read-rate";

/** Rows of the tables to take away, by what each holds. */
function tableSizes(shed: Shed): [string, number][] {
  const { findings, before, after, files } = shed;
  const valid = withoutVoids(after);
  const read = presented(valid).filter(({ read }) => read);
  const strays = passesOf(valid.filter(({ presented, read }) => !presented && read));
  const signals = read.map(({ rssiDbm }) => Math.floor(rssiDbm! / 2));
  return [
    ["findings.csv", findings.length],
    ["passes.csv", passesOf(before).length + passesOf(after).length],
    ["inputs.csv … SHA-256", files.length],
    ["remarks.csv", 0],
    ["door-findings.csv", findings.length],
    [
      "door-conditions.csv",
      new Set(valid.flatMap(({ orientation, speed }) => [orientation, speed > 1])).size,
    ],
    [
      "door-grids.csv",
      new Set(presented(valid).map(({ orientation, speed }) => `${orientation} ${speed > 1}`)).size,
    ],
    ["door-rssi.csv", Math.max(...signals) - Math.min(...signals) + 1],
    ["door-antennas.csv", new Set(read.map(({ antenna }) => antenna)).size],
    ["door-missed-tags.csv", missedTags(valid).length],
    ["door-passes.csv", passesOf(after).length],
    ["door-strays.csv", strays.length],
    ...whyTables(shed),
    ["door-voids.csv", voidPasses(after).length],
  ];
}
