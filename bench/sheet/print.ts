import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";
import type { Browser } from "playwright-core";
import type { Result } from "../../src/model/result/result.ts";
import { facilityContext, type Page, pagesOf } from "../../src/pages/parts/page.ts";
import { signOffSheetPage } from "../../src/pages/sheet/sign-off-sheet.ts";
import { copyAssets } from "../../src/site/assets.ts";
import { templateEnvironment } from "../../src/site/engine/template-environment.ts";
import { facilityOfLength } from "./lengths.ts";

const paperFormats = ["A4", "Letter"] as const;

/** Millimetres. The margin is that of the style sheet, and the reserve what it keeps free at the end. */
const margin = 16;
const reserve = 4;
/** A page with fewer lines than these has strayed from the one before. */
const fewestLines = 4;

/** What is wrong with the print of one sheet; and how many pages it has. */
interface Print {
  pages: number;
  faults: string[];
}

/** The lines of a page in its content, from the top: how far above the edge of the paper they stand, in millimetres. */
interface PrintedPage {
  lines: { text: string; above: number }[];
}

interface SheetBench {
  seeds: number;
  prints: number;
  /** Prints of usual facilities, and those of them that take more than two pages. */
  usual: number;
  usualOverTwo: string[];
  /** Seed, format and what is wrong. */
  faults: string[];
  /** How many prints have how many pages. */
  byPages: Map<number, number>;
}

/** The sheet alone: other pages say more of a facility than an invented one holds. */
function sheetOf(result: Result): Page {
  const context = facilityContext(result, { mark: "0123456789abcdef".repeat(4), inputs: "all" });
  const { facility, report, signOffRound } = result;
  const { pages } = pagesOf([signOffSheetPage], context, {
    about: "facility",
    name: facility.name,
    client: facility.client,
    report,
    round: context.names.datedRound(signOffRound),
    readPoints: [],
  });
  return pages[0]!;
}

/** Prints a sheet of each seed in both formats and looks at every page. */
export async function benchSheets(
  browser: Browser,
  { folder, bases, seeds }: { folder: string; bases: readonly Result[]; seeds: number[] },
): Promise<SheetBench> {
  const engine = templateEnvironment();
  mkdirSync(join(folder, "sheets"), { recursive: true });
  copyAssets(folder);
  const page = await browser.newPage();
  const bench: SheetBench = {
    ...{ seeds: seeds.length, prints: 0, usual: 0, usualOverTwo: [], faults: [] },
    byPages: new Map(),
  };
  for (const seed of seeds) {
    const { result, isUsual } = facilityOfLength(bases, seed);
    const file = join(folder, "sheets", "sheet.html");
    writeFileSync(file, engine.render("pages/sign-off-sheet.njk", { view: sheetOf(result).view }));
    await page.goto(pathToFileURL(file).href);
    for (const format of paperFormats) {
      const { pages, faults } = await lookAt(await page.pdf({ format, preferCSSPageSize: false }));
      bench.prints += 1;
      bench.byPages.set(pages, (bench.byPages.get(pages) ?? 0) + 1);
      if (isUsual) bench.usual += 1;
      if (isUsual && pages > 2) bench.usualOverTwo.push(`seed ${seed}, ${format}: ${pages} pages`);
      bench.faults.push(...faults.map((fault) => `seed ${seed}, ${format}: ${fault}`));
    }
  }
  await page.close();
  return bench;
}

async function lookAt(pdf: Uint8Array): Promise<Print> {
  const pages = await printedPages(pdf);
  const faults = pages.flatMap(({ lines }, i) =>
    lines.length < fewestLines ? [`page ${i + 1} of ${pages.length} holds ${lines.length} lines`] : [],
  );
  const last = pages.at(-1)?.lines.at(-1);
  if (last === undefined || !last.text.startsWith("End of the sheet")) faults.push("the end is missing");
  else if (last.above < margin + reserve)
    faults.push(`the end stands ${last.above.toFixed(1)} mm above the edge`);
  const signing = pages.filter(({ lines }) => lines.some(({ text }) => text.includes("Signature")));
  if (signing.length !== 1 || !signing[0]!.lines.some(({ text }) => text === "Signing"))
    faults.push("the signatures are not on one page");
  return { pages: pages.length, faults };
}

const millimetresPerPoint = 25.4 / 72;

/** The running head, the numbers of the pages and what else stands in the margins are left out. */
async function printedPages(pdf: Uint8Array): Promise<PrintedPage[]> {
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
  const pages: PrintedPage[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    const height = page.getViewport({ scale: 1 }).height * millimetresPerPoint;
    const { items } = await page.getTextContent();
    const byHeight = new Map<number, string>();
    for (const item of items) {
      if (!("str" in item) || item.str.trim() === "") continue;
      const above = Math.round(item.transform[5] * millimetresPerPoint * 10) / 10;
      if (above < margin || above > height - margin) continue;
      byHeight.set(above, `${byHeight.get(above) ?? ""}${item.str}`);
    }
    const lines = [...byHeight].map(([above, text]) => ({ above, text })).sort((a, b) => b.above - a.above);
    pages.push({ lines: lines.slice(1) });
  }
  return pages;
}
