import { join } from "node:path";
import type Eleventy from "@11ty/eleventy";
import type { Page } from "../../pages/parts/page.ts";
import { templatesFolder } from "../package/package-folders.ts";

/** Renders pages into a folder, batch after batch; what one batch said is let go before the next. */
export type PageRenderer = (pages: Page[]) => Promise<void>;

/**
 * The engine, set to write into a folder. It is given finished views and nothing else: no data files, no folders of its
 * own. One engine serves all batches, since each one made keeps its compiled templates, and through them its data, for
 * as long as the process lives. It loads while the first facilities are read.
 */
export function pageRenderer(folder: string): PageRenderer {
  let batch: Page[] = [];
  let begun = false;
  const loading = loadEngine(folder, () => batch);
  // Awaited, and so reported, with the first batch.
  loading.catch(() => {});
  return async (pages) => {
    const eleventy = await loading;
    batch = pages;
    if (begun) await eleventy.restart();
    begun = true;
    await eleventy.init();
    await eleventy.write();
    batch = [];
  };
}

async function loadEngine(folder: string, pages: () => Page[]): Promise<Eleventy> {
  // The engine would start a thread that reloads changed modules of a configuration: here there are none.
  process.env.ELEVENTY_SKIP_ESM_RESOLVER = "1";
  const { default: Engine } = await import("@11ty/eleventy");
  const { configure } = await import("./settings.ts");
  const eleventy = new Engine(join(templatesFolder, "engine"), folder, {
    quietMode: true,
    configPath: false,
    config: (userConfig) => {
      configure(userConfig);
      userConfig.addGlobalData("pages", pages);
    },
  });
  eleventy.disableLogger();
  return eleventy;
}
