import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import nunjucks from "nunjucks";
import { jsonIsland } from "../../src/pages/json-island.ts";
import type { Page } from "../../src/pages/page.ts";

const templates = fileURLToPath(new URL("../../templates", import.meta.url));

const environment = new nunjucks.Environment(new nunjucks.FileSystemLoader(templates), {
  autoescape: true,
  throwOnUndefined: true,
  trimBlocks: true,
  lstripBlocks: true,
});
environment.addFilter("json_island", (value: unknown) => new nunjucks.runtime.SafeString(jsonIsland(value)));
environment.addFilter("picture", (svg: string) => new nunjucks.runtime.SafeString(svg));

/** A page as the site holds it, without a run of the whole engine. */
export function renderPage(page: Page): string {
  const source = readFileSync(`${templates}/pages/${page.template}.njk`, "utf8");
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
