import { cp, mkdir, readdir } from "node:fs/promises";
import { join } from "node:path";
import { dependencyFolder, scriptsFolder, templatesFolder } from "./package-folders.ts";

const fontPackages = ["@fontsource-variable/source-sans-3", "@fontsource-variable/source-serif-4"];
/** Upright and italic, the weight axis, the two Latin subsets that names and units need. */
const fontFile = /-latin(-ext)?-wght-(normal|italic)\.woff2$/;

/** Puts style sheets, scripts and fonts beside the pages. */
export async function copyAssets(siteFolder: string): Promise<void> {
  const assets = join(siteFolder, "assets");
  const fonts = join(assets, "fonts");
  await mkdir(fonts, { recursive: true });
  await cp(join(templatesFolder, "assets"), assets, { recursive: true });
  await cp(scriptsFolder, assets, { recursive: true });
  await cp(join(dependencyFolder("chart.js"), "dist", "chart.umd.min.js"), join(assets, "chart.js"));
  for (const name of fontPackages) {
    const folder = join(dependencyFolder(name), "files");
    for (const file of (await readdir(folder)).sort()) {
      if (fontFile.test(file)) await cp(join(folder, file), join(fonts, file));
    }
  }
}
