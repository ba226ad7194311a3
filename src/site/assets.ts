import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { dependencyFolder, scriptsFolder, templatesFolder } from "./package-folders.ts";

const fontPackages = ["@fontsource-variable/source-sans-3", "@fontsource-variable/source-serif-4"];
/** Upright and italic, the weight axis, the two Latin subsets that names and units need. */
const fontFile = /-latin(-ext)?-wght-(normal|italic)\.woff2$/;

/** Puts style sheets, scripts and fonts beside the pages. */
export function copyAssets(siteFolder: string): void {
  const assets = join(siteFolder, "assets");
  const fonts = join(assets, "fonts");
  mkdirSync(fonts, { recursive: true });
  copyFiles(join(templatesFolder, "assets"), assets);
  copyFiles(scriptsFolder, assets);
  copyFile(join(dependencyFolder("chart.js"), "dist", "chart.umd.min.js"), join(assets, "chart.js"));
  for (const name of fontPackages)
    copyFiles(join(dependencyFolder(name), "files"), fonts, (file) => fontFile.test(file));
}

function copyFiles(from: string, to: string, isWanted: (name: string) => boolean = () => true): void {
  for (const name of readdirSync(from)) if (isWanted(name)) copyFile(join(from, name), join(to, name));
}

/** Only the bytes: whether others may read a file of the site is for the user's umask to say, not for the package. */
function copyFile(from: string, to: string): void {
  writeFileSync(to, readFileSync(from));
}
