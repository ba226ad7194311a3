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
  "changes",
  "passes",
  "inputs",
  "method",
  "sign-off-sheet",
  "plan",
  "walk-sheet",
  "aisle",
];

/** Renders pages into a folder, batch after batch; what one batch said is let go before the next. */
export type PageRenderer = (pages: Page[]) => Promise<void>;

/**
 * The engine, set to write into a folder. It is given finished views and nothing else: no data files, no folders of its
 * own. One engine serves all batches, since each one made keeps its compiled templates, and through them its data, for
 * as long as the process lives.
 */
export function pageRenderer(folder: string): PageRenderer {
  let plan: Record<string, unknown> = {};
  let begun = false;
  const eleventy = new Eleventy(join(templatesFolder, "pages"), folder, {
    quietMode: true,
    configPath: false,
    config: (userConfig) => {
      configure(userConfig);
      userConfig.addGlobalData("plan", () => plan);
    },
  });
  eleventy.disableLogger();
  return async (pages) => {
    plan = Object.fromEntries(
      templateNames.map((name) => [
        name,
        pages.filter((page) => page.template === name).map((page) => page.view),
      ]),
    );
    if (begun) await eleventy.restart();
    begun = true;
    await eleventy.init();
    await eleventy.write();
    plan = {};
  };
}
