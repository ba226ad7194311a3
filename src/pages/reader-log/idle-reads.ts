import { idleReadRate } from "../../measures/idle-read-rate.ts";
import { counted, countText } from "../../model/number-words.ts";
import type { HeardSummary, PassResult } from "../../model/result.ts";
import type { TableFiles } from "../parts/csv.ts";
import { figure } from "../parts/figure.ts";
import { minuteBarsPicture } from "../pictures/bars.ts";
import { minutesOf } from "../words/dates.ts";
import { rateSentence } from "../words/findings.ts";
import { inWords, type ReaderLogPart } from "./part.ts";
import { sessionOf } from "./session.ts";

const heading = { id: "heard-idle", title: idleReadRate.title };

/** Of a longer list the table as CSV holds the rest. */
const mostMinutes = 60;

type Idle = NonNullable<HeardSummary["idle"]>;

/** What was heard between the passes, minute by minute, and how many tags a minute that makes. */
export function idleReads(
  { idle, window }: HeardSummary,
  passes: PassResult[],
  files: TableFiles,
): ReaderLogPart {
  if (idle === null || idle.minutes <= 0) {
    return inWords(heading, "A pass was under way all the time, so nothing is known of the time between.");
  }
  const rate = rateSentence(idleReadRate, idle.rate);
  if (idle.heard.length === 0) return inWords(heading, rate);
  const session = sessionOf(passes, window, idle.heard);
  const caption = `${rate} ${busiest(idle, session.clock)}`;
  const each = session.step === 1 ? "a minute" : `${countText(session.step)} minutes`;
  return {
    ...heading,
    figure: figure({
      id: `${heading.id}-figure`,
      caption,
      howToRead: `Each bar stands for ${each} of the facility's clock in which something was heard although no pass was under way; a tag counts once in every minute that heard it. Where there is no bar nothing was heard. The marks below are the passes: what was heard in them is not counted here. The more the tags pile up in few minutes, the wider the interval.`,
      picture: () =>
        minuteBarsPicture({
          id: `${heading.id}-picture`,
          title: heading.title,
          description: caption,
          ...session,
        }),
      tableCaption:
        idle.heard.length > mostMinutes
          ? `The first ${mostMinutes} of ${countText(idle.heard.length)} minutes in which something was heard`
          : "Minutes in which something was heard",
      columns: [
        {
          header: "minute_utc",
          value: ({ minute }) => minute,
          label: "Minute",
          text: ({ minute }) => session.clock(minutesOf(minute) ?? 0),
        },
        {
          header: "tags",
          value: ({ tags }) => tags,
          label: "Tags",
          text: ({ tags }) => countText(tags),
          as: "strong number",
        },
        {
          header: "reads",
          value: ({ reads }) => reads,
          label: "Reads",
          text: ({ reads }) => countText(reads),
          as: "number",
        },
      ],
      rows: idle.heard,
      mostRows: mostMinutes,
      file: files(heading.id, "minutes in which something was heard with nothing presented."),
    }),
  };
}

function busiest({ heard }: Idle, clock: (minute: number) => string): string {
  const most = heard.reduce((best, one) =>
    one.tags > best.tags || (one.tags === best.tags && one.reads > best.reads) ? one : best,
  );
  const minute = `${clock(minutesOf(most.minute) ?? 0)} with ${counted(most.tags, "tag", "tags")} in ${counted(most.reads, "read", "reads")}`;
  return heard.length === 1
    ? `All of it in one minute, ${minute}.`
    : `Something was heard in ${countText(heard.length)} minutes, most at ${minute}.`;
}
