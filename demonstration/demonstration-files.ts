import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fennickWashPlant } from "./fennick-wash-plant.ts";
import { ternhavenDepot } from "./ternhaven-depot.ts";

/** Everything that `data/` holds, by path inside it; the hand-written parts are read from `demonstration/` under `root`. */
export function demonstrationFiles(root: string): Map<string, string> {
  const written = (name: string): string => readFileSync(join(root, "demonstration", name), "utf8");
  const files = new Map([["README.md", written("data-readme.md")]]);
  const facilities = { "fennick-wash-plant": fennickWashPlant, "ternhaven-depot": ternhavenDepot };
  for (const [id, generated] of Object.entries(facilities)) {
    files.set(`${id}/facility.yaml`, written(`${id}.yaml`));
    for (const [path, text] of generated()) files.set(`${id}/${path}`, text);
  }
  return files;
}
