import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { buildSite as build } from "../../src/commands/build.ts";
import { ExitStatus } from "../../src/commands/command.ts";
import type { Result } from "../../src/model/result/result.ts";
import { filesBelow } from "../../src/site/output/contents-list.ts";

export interface BuiltSite {
  folder: string;
  results: Result[];
  /** Every page, relative to the folder. */
  pages: string[];
  files: Set<string>;
  url(page: string): string;
}

/** Builds the site of a data folder, into a new temporary folder where none is named. */
export async function buildSite(data: string, folder?: string): Promise<BuiltSite> {
  const out = folder ?? join(await mkdtemp(join(tmpdir(), "proofwalk-site-")), "site");
  const said: string[] = [];
  const exit = await build(
    { source: { data, only: [] }, out, inputs: null },
    {
      out() {},
      err: (text) => void said.push(text),
      progress() {},
      watched: false,
      interrupted: () => new Promise(() => {}),
    },
  );
  if (exit !== ExitStatus.fine) throw new Error(said.join(""));
  return openSite(out);
}

/** A site that stands already. */
export async function openSite(folder: string): Promise<BuiltSite> {
  const files = filesBelow(folder);
  const results = files.filter((file) => /^[^/]+\/result\.json$/.test(file));
  return {
    folder,
    results: await Promise.all(
      results.map(async (file): Promise<Result> => JSON.parse(await readFile(join(folder, file), "utf8"))),
    ),
    pages: files.filter((file) => file.endsWith(".html")),
    files: new Set(files),
    url: (page) => pathToFileURL(join(folder, page)).href,
  };
}

/** Links of a page that lead nowhere: to a file that is not there, off the disk, or to an anchor that is missing. */
export async function brokenLinks(site: BuiltSite, page: string): Promise<string[]> {
  const html = await readFile(join(site.folder, page), "utf8");
  const broken: string[] = [];
  for (const attribute of new Set([...html.matchAll(/\s(?:href|src)="([^"]*)"/g)].map(([, link]) => link!))) {
    const [path, anchor] = decode(attribute).split("#") as [string, string | undefined];
    const target = path === "" ? page : join(dirname(page), decodeURIComponent(path)).replaceAll("\\", "/");
    if (/^[a-z]+:/i.test(path) || path.startsWith("/") || !site.files.has(target)) broken.push(attribute);
    else if (anchor !== undefined && !(await anchorsOf(site, target)).has(decodeURIComponent(anchor)))
      broken.push(attribute);
  }
  return broken;
}

const anchors = new WeakMap<BuiltSite, Map<string, Promise<Set<string>>>>();

/** The ids on a page, which is read once: pages are full of links to each other. */
function anchorsOf(site: BuiltSite, page: string): Promise<Set<string>> {
  const ofSite = anchors.get(site) ?? new Map<string, Promise<Set<string>>>();
  anchors.set(site, ofSite);
  const ids = async () => {
    const html = await readFile(join(site.folder, page), "utf8");
    return new Set([...html.matchAll(/\sid="([^"]*)"/g)].map(([, id]) => decode(id!)));
  };
  const found = ofSite.get(page) ?? ids();
  ofSite.set(page, found);
  return found;
}

function decode(attribute: string): string {
  return attribute.replaceAll("&amp;", "&").replaceAll("&quot;", '"').replaceAll("&#39;", "'");
}
