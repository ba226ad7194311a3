import { createHash } from "node:crypto";
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import type { JourneyResult } from "../model/journey/journey-result.ts";
import type { Result } from "../model/result/result.ts";
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
import {
  type Archive,
  type InputsKept,
  inputChoice,
  type JourneyLeg,
  journeyInputs,
  keptInputs,
} from "../pages/parts/archive.ts";
import type { Page, SiteFile } from "../pages/parts/page.ts";
import { facilityFolder, facilityPaths } from "../pages/parts/paths.ts";
import type { SiteWorkbook } from "../pages/parts/workbook.ts";
import { copyAssets } from "./assets.ts";
import { copyInputs, type InputsPlace } from "./copy-inputs.ts";
import { pageRenderer } from "./engine/render-pages.ts";
import { writeContents } from "./output/contents-list.ts";
import { OutputRefused } from "./output/output-place.ts";
import { siteFileName, siteFileText } from "./output/own-site.ts";
import { swapIn } from "./output/swap-in.ts";
import { madeWithName, madeWithText } from "./package/made-with.ts";

/** Facilities rendered in one run of the engine: enough to spread its start, few enough to hold in memory. */
const batchSize = 8;

export interface SiteSummary {
  facilities: number;
  pages: number;
  files: number;
}

/** What a site is written from besides the results. */
export interface SiteOptions {
  /** Where the input files of a facility lie. */
  inputsOf?: (facility: string) => InputsPlace;
  /** Which of them the site holds; null leaves it to each facility. */
  inputs?: InputsKept | null;
  /** Whether it is part of a seal, which holds nothing that differs from one machine to the next. */
  isSealed?: boolean;
  onFacility?: (result: Result) => void;
  journeys?: SiteJourneys;
}

/** The journeys that a site holds besides. */
interface SiteJourneys {
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
  { inputsOf, inputs = null, isSealed = false, onFacility = () => {}, journeys }: SiteOptions = {},
): Promise<SiteSummary> {
  const archiveOf = (result: Result, mark: string): Archive => ({
    mark,
    inputs: inputs === "beside" ? inputs : inputsOf === undefined ? "none" : inputChoice(result, inputs),
    isSealed,
    journeys: (journeys?.legs ?? []).filter(({ facility }) => facility === result.facility.id),
  });
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
      facilityParts(results, archiveOf, onFacility),
    )) {
      refuseSharedFolder(result.facility.id, folders, facilityFolder(result.facility.id));
      const choice = archiveOf(result, "").inputs;
      const kept = keptInputs(result, choice);
      if (inputsOf !== undefined && choice !== "beside" && kept.length > 0) {
        const { id } = result.facility;
        const from = inputsOf(id);
        const to = join(folder, facilityFolder(id), "inputs");
        await copyInputs(id, kept, { from: from.own, to });
        await copyInputs(id, journeyInputs(result), { from: from.journeys, to });
      }
      await writeCopies(result, inputsOf, folder);
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
      const choice = inputs === "beside" ? inputs : inputChoice(result, inputs);
      const kept = keptInputs(result, choice);
      if (journeys !== undefined && kept.length > 0)
        await copyInputs(result.id, kept, {
          from: journeys.inputsFrom,
          to: join(folder, journeyFolder(result.id), "inputs"),
        });
      const { pages, files } = journeyParts(result, { inputs: choice, isSealed }, places);
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
    if (!isSealed) writeFiles([{ path: madeWithName, text: madeWithText() }], folder);
    assertWritten(planned, files);
    summary.files = files.length + (isSealed ? 1 : 2);
    summary.facilities = entries.length;
    summary.pages = planned.length;
  });
  return summary;
}

/** The archived result as a file. */
export function resultText(result: Result | JourneyResult): string {
  return `${JSON.stringify(result, null, 2)}\n`;
}

/** The SHA-256 of that file, whole. */
export function evidenceMark(text: string | Uint8Array): string {
  return createHash("sha256").update(text).digest("hex");
}

/** What each facility adds to the site, one facility at a time. */
async function* facilityParts(
  results: AsyncIterable<Result> | Iterable<Result>,
  archiveOf: (result: Result, mark: string) => Archive,
  onFacility: (result: Result) => void,
): AsyncGenerator<{ result: Result; pages: Page[]; files: SiteFile[]; workbooks: SiteWorkbook[] }> {
  for await (const result of results) {
    onFacility(result);
    const text = resultText(result);
    const { pages, files, workbooks } = facilityPages(result, archiveOf(result, evidenceMark(text)));
    const resultFile = { path: `${facilityFolder(result.facility.id)}/result.json`, text };
    yield { result, pages, files: [resultFile, ...files], workbooks };
  }
}

/** What a journey adds to the site. */
function journeyParts(
  result: JourneyResult,
  archive: Omit<Archive, "mark">,
  places: ReadPointPages,
): { pages: Page[]; files: SiteFile[] } {
  const text = resultText(result);
  const { pages, files } = journeyPages(result, {
    archive: { ...archive, mark: evidenceMark(text) },
    readPointPage: (facility, readPoint) => places.pathOf(facility, readPoint),
  });
  return { pages, files: [{ path: `${journeyFolder(result.id)}/result.json`, text }, ...files] };
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

/** The codecs are loaded only where there are pictures. */
async function writeCopies(result: Result, inputsOf: SiteOptions["inputsOf"], site: string): Promise<void> {
  if (!result.inputs.some(({ picture }) => picture !== undefined)) return;
  if (inputsOf === undefined) throw new Error("A facility with pictures needs the folder of its inputs.");
  const { CopyRefused, writePictures } = await import("./pictures/copies.ts");
  await writePictures(result, { from: inputsOf(result.facility.id).own, site }).catch((fault: unknown) => {
    throw fault instanceof CopyRefused ? new OutputRefused(fault.message) : fault;
  });
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
