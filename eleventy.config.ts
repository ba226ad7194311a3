import type { UserConfig } from "@11ty/eleventy";
import nunjucks from "nunjucks";
import { jsonIsland } from "./src/pages/json-island.ts";
import { templatesFolder } from "./src/site/package-folders.ts";

/** The engine's settings; what the pages say comes in as the global datum `plan`, one list of views a template. */
export default function configure(eleventy: UserConfig): void {
  // Installed as a package the templates lie under node_modules, which the engine would pass over without a word.
  eleventy.ignores.delete("**/node_modules/**");
  eleventy.setUseGitIgnore(false);
  eleventy.setTemplateFormats(["njk"]);
  eleventy.setQuietMode(true);
  eleventy.setLibrary("njk", templateEnvironment());
}

/** The one way that templates are rendered, by the engine and by tests. */
export function templateEnvironment(): nunjucks.Environment {
  const loader = new nunjucks.FileSystemLoader(templatesFolder);
  const njk = new nunjucks.Environment(loader, {
    autoescape: true,
    throwOnUndefined: true,
    trimBlocks: true,
    lstripBlocks: true,
  });
  njk.addFilter("json_island", (value: unknown) => new nunjucks.runtime.SafeString(jsonIsland(value)));
  njk.addFilter("picture", (svg: string) => new nunjucks.runtime.SafeString(svg));
  return njk;
}
