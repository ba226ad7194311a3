import type { Result } from "../../src/model/result/result.ts";
import { type FacilityTemplate, facilityPages } from "../../src/pages/facility-pages.ts";
import type { Page, SiteFile } from "../../src/pages/parts/page.ts";
import { templateEnvironment } from "../../src/site/engine/template-environment.ts";

const engine = templateEnvironment();

/** A page as the site holds it, without a run of the whole engine. */
export function renderPage(page: Page): string {
  return engine.render(`pages/${page.template}.njk`, { view: page.view });
}

const made = new WeakMap<Result, ReturnType<typeof facilityPages>>();

/** What the site holds of a result, made once: many claims are about one sample. */
function madeOf(result: Result): ReturnType<typeof facilityPages> {
  const pages = made.get(result) ?? facilityPages(result);
  made.set(result, pages);
  return pages;
}

/** The pages of one kind that a facility has. */
export function pagesOf<View extends object>(result: Result, template: FacilityTemplate): Page<View>[] {
  return madeOf(result).pages.filter((page) => page.template === template) as Page<object>[] as Page<View>[];
}

/** The only page of its kind, or the first. */
export function pageOf<View extends object>(result: Result, template: FacilityTemplate): Page<View> {
  const [page] = pagesOf<View>(result, template);
  if (page === undefined) throw new Error(`No page of kind ${template}`);
  return page;
}

/** The page of a read point, by its id. */
export function readPointPage(result: Result, id: string): Page {
  return pagesOf(result, "read-point").find(({ path }) => path.endsWith(`/${id}.html`)) as Page;
}

/** The tables of a facility as files. */
export function tableFiles(result: Result): SiteFile[] {
  return madeOf(result).files.filter(({ path }) => path.includes("/tables/"));
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
