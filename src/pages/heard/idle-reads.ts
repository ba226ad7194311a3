import { idleReadRate } from "../../measures/idle-read-rate.ts";
import { counted, countText } from "../../model/number-words.ts";
import type { HeardSummary, PassResult } from "../../model/result.ts";
import { numberCell, textCell } from "../figure-view.ts";
import type { Link } from "../page.ts";
import { minuteBarsPicture } from "../pictures/bars.ts";
import { minutesOf } from "../words/dates.ts";
import { rateSentence } from "../words/findings.ts";
import type { HeardPart } from "./heard-part.ts";
import { sessionOf } from "./session.ts";

const id = "heard-idle";
const { title } = idleReadRate;
/** Of a longer list the table as CSV holds the rest. */
const mostMinutes = 60;

type Idle = NonNullable<HeardSummary["idle"]>;

/** What was heard between the passes, minute by minute, and how many tags a minute that makes. */
export function idleReads(
  { idle, window }: HeardSummary,
  passes: PassResult[],
  downloads: Link[],
): HeardPart {
  if (idle === null || idle.minutes <= 0) {
    const sentence = "A pass was under way all the time, so nothing is known of the time between.";
    return { id, title, sentence, figure: null, table: null };
  }
  const rate = rateSentence(idleReadRate, idle.rate);
  if (idle.heard.length === 0) return { id, title, sentence: rate, figure: null, table: null };
  const session = sessionOf(passes, window, idle.heard);
  const caption = `${rate} ${busiest(idle, session.clock)}`;
  const each = session.step === 1 ? "minute" : `${countText(session.step)} minutes`;
  return {
    id,
    title,
    sentence: "",
    figure: {
      id: `${id}-figure`,
      caption,
      howToRead: `Each bar stands for ${session.step === 1 ? "a minute" : each} of the facility's clock in which something was heard although no pass was under way; a tag counts once in every minute that heard it. Where there is no bar nothing was heard. The marks below are the passes: what was heard in them is not counted here. The more the tags pile up in few minutes, the wider the interval.`,
      picture: minuteBarsPicture({ id: `${id}-picture`, title, description: caption, ...session }),
      table: {
        caption:
          idle.heard.length > mostMinutes
            ? `The first ${mostMinutes} of ${countText(idle.heard.length)} minutes in which something was heard`
            : "Minutes in which something was heard",
        columns: [
          { label: "Minute", numeric: false },
          { label: "Tags", numeric: true },
          { label: "Reads", numeric: true },
        ],
        rows: idle.heard
          .slice(0, mostMinutes)
          .map(({ minute, tags, reads }) => [
            textCell(session.clock(minutesOf(minute) ?? 0)),
            numberCell(countText(tags), true),
            numberCell(countText(reads)),
          ]),
      },
      downloads,
    },
    table: null,
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
