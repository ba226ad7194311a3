import { join } from "node:path";
import Eleventy from "@11ty/eleventy";
import configure from "../../eleventy.config.ts";
import type { Page, TemplateName } from "../pages/page.ts";
import { templatesFolder } from "./package-folders.ts";

const templateNames: TemplateName[] = [
  "index",
  "overview",
  "read-point",
  "rounds",
  "passes",
  "inputs",
  "method",
  "sign-off-sheet",
];

/** Renders pages into a folder. The engine is given finished views and nothing else: no data files, no folders of its own. */
export async function renderPages(pages: Page[], folder: string): Promise<void> {
  const plan = Object.fromEntries(
    templateNames.map((name) => [
      name,
      pages.filter((page) => page.template === name).map((page) => page.view),
    ]),
  );
  const eleventy = new Eleventy(join(templatesFolder, "pages"), folder, {
    quietMode: true,
    configPath: false,
    config: (userConfig) => {
      configure(userConfig);
      userConfig.addGlobalData("plan", plan);
    },
  });
  eleventy.disableLogger();
  await eleventy.init();
  await eleventy.write();
}
