import type { DwellPass, TimeToAnswer, Why } from "../../model/diagnosis/why.ts";
import {
  counted,
  countText,
  decimalText,
  joined,
  statedNumber,
  thinSpace,
} from "../../model/number-words.ts";
import { countColumn, decimalColumn, statedColumn, textColumn } from "../parts/columns.ts";
import { type Section, tableFigure } from "../parts/figure.ts";
import type { WhyContext } from "./why-context.ts";

const mostNamed = 8;

/** Whether tags were in the zone long enough to answer. */
export function timeToAnswer(found: Why["timeToAnswer"], { files }: WhyContext): Section | null {
  if (found === undefined) return null;
  return {
    id: "time-to-answer",
    title: "Time to answer",
    sentences: [dwellSentence(found), achievedSentence(found), shortSentence(found)].filter(
      (sentence) => sentence !== "",
    ),
    tables: found.tooShort.length === 0 ? [] : [shortTable(found.tooShort, files)],
  };
}

const seconds = (value: number) => `${decimalText(value, 2)}${thinSpace}s`;
/** Needed rates are rounded up and achieved ones down: against the claim that there was time. */
const up = (value: number) => countText(Math.ceil(value - 1e-9));
const down = (value: number) => countText(Math.floor(value + 1e-9));

function dwellSentence({ zoneM, dwellS, neededTagsPerS, passes, withoutSpeed }: TimeToAnswer): string {
  const unknown =
    withoutSpeed === 0
      ? ""
      : ` Of ${counted(withoutSpeed, "further pass", "further passes")} the speed is not known.`;
  return `In a zone of ${statedNumber(zoneM)}${thinSpace}m a tag had ${seconds(dwellS.min)} to ${seconds(dwellS.max)} to answer (${counted(passes, "pass", "passes")}). If all tags of a pass come at once, up to ${up(neededTagsPerS.max)} tags a second must be read, ${up(neededTagsPerS.median)} in the median pass.${unknown}`;
}

function achievedSentence({ achieved, behind }: TimeToAnswer): string {
  if (achieved === null) return "";
  const late =
    behind.length === 0
      ? ""
      : ` In ${counted(behind.length, "pass", "passes")} with misses it shows fewer than that pass needed: ${named(behind)}.`;
  return `The reader's log shows ${down(achieved.medianTagsPerS)} new tags a second in the median pass and ${down(achieved.bestTagsPerS)} in the best, from the first new tag to the last. The reader may do better: a tag that is not there yet cannot answer.${late}`;
}

function shortSentence({ tooShort, yardstickTagsPerS, basis }: TimeToAnswer): string {
  const whose = {
    stated: "the rate that is stated for it",
    usual: "what a fixed reader usually manages at best: common practice, no source",
    log: "the best that its log shows",
  }[basis];
  const can = `${down(yardstickTagsPerS)} tags a second (${whose})`;
  return tooShort.length === 0
    ? `No pass needed more than ${can}.`
    : `${counted(tooShort.length, "pass", "passes")} needed more than ${can}: ${named(tooShort.map(({ pass }) => pass))}.`;
}

function named(passes: string[]): string {
  const more = passes.length - mostNamed;
  return more > 0 ? `${passes.slice(0, mostNamed).join(", ")} and ${more} more` : joined(passes);
}

function shortTable(rows: DwellPass[], files: WhyContext["files"]) {
  return tableFigure<DwellPass>({
    id: "short-dwell",
    caption: "Passes in which tags had too little time to answer.",
    howToRead: "Time: zone length over speed. Needed: the pass's tags over that time.",
    columns: [
      textColumn({ header: "pass", label: "Pass" }, ({ pass }) => pass),
      statedColumn({ header: "speed_m_s", label: "Speed, m/s" }, ({ speedMPerS }) => speedMPerS),
      countColumn({ header: "tags", label: "Tags" }, ({ tags }) => tags),
      countColumn({ header: "missed", label: "Missed" }, ({ missed }) => missed),
      decimalColumn({ header: "dwell_s", label: "Time, s", digits: 2 }, ({ dwellS }) => dwellS),
      {
        header: "needed_tags_per_s",
        value: ({ neededTagsPerS }) => neededTagsPerS,
        label: "Needed, tags/s",
        text: ({ neededTagsPerS }) => up(neededTagsPerS),
        as: "strong number",
      },
      {
        header: "achieved_tags_per_s",
        value: ({ achievedTagsPerS }) => achievedTagsPerS,
        label: "In the log, tags/s",
        text: ({ achievedTagsPerS }) => (achievedTagsPerS === null ? "not known" : down(achievedTagsPerS)),
        as: "number",
      },
    ],
    rows,
    tableCaption: "Passes with too little time",
    mostRows: 8,
    file: files("why-time-to-answer", "passes in which tags had too little time to answer."),
  });
}
