import type { UserConfig } from "@11ty/eleventy";
import { templateEnvironment } from "./template-environment.ts";

/** The engine's settings; what is to be written comes in as the global datum `pages`. */
export function configure(eleventy: UserConfig): void {
  // Installed as a package the templates lie under node_modules, which the engine would pass over without a word.
  eleventy.ignores.delete("**/node_modules/**");
  eleventy.setUseGitIgnore(false);
  eleventy.setTemplateFormats(["njk"]);
  eleventy.setQuietMode(true);
  eleventy.setLibrary("njk", templateEnvironment());
}
