import { createHash } from "node:crypto";
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import type { JourneyResult } from "../model/journey/journey-result.ts";
import type { Result } from "../model/result.ts";
import { facilityPages } from "../pages/facility-pages.ts";
import {
  type IndexEntry,
  indexEntry,
  indexPage,
  type JourneyEntry,
  journeyEntry,
} from "../pages/index-page.ts";
import { journeyFolder } from "../pages/journey/journey-context.ts";
import { journeyPages } from "../pages/journey/journey-pages.ts";
import { type InputChoice, inputChoice, type JourneyLeg, keptInputs } from "../pages/parts/archive.ts";
import type { Page, SiteFile } from "../pages/parts/page.ts";
import { facilityFolder, facilityPaths } from "../pages/parts/paths.ts";
import type { SiteWorkbook } from "../pages/parts/workbook.ts";
import { copyAssets } from "./assets.ts";
import { writeContents } from "./contents-list.ts";
import { copyInputs } from "./copy-inputs.ts";
import { madeWithName, madeWithText } from "./made-with.ts";
import { OutputRefused } from "./output-place.ts";
import { siteFileName, siteFileText } from "./own-site.ts";
import { pageRenderer } from "./render-pages.ts";
import { swapIn } from "./swap-in.ts";

/** Facilities rendered in one run of the engine: enough to spread its start, few enough to hold in memory. */
const batchSize = 8;

export interface SiteSummary {
  facilities: number;
  pages: number;
  files: number;
}

/** What a site is written from besides the results. */
export interface SiteOptions {
  /** The folder of a facility's input files. */
  inputsOf?: (facility: string) => string;
  /** Which of them the site holds; null leaves it to each facility. */
  inputs?: InputChoice | null;
  onFacility?: (result: Result) => void;
  journeys?: SiteJourneys;
}

/** The journeys that a site holds besides. */
export interface SiteJourneys {
  /** What their legs are, so that the read points' pages can lead to them. */
  legs: readonly JourneyLeg[];
  /** Judged once the facilities are. */
  results(): AsyncIterable<JourneyResult> | Iterable<JourneyResult>;
  /** The folder that their input files are relative to. */
  inputsFrom: string;
  onJourney?: (result: JourneyResult) => void;
}

/**
 * Writes the site of some facilities to `out`, all or nothing. The results come one at a time, so that a large
 * portfolio is never held in memory whole. Without a folder of input files the site holds none.
 */
export async function writeSite(
  results: AsyncIterable<Result> | Iterable<Result>,
  out: string,
  { inputsOf, inputs = null, onFacility = () => {}, journeys }: SiteOptions = {},
): Promise<SiteSummary> {
  const choiceOf = (result: Result) => (inputsOf === undefined ? "none" : inputChoice(result, inputs));
  const summary: SiteSummary = { facilities: 0, pages: 0, files: 0 };
  await swapIn(out, async ({ folder, interruptible }) => {
    const entries: IndexEntry[] = [];
    let batch: Page[] = [];
    let batched = 0;
    const planned: string[] = [];
    const folders = new Map<string, string>();
    const places = new ReadPointPages();
    const renderPages = pageRenderer(folder);
    const flush = async () => {
      await renderPages(batch);
      planned.push(...batch.map((page) => page.path));
      batch = [];
      batched = 0;
    };
    for await (const { result, pages, files, workbooks } of interruptible(
      facilityParts(results, { choiceOf, onFacility, legs: journeys?.legs ?? [] }),
    )) {
      refuseSharedFolder(result.facility.id, folders, facilityFolder(result.facility.id));
      const kept = keptInputs(result, choiceOf(result));
      if (inputsOf !== undefined && kept.length > 0) {
        const to = join(folder, facilityFolder(result.facility.id), "inputs");
        await copyInputs(result.facility.id, kept, { from: inputsOf(result.facility.id), to });
      }
      writeFiles(files, folder);
      if (workbooks.length > 0) await writeWorkbooks(workbooks, folder);
      batch.push(...pages);
      batched += 1;
      entries.push(indexEntry(result));
      places.add(result);
      if (batched === batchSize) await flush();
    }
    const journeyEntries: JourneyEntry[] = [];
    for await (const result of interruptible(journeys?.results() ?? [])) {
      journeys?.onJourney?.(result);
      refuseSharedFolder(result.id, folders, journeyFolder(result.id));
      const choice = inputChoice(result, inputs);
      const kept = keptInputs(result, choice);
      if (journeys !== undefined && kept.length > 0)
        await copyInputs(result.id, kept, {
          from: journeys.inputsFrom,
          to: join(folder, journeyFolder(result.id), "inputs"),
        });
      const { pages, files } = journeyParts(result, choice, places);
      writeFiles(files, folder);
      batch.push(...pages);
      batched += 1;
      journeyEntries.push(journeyEntry(result));
      if (batched === batchSize) await flush();
    }
    batch.push(indexPage(entries, journeyEntries));
    await flush();
    copyAssets(folder);
    writeFiles([{ path: siteFileName, text: siteFileText }], folder);
    const files = writeContents(folder);
    writeFiles([{ path: madeWithName, text: madeWithText() }], folder);
    assertWritten(planned, files);
    summary.files = files.length + 2;
    summary.facilities = entries.length;
    summary.pages = planned.length;
  });
  return summary;
}

/** What each facility adds to the site, one facility at a time. */
async function* facilityParts(
  results: AsyncIterable<Result> | Iterable<Result>,
  {
    choiceOf,
    onFacility,
    legs,
  }: {
    choiceOf: (result: Result) => InputChoice;
    onFacility: (result: Result) => void;
    legs: readonly JourneyLeg[];
  },
): AsyncGenerator<{ result: Result; pages: Page[]; files: SiteFile[]; workbooks: SiteWorkbook[] }> {
  for await (const result of results) {
    onFacility(result);
    const { text, mark } = archived(result);
    const own = legs.filter(({ facility }) => facility === result.facility.id);
    const archive = { mark, inputs: choiceOf(result), journeys: own };
    const { pages, files, workbooks } = facilityPages(result, archive);
    const resultFile = { path: `${facilityFolder(result.facility.id)}/result.json`, text };
    yield { result, pages, files: [resultFile, ...files], workbooks };
  }
}

/** What a journey adds to the site. */
function journeyParts(
  result: JourneyResult,
  inputs: InputChoice,
  places: ReadPointPages,
): { pages: Page[]; files: SiteFile[] } {
  const { text, mark } = archived(result);
  const { pages, files } = journeyPages(result, {
    archive: { mark, inputs },
    readPointPage: (facility, readPoint) => places.pathOf(facility, readPoint),
  });
  return { pages, files: [{ path: `${journeyFolder(result.id)}/result.json`, text }, ...files] };
}

/** The text of result.json, and its SHA-256. */
function archived(result: Result | JourneyResult): { text: string; mark: string } {
  const text = `${JSON.stringify(result, null, 2)}\n`;
  return { text, mark: createHash("sha256").update(text).digest("hex") };
}

/** Where the read points of the facilities in the site have their pages. */
class ReadPointPages {
  readonly #paths = new Map<string, string>();

  add(result: Result): void {
    const paths = facilityPaths(result);
    for (const { id } of result.readPoints)
      this.#paths.set(keyOf(result.facility.id, id), paths.readPoint(id));
  }

  pathOf(facility: string, readPoint: string): string | null {
    return this.#paths.get(keyOf(facility, readPoint)) ?? null;
  }
}

const keyOf = (facility: string, readPoint: string) => JSON.stringify([facility, readPoint]);

/** Ids that differ only in capitals would share a folder on many disks. */
function refuseSharedFolder(id: string, folders: Map<string, string>, folder: string): void {
  const key = folder.toLowerCase();
  const other = folders.get(key);
  if (other !== undefined) {
    throw new OutputRefused(`"${other}" and "${id}" would share a folder of the site: rename one of them.`);
  }
  folders.set(key, id);
}

/** One after the other without waiting in between: most are small, and nothing else is left to do. */
function writeFiles(files: SiteFile[], folder: string): void {
  const folders = new Set(files.map(({ path }) => dirname(join(folder, path))));
  for (const one of folders) mkdirSync(one, { recursive: true });
  for (const { path, text } of files) writeFileSync(join(folder, path), text);
}

async function writeWorkbooks(workbooks: SiteWorkbook[], folder: string): Promise<void> {
  const { workbookBytes } = await import("./workbook-bytes.ts");
  for (const workbook of workbooks) {
    const path = join(folder, workbook.path);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, await workbookBytes(workbook));
  }
}

/** The engine passes over what it does not like without a word, so the pages are counted. */
function assertWritten(planned: string[], files: string[]): void {
  const written = new Set(files.filter((file) => file.endsWith(".html")));
  const missing = planned.filter((path) => !written.has(path));
  if (missing.length > 0 || written.size !== planned.length) {
    throw new Error(
      `${planned.length} pages were planned and ${written.size} written; missing: ${missing.slice(0, 5).join(", ")}`,
    );
  }
}
