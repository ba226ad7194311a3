import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** The folder of this package: the nearest one above this file that has the templates beside its package.json. */
function findPackageFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!(existsSync(join(folder, "package.json")) && existsSync(join(folder, "templates")))) {
    const above = dirname(folder);
    if (above === folder)
      throw new Error("The templates of proofwalk are missing: install the package again.");
    folder = above;
  }
  return folder;
}

const packageFolder = findPackageFolder();

export const templatesFolder = join(packageFolder, "templates");

/** The program, compiled. */
export const compiledFolder = join(packageFolder, "dist", "src");

/** What the pages run in a browser, compiled. */
export const scriptsFolder = join(compiledFolder, "assets");

export const schemasFolder = join(packageFolder, "schemas");

/** The version that stands in every result. */
export const toolVersion: string = JSON.parse(
  readFileSync(join(packageFolder, "package.json"), "utf8"),
).version;

/** The folder of an installed package that the site takes files from. */
export function dependencyFolder(name: string): string {
  const places = createRequire(import.meta.url).resolve.paths(name) ?? [];
  const found = places.map((place) => join(place, name)).find((folder) => existsSync(folder));
  if (found === undefined) throw new Error(`The package ${name} is missing: install proofwalk again.`);
  return found;
}
