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
import { type PageRenderer, pageRenderer } from "./engine/render-pages.ts";
import { writeContents } from "./output/contents-list.ts";
import { OutputRefused } from "./output/output-place.ts";
import { siteFileName, siteFileText } from "./output/own-site.ts";
import { swapIn } from "./output/swap-in.ts";
import { madeWithName, madeWithText } from "./package/made-with.ts";

/** Facilities and journeys rendered in one run of the engine: enough to spread its start, few enough to hold in memory. */
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
  options: SiteOptions = {},
): Promise<SiteSummary> {
  let summary: SiteSummary = { facilities: 0, pages: 0, files: 0 };
  await swapIn(out, async ({ folder, interruptible }) => {
    const site = new SiteFolder(folder, options);
    for await (const result of interruptible(results)) await site.addFacility(result);
    for await (const result of interruptible(options.journeys?.results() ?? []))
      await site.addJourney(result);
    summary = await site.finish();
  });
  return summary;
}

/** A site that grows by a facility or a journey at a time. */
class SiteFolder {
  readonly #folder: string;
  readonly #options: SiteOptions;
  readonly #renderPages: PageRenderer;
  readonly #facilities: IndexEntry[] = [];
  readonly #journeys: JourneyEntry[] = [];
  /** Whose folder is whose, by its name in small letters. */
  readonly #folders = new Map<string, string>();
  readonly #readPointPages = new ReadPointPages();
  readonly #planned: string[] = [];
  /** The pages of facilities and journeys that are not rendered yet. */
  #waiting: Page[][] = [];

  constructor(folder: string, options: SiteOptions) {
    this.#folder = folder;
    this.#options = options;
    this.#renderPages = pageRenderer(folder);
  }

  async addFacility(result: Result): Promise<void> {
    const { inputs = null, inputsOf, isSealed = false, journeys, onFacility } = this.#options;
    onFacility?.(result);
    const { id } = result.facility;
    const own = facilityFolder(id);
    this.#claim(own, id);
    const held = inputs === "beside" ? inputs : inputsOf === undefined ? "none" : inputChoice(result, inputs);
    const text = resultText(result);
    const { pages, files, workbooks } = facilityPages(result, {
      mark: evidenceMark(text),
      inputs: held,
      isSealed,
      journeys: (journeys?.legs ?? []).filter(({ facility }) => facility === id),
    });
    const kept = keptInputs(result, held);
    if (inputsOf !== undefined && held !== "beside" && kept.length > 0) {
      const from = inputsOf(id);
      const to = join(this.#folder, own, "inputs");
      await copyInputs(id, kept, { from: from.own, to });
      await copyInputs(id, journeyInputs(result), { from: from.journeys, to });
    }
    await writeCopies(result, inputsOf, this.#folder);
    writeFiles([{ path: `${own}/result.json`, text }, ...files], this.#folder);
    if (workbooks.length > 0) await writeWorkbooks(workbooks, this.#folder);
    this.#facilities.push(indexEntry(result));
    this.#readPointPages.add(result);
    await this.#render(pages);
  }

  async addJourney(result: JourneyResult): Promise<void> {
    const { inputs = null, isSealed = false, journeys } = this.#options;
    journeys?.onJourney?.(result);
    const own = journeyFolder(result.id);
    this.#claim(own, result.id);
    const held = inputs === "beside" ? inputs : inputChoice(result, inputs);
    const text = resultText(result);
    const { pages, files } = journeyPages(result, {
      archive: { mark: evidenceMark(text), inputs: held, isSealed },
      readPointPage: (facility, readPoint) => this.#readPointPages.pathOf(facility, readPoint),
    });
    if (journeys !== undefined)
      await copyInputs(result.id, keptInputs(result, held), {
        from: journeys.inputsFrom,
        to: join(this.#folder, own, "inputs"),
      });
    writeFiles([{ path: `${own}/result.json`, text }, ...files], this.#folder);
    this.#journeys.push(journeyEntry(result));
    await this.#render(pages);
  }

  /** Writes what all of them share. */
  async finish(): Promise<SiteSummary> {
    const { isSealed = false } = this.#options;
    this.#waiting.push([indexPage(this.#facilities, this.#journeys)]);
    await this.#renderWaiting();
    copyAssets(this.#folder);
    writeFiles([{ path: siteFileName, text: siteFileText }], this.#folder);
    const files = writeContents(this.#folder);
    if (!isSealed) writeFiles([{ path: madeWithName, text: madeWithText() }], this.#folder);
    assertWritten(this.#planned, files);
    return {
      facilities: this.#facilities.length,
      pages: this.#planned.length,
      files: files.length + (isSealed ? 1 : 2),
    };
  }

  /** Ids that differ only in capitals would share a folder on many disks. */
  #claim(folder: string, id: string): void {
    const key = folder.toLowerCase();
    const other = this.#folders.get(key);
    if (other !== undefined)
      throw new OutputRefused(`"${other}" and "${id}" would share a folder of the site: rename one of them.`);
    this.#folders.set(key, id);
  }

  async #render(pages: Page[]): Promise<void> {
    this.#waiting.push(pages);
    if (this.#waiting.length === batchSize) await this.#renderWaiting();
  }

  async #renderWaiting(): Promise<void> {
    const pages = this.#waiting.flat();
    this.#waiting = [];
    await this.#renderPages(pages);
    this.#planned.push(...pages.map(({ path }) => path));
  }
}

/** The archived result as a file. */
export function resultText(result: Result | JourneyResult): string {
  return `${JSON.stringify(result, null, 2)}\n`;
}

/** The SHA-256 of that file, whole. */
export function evidenceMark(text: string | Uint8Array): string {
  return createHash("sha256").update(text).digest("hex");
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
