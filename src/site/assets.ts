import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { journeySchemaPath, noticesPath, resultSchemaPath } from "../pages/parts/paths.ts";
import {
  dependencyFolder,
  schemasFolder,
  scriptsFolder,
  templatesFolder,
} from "./package/package-folders.ts";

const fontPackages = ["@fontsource-variable/source-sans-3", "@fontsource-variable/source-serif-4"];
/** Upright and italic, the weight axis, the two Latin subsets that names and units need. */
const fontFile = /-latin(-ext)?-wght-(normal|italic)\.woff2$/;

/** Puts style sheets, scripts, fonts and the schemas of the results beside the pages. */
export function copyAssets(siteFolder: string): void {
  const assets = join(siteFolder, "assets");
  const fonts = join(assets, "fonts");
  mkdirSync(fonts, { recursive: true });
  copyFiles(join(templatesFolder, "assets"), assets);
  copyFiles(scriptsFolder, assets);
  copyFile(join(dependencyFolder("chart.js"), "dist", "chart.umd.min.js"), join(assets, "chart.js"));
  for (const name of fontPackages)
    copyFiles(join(dependencyFolder(name), "files"), fonts, (file) => fontFile.test(file));
  writeFileSync(join(siteFolder, noticesPath), notices());
  mkdirSync(join(siteFolder, dirname(resultSchemaPath)), { recursive: true });
  for (const path of [resultSchemaPath, journeySchemaPath])
    copyFile(join(schemasFolder, basename(path)), join(siteFolder, path));
}

/** The licences of what the site takes from others: they ask to go wherever the files go. */
function notices(): string {
  const parts = [...fontPackages, "chart.js"].map((name) => {
    const folder = dependencyFolder(name);
    const { version, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
    const file = readdirSync(folder).find((each) => /^licen[cs]e/i.test(each));
    if (file === undefined) throw new Error(`The package ${name} has no licence.`);
    return `${name} ${version}, ${license}\n\n${readFileSync(join(folder, file), "utf8").trim()}\n`;
  });
  return parts.join(`\n${"-".repeat(80)}\n\n`);
}

function copyFiles(from: string, to: string, isWanted: (name: string) => boolean = () => true): void {
  for (const name of readdirSync(from)) if (isWanted(name)) copyFile(join(from, name), join(to, name));
}

/** Only the bytes: whether others may read a file of the site is for the user's umask to say, not for the package. */
function copyFile(from: string, to: string): void {
  writeFileSync(to, readFileSync(from));
}
