import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Result } from "../../src/analysis/result.ts";
import { judgeAll } from "../../src/commands/facility-source.ts";
import { filesBelow } from "../../src/site/contents-list.ts";
import { writeSite } from "../../src/site/write-site.ts";

export interface BuiltSite {
  folder: string;
  results: Result[];
  /** Every page, relative to the folder. */
  pages: string[];
  files: Set<string>;
  url(page: string): string;
}

/** Builds the site of a data folder into a new temporary folder. */
export async function buildSite(data: string): Promise<BuiltSite> {
  const folder = join(await mkdtemp(join(tmpdir(), "proofwalk-site-")), "site");
  const results: Result[] = [];
  const silent = { step() {}, done() {} };
  await writeSite(judgeAll({ data, only: [] }, silent), folder, (result) => results.push(result));
  const files = await filesBelow(folder);
  return {
    folder,
    results,
    pages: files.filter((file) => file.endsWith(".html")),
    files: new Set(files),
    url: (page) => pathToFileURL(join(folder, page)).href,
  };
}

/** Links of a page that lead nowhere: to a file that is not there, off the disk, or to an anchor that is missing. */
export async function brokenLinks(site: BuiltSite, page: string): Promise<string[]> {
  const html = await readFile(join(site.folder, page), "utf8");
  const broken: string[] = [];
  for (const [, attribute] of html.matchAll(/\s(?:href|src)="([^"]*)"/g)) {
    const [path, anchor] = decode(attribute!).split("#") as [string, string | undefined];
    const target = path === "" ? page : join(dirname(page), decodeURIComponent(path)).replaceAll("\\", "/");
    if (/^[a-z]+:/i.test(path) || path.startsWith("/") || !site.files.has(target)) broken.push(attribute!);
    else if (anchor !== undefined) {
      const targetHtml = target === page ? html : await readFile(join(site.folder, target), "utf8");
      if (!targetHtml.includes(`id="${decodeURIComponent(anchor)}"`)) broken.push(attribute!);
    }
  }
  return broken;
}

function decode(attribute: string): string {
  return attribute.replaceAll("&amp;", "&").replaceAll("&quot;", '"').replaceAll("&#39;", "'");
}
