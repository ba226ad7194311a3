import type { UserConfig } from "@11ty/eleventy";
import { templateEngine } from "./src/site/template-engine.ts";

/** The engine's settings; what the pages say comes in as the global datum `plan`, one list of views a template. */
export default function configure(eleventy: UserConfig): void {
  // Installed as a package the templates lie under node_modules, which the engine would pass over without a word.
  eleventy.ignores.delete("**/node_modules/**");
  eleventy.setUseGitIgnore(false);
  eleventy.setTemplateFormats(["njk"]);
  eleventy.setQuietMode(true);
  eleventy.setLibrary("njk", templateEngine());
}
