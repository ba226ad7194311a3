import {
  counted,
  countedInWords,
  countText,
  decimalText,
  sentenceStart,
  thinSpace,
} from "../../model/number-words.ts";
import type { HeardSummary } from "../../model/result.ts";
import { codeCell, numberCell, textCell } from "../figure-view.ts";
import type { Link } from "../page.ts";
import { codeName } from "../words/labels.ts";
import type { HeardPart } from "./heard-part.ts";

const id = "heard-strays";
const title = "Codes heard uninvited";
/** More than this are left to the table as CSV. */
const mostStrays = 100;

/** Which codes were heard in passes that had not presented them, how often and how strongly. */
export function straysHeard({ strays }: HeardSummary, downloads: Link[]): HeardPart {
  if (strays.length === 0) {
    const sentence = "Within the passes nothing was heard but what they presented.";
    return { id, title, sentence, figure: null, table: null };
  }
  const shown = strays.slice(0, mostStrays);
  const rest = strays.length - shown.length;
  return {
    id,
    title,
    sentence: "",
    figure: null,
    table: {
      id: `${id}-figure`,
      caption: captionOf(strays),
      howToRead: `Codes heard in most passes come first. A bystander is a tag that the load names as not presented: placed near by on purpose; a stray is any other code. Below a code stands its pure identity, or its raw URI where it follows none of the GS1 schemes: most tags in the field do not.${rest > 0 ? ` ${counted(rest, "further code stands", "further codes stand")} in the table as CSV.` : ""}`,
      table: {
        caption: "Codes heard in passes that did not present them",
        columns: [
          { label: "Code", numeric: false },
          { label: "Heard as", numeric: false },
          { label: "Passes", numeric: true },
          { label: "Reads", numeric: true },
          { label: "Strongest, dBm", numeric: true },
        ],
        rows: shown.map(({ tag, uri, bystander, passes, reads, strongestDbm }) => [
          codeCell(tag, codeName(tag, uri)),
          textCell(bystander ? "bystander" : "stray"),
          numberCell(countText(passes)),
          numberCell(countText(reads)),
          numberCell(strongestDbm === null ? "not recorded" : decimalText(strongestDbm, 1)),
        ]),
      },
      downloads,
    },
  };
}

function captionOf(strays: HeardSummary["strays"]): string {
  const passes = strays.reduce((most, stray) => Math.max(most, stray.passes), 0);
  const levels = strays.flatMap(({ strongestDbm }) => (strongestDbm === null ? [] : [strongestDbm]));
  const strongest =
    levels.length === 0 ? "" : `, the strongest at ${decimalText(Math.max(...levels), 1)}${thinSpace}dBm`;
  const where =
    strays.length === 1
      ? `in ${counted(passes, "pass", "passes")}`
      : passes === 1
        ? "each in one pass"
        : `the most frequent in ${counted(passes, "pass", "passes")}`;
  const heard = countedInWords(strays.length, "code was", "codes were");
  return `${sentenceStart(heard)} heard in passes that had not presented ${strays.length === 1 ? "it" : "them"}${bystandersAmong(strays)}: ${where}${strongest}.`;
}

/** How many of them were placed on purpose; nothing where no bystander was heard. */
function bystandersAmong(strays: HeardSummary["strays"]): string {
  const placed = strays.filter(({ bystander }) => bystander).length;
  if (placed === 0) return "";
  if (placed < strays.length)
    return `, ${countedInWords(placed, "of them a bystander", "of them bystanders")}`;
  return placed === 1 ? ", a bystander" : ", all of them bystanders";
}
