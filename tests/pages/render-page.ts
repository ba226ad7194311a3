import { readFileSync } from "node:fs";
import { join } from "node:path";
import { templateEnvironment } from "../../eleventy.config.ts";
import type { Page } from "../../src/pages/page.ts";
import { templatesFolder } from "../../src/site/package-folders.ts";

const environment = templateEnvironment();

/** A page as the site holds it, without a run of the whole engine. */
export function renderPage(page: Page): string {
  const source = readFileSync(join(templatesFolder, "pages", `${page.template}.njk`), "utf8");
  return environment.renderString(source.replace(/^---[\s\S]*?---\n/, ""), { view: page.view });
}

/** The words of a page as a reader sees them: markup away, entities resolved, white space single. */
export function wordsOf(html: string): string {
  return html
    .replace(/<(script|style)[\s\S]*?<\/\1>/g, " ")
    .replace(/<[^>]*>/g, " ")
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&")
    .replace(/\s+/g, " ");
}
