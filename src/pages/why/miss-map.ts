import type { Why } from "../../model/diagnosis/why.ts";
import { counted, countText, nonEmpty } from "../../model/number-words.ts";
import { type CsvTable, csvTable, type TableFiles } from "../parts/csv.ts";
import type { Link, PageContext } from "../parts/page.ts";
import { countOf } from "../parts/rate-columns.ts";
import { missMapPicture, shortLabels } from "../pictures/miss-map.ts";

type MissMap = NonNullable<Why["map"]>;

export interface MapView {
  caption: string;
  /** SVG. */
  picture: string;
  leftOut: string;
  /** The tags missed at least once. */
  rows: { anchor: string; tag: string; missed: string; passes: string }[];
  /** Where not all of them are listed; else empty. */
  rest: string;
  /** The passes with misses, with how many. */
  passes: { link: Link; missed: string }[];
  downloads: Link[];
}

const mostRows = 100;
const mostPasses = 24;

const words: Record<string, string> = { r: "read", m: "missed", ".": "not presented" };

/** Every cell of the map. */
export function mapFile({ tags, passes, cells }: MissMap, files: TableFiles): CsvTable {
  const rows = tags.flatMap((tag, row) =>
    passes.map((pass, column) => ({ tag, pass, outcome: words[cells[row]![column]!] ?? "not presented" })),
  );
  return csvTable(
    files("why-map", "every tag of the miss map in every pass."),
    [
      { header: "tag", value: ({ tag }) => tag },
      { header: "pass", value: ({ pass }) => pass },
      { header: "outcome", value: ({ outcome }) => outcome },
    ],
    rows,
  );
}

/** The table of a map, what of it stands out, and where a pass leads to. */
interface BesideMap {
  file: CsvTable;
  hrefOfPass: (pass: string) => string;
  standingOut: Why["standingOut"];
}

export function mapView(
  map: MissMap,
  here: PageContext,
  { file, hrefOfPass, standingOut }: BesideMap,
): MapView {
  const { tags, passes, cells, leftOut } = map;
  const strong = {
    tags: new Set(standingOut?.tags.map(({ id }) => id)),
    passes: new Set(standingOut?.passes.map(({ id }) => id)),
  };
  const labels = shortLabels(tags);
  const rows = tags.map((tag, index) => {
    const missedIn = passes.filter((_, column) => cells[index]![column] === "m");
    const presented = cells[index]!.replaceAll(".", "").length;
    return {
      tag,
      label: labels[index]!,
      missedIn,
      missed: missedIn.length,
      presented,
      anchor: `tag-${index + 1}`,
    };
  });
  const missed = rows.filter((row) => row.missed > 0);
  const anchored = new Set(missed.slice(0, mostRows));
  const caption = captionOf(rows, passes.length);
  return {
    caption,
    picture: missMapPicture({
      id: "map-picture",
      title: "Tags by passes",
      description: caption,
      rows: rows.map((row) => ({
        ...row,
        href: anchored.has(row) ? `#${row.anchor}` : "",
        isStrong: strong.tags.has(row.tag),
      })),
      columns: passes.map((pass) => ({
        label: pass,
        href: hrefOfPass(pass),
        isStrong: strong.passes.has(pass),
      })),
      cells,
    }),
    leftOut: leftOutSentence(leftOut),
    rows: [...anchored].map(({ anchor, tag, missed: k, presented: n, missedIn }) => ({
      anchor,
      tag,
      missed: countOf({ k, n }),
      passes:
        missedIn.slice(0, mostPasses).join(", ") +
        (missedIn.length > mostPasses ? ` and ${countText(missedIn.length - mostPasses)} more` : ""),
    })),
    rest:
      missed.length > mostRows
        ? `${counted(missed.length - mostRows, "further tag was", "further tags were")} missed less often; the CSV table has all of them.`
        : "",
    passes: passes.flatMap((pass, column) => {
      const count = cells.filter((row) => row[column] === "m").length;
      return count === 0 ? [] : [{ link: { label: pass, href: hrefOfPass(pass) }, missed: countText(count) }];
    }),
    downloads: [here.tableLink(file.name)],
  };
}

function captionOf(rows: { missed: number; missedIn: string[] }[], passes: number): string {
  const misses = rows.reduce((sum, { missed }) => sum + missed, 0);
  const tags = rows.filter(({ missed }) => missed > 0).length;
  const inPasses = new Set(rows.flatMap(({ missedIn }) => missedIn)).size;
  return misses === 0
    ? `None of ${counted(rows.length, "tag", "tags")} was missed in ${counted(passes, "pass", "passes")}.`
    : `${counted(misses, "miss", "misses")} on ${countText(tags)} of ${counted(rows.length, "tag", "tags")}, in ${countText(inPasses)} of ${counted(passes, "pass", "passes")}.`;
}

function leftOutSentence({ tags, passes }: MissMap["leftOut"]): string {
  const parts = nonEmpty([
    tags === 0 ? "" : counted(tags, "tag", "tags"),
    passes === 0 ? "" : counted(passes, "pass", "passes"),
  ]);
  return parts.length === 0 ? "" : `Left out: ${parts.join(" and ")}, those without misses first.`;
}
