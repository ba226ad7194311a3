import { max } from "simple-statistics";
import { counted, countedInWords, sentenceStart } from "../../model/number-words.ts";
import type { HeardSummary } from "../../model/result/heard.ts";
import { codeColumns, countColumn, strongestColumn, yesOrNo } from "../parts/columns.ts";
import type { TableFiles } from "../parts/csv.ts";
import { type Section, tableFigure } from "../parts/figure.ts";
import { levelText } from "../words/figures.ts";

const heading = { id: "heard-strays", title: "Unexpected tags" };

/** The CSV table has the rest. */
const mostStrays = 100;

/** The codes that were read in passes that did not present them, how often and how strongly. */
export function unexpectedTags({ strays }: HeardSummary, files: TableFiles): Section {
  if (strays.length === 0) return { ...heading, sentences: ["No unexpected tag was read in the passes."] };
  const rest = strays.length - mostStrays;
  return {
    ...heading,
    tables: [
      tableFigure<HeardSummary["strays"][number]>({
        id: `${heading.id}-figure`,
        caption: captionOf(strays),
        howToRead: `Codes read in most passes come first. A bystander is a tag that the load lists as not presented, placed near by on purpose; a stray is any other code. The line below a code is its pure identity, or its raw URI if it follows no GS1 scheme, as is the case with most tags in the field.${rest > 0 ? ` ${counted(rest, "further code is", "further codes are")} in the CSV table.` : ""}`,
        tableCaption: "Codes read in passes that did not present them",
        columns: [
          ...codeColumns<HeardSummary["strays"][number]>(),
          {
            header: "bystander",
            value: ({ bystander }) => yesOrNo(bystander),
            label: "Read as",
            text: ({ bystander }) => (bystander ? "bystander" : "stray"),
          },
          countColumn({ header: "passes", label: "Passes" }, ({ passes }) => passes),
          countColumn({ header: "reads", label: "Reads" }, ({ reads }) => reads),
          strongestColumn(),
        ],
        rows: strays,
        mostRows: mostStrays,
        file: files(heading.id, "codes read in passes that did not present them."),
      }),
    ],
  };
}

function captionOf(strays: HeardSummary["strays"]): string {
  const passes = strays.reduce((most, stray) => Math.max(most, stray.passes), 0);
  const levels = strays.flatMap(({ strongestDbm }) => (strongestDbm === null ? [] : [strongestDbm]));
  const strongest = levels.length === 0 ? "" : `, the strongest at ${levelText(max(levels))}`;
  const where =
    strays.length === 1
      ? `in ${counted(passes, "pass", "passes")}`
      : passes === 1
        ? "each in one pass"
        : `the most frequent in ${counted(passes, "pass", "passes")}`;
  const heard = countedInWords(strays.length, "code was", "codes were");
  return `${sentenceStart(heard)} read in passes that did not present ${strays.length === 1 ? "it" : "them"}${bystandersAmong(strays)}: ${where}${strongest}.`;
}

/** How many of them are bystanders; empty where none is. */
function bystandersAmong(strays: HeardSummary["strays"]): string {
  const placed = strays.filter(({ bystander }) => bystander).length;
  if (placed === 0) return "";
  if (placed < strays.length)
    return `, ${countedInWords(placed, "of them a bystander", "of them bystanders")}`;
  return placed === 1 ? ", a bystander" : ", all of them bystanders";
}
