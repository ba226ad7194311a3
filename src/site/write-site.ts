import { createHash } from "node:crypto";
import { mkdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { Result } from "../model/result.ts";
import { facilityPages } from "../pages/facility-pages.ts";
import { type IndexEntry, indexEntry, indexPage } from "../pages/index-page.ts";
import type { Page, SiteFile } from "../pages/parts/page.ts";
import { facilityFolder } from "../pages/parts/paths.ts";
import { copyAssets } from "./assets.ts";
import { filesBelow, writeContents } from "./contents-list.ts";
import { pageRenderer } from "./render-pages.ts";
import { OutputRefused, swapIn } from "./swap-in.ts";

/** Facilities rendered in one run of the engine: enough to spread its start, few enough to hold in memory. */
const batchSize = 8;

export interface SiteSummary {
  facilities: number;
  pages: number;
  files: number;
}

/**
 * Writes the site of some facilities to `out`, all or nothing. The results come one at a time, so that a large
 * portfolio is never held in memory whole.
 */
export async function writeSite(
  results: AsyncIterable<Result> | Iterable<Result>,
  out: string,
  onFacility: (result: Result) => void = () => {},
): Promise<SiteSummary> {
  const summary: SiteSummary = { facilities: 0, pages: 0, files: 0 };
  await swapIn(out, async (folder) => {
    const entries: IndexEntry[] = [];
    let batch: Page[] = [];
    let batched = 0;
    const planned: string[] = [];
    const folders = new Map<string, string>();
    const renderPages = pageRenderer(folder);
    const flush = async () => {
      await renderPages(batch);
      planned.push(...batch.map((page) => page.path));
      batch = [];
      batched = 0;
    };
    for await (const result of results) {
      onFacility(result);
      refuseSharedFolder(result.facility.id, folders);
      const text = `${JSON.stringify(result, null, 2)}\n`;
      const mark = createHash("sha256").update(text).digest("hex");
      const { pages, files } = facilityPages(result, mark);
      const resultFile = { path: `${facilityFolder(result.facility.id)}/result.json`, text };
      await writeFiles([resultFile, ...files], folder);
      batch.push(...pages);
      batched += 1;
      entries.push(indexEntry(result));
      if (batched === batchSize) await flush();
    }
    batch.push(indexPage(entries));
    await flush();
    await copyAssets(folder);
    await assertWritten(planned, folder);
    summary.files = (await writeContents(folder)).length + 1;
    summary.facilities = entries.length;
    summary.pages = planned.length;
  });
  return summary;
}

/** Ids that differ only in capitals would share a folder on many disks. */
function refuseSharedFolder(id: string, folders: Map<string, string>): void {
  const key = facilityFolder(id).toLowerCase();
  const other = folders.get(key);
  if (other !== undefined) {
    throw new OutputRefused(
      `The facilities "${other}" and "${id}" would share a folder of the site: rename one of them.`,
    );
  }
  folders.set(key, id);
}

async function writeFiles(files: SiteFile[], folder: string): Promise<void> {
  for (const file of files) {
    const path = join(folder, file.path);
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, file.text);
  }
}

/** The engine passes over what it does not like without a word, so the pages are counted. */
async function assertWritten(planned: string[], folder: string): Promise<void> {
  const written = new Set((await filesBelow(folder)).filter((file) => file.endsWith(".html")));
  const missing = planned.filter((path) => !written.has(path));
  if (missing.length > 0 || written.size !== planned.length) {
    throw new Error(
      `${planned.length} pages were planned and ${written.size} written; missing: ${missing.slice(0, 5).join(", ")}`,
    );
  }
}
