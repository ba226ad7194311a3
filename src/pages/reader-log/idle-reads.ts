import { idleReadRate } from "../../measures/idle-read-rate.ts";
import { counted, countText } from "../../model/number-words.ts";
import type { HeardSummary } from "../../model/result/heard.ts";
import type { PassResult } from "../../model/result/pass.ts";
import { countColumn } from "../parts/columns.ts";
import type { TableFiles } from "../parts/csv.ts";
import { figure, type Section } from "../parts/figure.ts";
import { type MinuteBars, minuteBarsPicture } from "../pictures/bars.ts";
import { clockOf, dateText, minutesOf } from "../words/dates.ts";
import { rateSentence } from "../words/findings.ts";

const heading = { id: "heard-idle", title: idleReadRate.title };

/** The CSV table has the rest of a longer list. */
const mostMinutes = 60;

type Idle = NonNullable<HeardSummary["idle"]>;

/** The tags read between the passes, minute by minute, and their rate. */
export function idleReads({ idle, window }: HeardSummary, passes: PassResult[], files: TableFiles): Section {
  if (idle === null || idle.minutes <= 0) {
    return { ...heading, sentences: ["There was no idle time between the passes."] };
  }
  const rate = rateSentence(idleReadRate, idle.rate);
  if (idle.heard.length === 0) return { ...heading, sentences: [rate] };
  const session = sessionOf(passes, window, idle.heard);
  const caption = `${rate} ${busiest(idle, session.clock)}`;
  const each = session.step === 1 ? "a minute" : `${countText(session.step)} minutes`;
  return {
    ...heading,
    figure: figure<Idle["heard"][number]>({
      id: `${heading.id}-figure`,
      caption,
      howToRead: `Each bar stands for ${each} of the facility's clock in which tags were read although no pass was under way; a tag counts once in every minute in which it was read. Where there is no bar, no tag was read. The marks below are the passes: reads in a pass are not counted here. The more the tags are concentrated in a few minutes, the wider the interval.`,
      picture: () =>
        minuteBarsPicture({
          id: `${heading.id}-picture`,
          title: heading.title,
          description: caption,
          ...session,
        }),
      tableCaption:
        idle.heard.length > mostMinutes
          ? `The first ${mostMinutes} of ${countText(idle.heard.length)} minutes with reads`
          : "Minutes with reads",
      columns: [
        {
          header: "minute_utc",
          value: ({ minute }) => minute,
          label: "Minute",
          text: ({ minute }) => session.clock(minutesOf(minute) ?? 0),
        },
        countColumn({ header: "tags", label: "Tags", as: "strong number" }, ({ tags }) => tags),
        countColumn({ header: "reads", label: "Reads" }, ({ reads }) => reads),
      ],
      rows: idle.heard,
      mostRows: mostMinutes,
      file: files(heading.id, "minutes with idle reads."),
    }),
  };
}

function busiest({ heard }: Idle, clock: (minute: number) => string): string {
  const most = heard.reduce((best, one) =>
    one.tags > best.tags || (one.tags === best.tags && one.reads > best.reads) ? one : best,
  );
  const minute = `${clock(minutesOf(most.minute) ?? 0)} with ${counted(most.tags, "tag", "tags")} in ${counted(most.reads, "read", "reads")}`;
  return heard.length === 1
    ? `All of them in one minute, ${minute}.`
    : `There were reads in ${countText(heard.length)} minutes, most at ${minute}.`;
}

/** A session laid out in minutes of the facility's clock. */
interface Session extends Omit<MinuteBars, "id" | "title" | "description"> {
  /** `09:31`, with the date before it where the session has more than one day; takes UTC minutes. */
  clock: (minute: number) => string;
}

const steps = [1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 1440, 10080];
const tickSteps = [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880, 10080, 43200];
const mostBars = 240;
const mostTicks = 8;

/** From the opening of the first timed pass's window to the closing of the last one's. */
export function sessionOf(
  passes: PassResult[],
  window: HeardSummary["window"],
  heard: Idle["heard"],
): Session {
  const timed = passes.filter(({ readsFrom }) => readsFrom === "reader-log");
  const localOf = localClock(timed);
  const windows = passWindows(timed, window, localOf);
  const minutes = heard.map(({ minute, tags }) => ({ from: localOf(minutesOf(minute) ?? 0), tags }));
  const starts = [...windows, ...minutes].map(({ from }) => from);
  const ends = [...windows.map(({ to }) => to), ...minutes.map(({ from }) => from + 1)];
  const least = Math.floor(starts.reduce((low, start) => Math.min(low, start)));
  const most = Math.ceil(ends.reduce((high, end) => Math.max(high, end)));
  const step = steps.find((size) => (most - least) / size <= mostBars) ?? 43200;
  const from = Math.floor(least / step) * step;
  const to = Math.max(from + step, Math.ceil(most / step) * step);
  const [firstDay, lastDay] = [clockOf(least).date, clockOf(most - 1).date];
  const oneDay = firstDay === lastDay;
  const days = oneDay ? dateText(firstDay) : `${dateText(firstDay)} to ${dateText(lastDay)}`;
  return {
    from,
    to,
    step,
    bars: barsOf(minutes, step),
    passes: windows,
    ticks: ticksOf(from, to, oneDay),
    axisText: `the facility's clock, ${days}`,
    clock: (minute) => {
      const { date, clock } = clockOf(localOf(minute));
      return oneDay ? clock : `${dateText(date)}, ${clock}`;
    },
  };
}

/** Reader logs are in UTC; the passes state both UTC and local time, from which the offset follows. */
function localClock(timed: PassResult[]): (utc: number) => number {
  const shifts = timed.flatMap(({ startedAt, startedAtLocal }) => {
    const [utc, local] = [minutesOf(startedAt), minutesOf(startedAtLocal)];
    return utc === null || local === null ? [] : [{ utc, by: Math.round(local - utc) }];
  });
  return (utc) => utc + (shifts.findLast((shift) => shift.utc <= utc) ?? shifts[0] ?? { by: 0 }).by;
}

function passWindows(
  timed: PassResult[],
  { beforeS, afterS }: HeardSummary["window"],
  localOf: (utc: number) => number,
): Session["passes"] {
  return timed.flatMap(({ startedAt, endedAt }) => {
    const [start, end] = [minutesOf(startedAt), minutesOf(endedAt)];
    if (start === null || end === null) return [];
    return [{ from: localOf(start) - beforeS / 60, to: localOf(start) + (end - start) + afterS / 60 }];
  });
}

function barsOf(minutes: { from: number; tags: number }[], step: number): Session["bars"] {
  const bars = new Map<number, number>();
  for (const { from, tags } of minutes) {
    const bar = Math.floor(from / step) * step;
    bars.set(bar, (bars.get(bar) ?? 0) + tags);
  }
  return [...bars].map(([from, count]) => ({ from, count }));
}

/** Round times of day; midnight is named by its day where there is more than one. */
function ticksOf(from: number, to: number, oneDay: boolean): Session["ticks"] {
  const step = tickSteps.find((size) => (to - from) / size <= mostTicks) ?? to - from;
  const ticks: Session["ticks"] = [];
  for (let at = Math.ceil(from / step) * step; at <= to; at += step) {
    const { date, clock } = clockOf(at);
    const day = dateText(date).split(" ").slice(0, 2).join(" ");
    ticks.push({ at, label: clock === "00:00" && !oneDay ? day : clock });
  }
  return ticks;
}
