import { readFileSync } from "node:fs";
import { join } from "node:path";
import { crateToDepot } from "./crate-to-depot.ts";
import { fennickWashPlant } from "./fennick-wash-plant.ts";
import { fennickPhotographs } from "./pictures/photographs.ts";
import { ternhavenPlan } from "./pictures/plan.ts";
import { ternhavenDepot } from "./ternhaven-depot.ts";

/** Every text that `data/` holds, by path inside it; the hand-written parts are read from `demonstration/` under `root`. */
export function demonstrationFiles(root: string): Map<string, string> {
  const written = (name: string): string => readFileSync(join(root, "demonstration", name), "utf8");
  const files = new Map([["README.md", written("data-readme.md")]]);
  const facilities = { "fennick-wash-plant": fennickWashPlant, "ternhaven-depot": ternhavenDepot };
  for (const [id, generated] of Object.entries(facilities)) {
    files.set(`${id}/facility.yaml`, written(`${id}.yaml`));
    for (const [path, text] of generated()) files.set(`${id}/${path}`, text);
  }
  files.set("journeys/crate-to-depot.yaml", written("crate-to-depot.yaml"));
  for (const [path, text] of crateToDepot()) files.set(`journeys/${path}`, text);
  // What the tool made of the desk's first 30 trays: archived once, and never made again.
  files.set("fennick-wash-plant/revisions/A/result.json", written("archived/fennick-revision-a.json"));
  files.set("ternhaven-depot/plan.svg", ternhavenPlan());
  return files;
}

/** Every other file that `data/` holds. */
export async function demonstrationPictures(): Promise<Map<string, Uint8Array>> {
  const pictures = await fennickPhotographs();
  return new Map([...pictures].map(([path, bytes]) => [`fennick-wash-plant/${path}`, bytes]));
}
