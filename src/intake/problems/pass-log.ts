import type { DateOrder } from "../../model/facility.ts";
import { rssiRangeDbm, rssiRangeText } from "../../model/radio/rssi.ts";
import { problem } from "./card/problem.ts";
import { didYouMean, listing, quoted } from "./card/wording.ts";

/* What the rows of pass logs and manifests say. */

export const roundBlank = problem(
  {
    code: "round-blank",
    severity: "error",
    means: "A row does not say which round its pass belongs to.",
    advice: "Say which round the pass belongs to.",
  },
  { with: ({ known }: Known) => ({ expected: `the id of a round: ${listing(known)}` }) },
);

export const roundUnknown = problem(
  {
    code: "round-unknown",
    severity: "error",
    means: "A row names a round that facility.yaml does not list.",
    advice: "Correct it, or add the round to facility.yaml.",
  },
  {
    with: ({ name, known }: Named) => ({
      expected: `the id of a round: ${listing(known)}`,
      advice: `${didYouMean(name, known)}Correct it, or add the round to facility.yaml.`,
    }),
  },
);

export const readPointBlank = problem(
  {
    code: "read-point-blank",
    severity: "error",
    means: "A row does not say at which read point its pass was walked.",
    advice: "Say at which read point the pass was walked.",
  },
  { with: ({ known }: Known) => ({ expected: readPointOf(known) }) },
);

export const readPointUnknown = problem(
  {
    code: "read-point-unknown",
    severity: "error",
    means: "A row names a read point that facility.yaml does not list.",
    advice: "Correct it, or add the read point to facility.yaml.",
  },
  {
    with: ({ name, known }: Named) => ({
      expected: readPointOf(known),
      advice: `${didYouMean(name, known)}Correct it, or add the read point to facility.yaml.`,
    }),
  },
);

interface Known {
  known: string[];
}

interface Named extends Known {
  name: string;
}

function readPointOf(known: string[]): string {
  return known.length === 0
    ? "a read point of facility.yaml, which lists none"
    : `the id of a read point: ${listing(known)}`;
}

export const passBlank = problem({
  code: "pass-blank",
  severity: "error",
  means: "A row does not name its pass.",
  expected: "the name of the pass",
  advice: "Give each pass a name, for example P1. All rows of one pass share it.",
});

export const passTwice = problem(
  {
    code: "pass-twice",
    severity: "error",
    means: "A pass has two rows in a log with one row a pass.",
    advice: "An earlier row has the same round, read point and pass: rename this one or remove the row.",
  },
  { with: ({ log }: { log: string }) => ({ expected: `one row a pass in ${log}` }) },
);

export const passInTwoFiles = problem(
  {
    code: "pass-in-two-files",
    severity: "error",
    means: "Two logs have the same pass.",
    advice: "Keep one of the two, or rename one.",
  },
  {
    with: ({ path, form }: { path: string; form: string }) => ({
      expected: "a pass in one log only",
      advice: `${path} (${form} form) already has this pass: keep one of the two, or rename this one.`,
    }),
    /** One of the two is timed. */
    withReader: ({ path, form }: { path: string; form: string }) => ({
      expected: "a pass in one log only",
      advice: `${path} (${form} form) already has this pass. If both are meant, write compare_with_reader: true into facility.yaml: then the reader's log judges, and the other is compared with it.`,
    }),
  },
);

export const passContradictsItself = problem(
  {
    code: "pass-contradicts-itself",
    severity: "error",
    means: "The rows of a pass contradict each other.",
    advice:
      "All rows of a pass share its times: correct one of the two, or give the other pass another name.",
  },
  {
    inTime: ({ earlier, pass }: { earlier: string; pass: string }) => ({
      expected: `${earlier}, as an earlier row of pass ${quoted(pass)} has it`,
    }),
    inTags: ({ pass }: { pass: string }) => ({
      expected: `a tag's code, since other rows of pass ${quoted(pass)} present tags`,
      advice: "A row without a tag says that the pass presented nothing: remove it, or fill in its tag.",
    }),
  },
);

export const voidReasonUnclear = problem({
  code: "void-reason-unclear",
  severity: "error",
  means: "void_reason holds an answer instead of a reason.",
  expected: "the reason why the pass does not count; blank for a pass that counts",
  advice: "Any text here voids the pass: clear the cell, or say why the pass does not count.",
});

export const timeUnreadable = problem(
  {
    code: "time-unreadable",
    severity: "error",
    means: "A time is not written in a form that can be read.",
    advice: "Write, for example, 2026-05-21 10:00:00. In a spreadsheet, format the column as text first.",
  },
  {
    /** `yearFirst`: what else it may stand for. */
    with: ({ text, yearFirst }: { text: string; yearFirst: readonly string[] }) => ({
      expected: "YYYY-MM-DD HH:MM:SS, or with offset YYYY-MM-DDTHH:MM:SS+01:00",
      ...timeAdvice(text, yearFirst),
    }),
  },
);

export const dateOrderTaken = problem(
  {
    code: "date-order-taken",
    severity: "warning",
    means: "Dates of a pass log begin with the day, or with the month, and in one order only they all exist.",
    advice: "They were read in that order. Nothing needs doing if it is right.",
  },
  {
    with: ({ order, times }: { order: DateOrder; times: number }) => ({
      expected: "YYYY-MM-DD HH:MM:SS",
      advice: `${times === 1 ? "The date was" : `All ${times} dates of the file were`} read with the ${order === "day-first" ? "day before the month" : "month before the day"}, since the other way there is no such date.`,
    }),
  },
);

export const dateOrderUnclear = problem(
  {
    code: "date-order-unclear",
    severity: "error",
    means: "Dates of a pass log can be read with the day first and with the month first, or in neither way.",
    advice: "State date_order in facility.yaml, or write the year first: 2026-05-21 10:00:00.",
  },
  {
    either: ({ text, times, dayFirst, monthFirst }: UnclearDates) => ({
      expected: `dates that can be read in one way only: this one is ${dayFirst} with the day first, ${monthFirst} with the month first`,
      advice: `${times === 1 ? "The file has no date that settles it" : `None of the file's ${times} dates settles it`}. Write date_order: day-first or date_order: month-first into facility.yaml, or write ${quoted(text)} with the year first.`,
    }),
    neither: ({ other }: { other: string }) => ({
      expected: `dates in one order: ${quoted(other)} in the same file has the other one`,
      advice: "Write the year first in every date of the file: 2026-05-21 10:00:00.",
    }),
  },
);

interface UnclearDates {
  text: string;
  times: number;
  dayFirst: string;
  monthFirst: string;
}

function timeAdvice(text: string, [first, second]: readonly string[]): { advice?: string } {
  if (first !== undefined)
    return {
      advice:
        second === undefined
          ? `Write the year first: ${first}.`
          : `Write the year first: ${first} if the day was in front, ${second} if the month was.`,
    };
  if (/^\d{1,2}[./]\d{1,2}[./]\d{2,4}/.test(text)) {
    return {
      advice: "Write the date with four digits of the year, and the time of day: 2026-05-21 10:00:00.",
    };
  }
  const isClock = /^\d{1,2}:\d{2}/.test(text);
  return isClock ? { advice: "Write the day as well, for example 2026-05-21 10:00:00." } : {};
}

export const timeImpossible = problem(
  {
    code: "time-impossible",
    severity: "error",
    means: "A time names a day, an hour or an offset that does not exist.",
    advice: "Correct the date or the time.",
  },
  {
    with: () => ({ expected: "a day of the calendar and a time from 00:00:00 to 23:59:59" }),
    offset: () => ({
      expected: "an offset from -14:00 to +14:00",
      advice: "Correct the offset: it is the hours and minutes that the clock is ahead of UTC.",
    }),
  },
);

export const timeWithoutZone = problem(
  {
    code: "time-without-zone",
    severity: "error",
    means: "A time has no offset, and the facility has no time_zone.",
    advice: "Write the offset, or state time_zone in facility.yaml.",
  },
  {
    with: ({ stamp }: { stamp: string }) => ({
      expected: "a time with its offset, or a facility with a time_zone",
      advice: `Write the offset, for example ${stamp}+01:00, or state time_zone in facility.yaml.`,
    }),
  },
);

interface ClockChange {
  zone: string;
  /** The time with the offset before the change, and with the one after it. */
  before: string;
  after: string;
}

export const timeTwice = problem(
  {
    code: "time-twice",
    severity: "error",
    means: "A time occurs twice, because the clocks were put back.",
    advice: "Write the offset with the time.",
  },
  {
    with: ({ zone, before, after }: ClockChange) => ({
      expected: `a time that ${zone} has once`,
      advice: `The clocks were put back and this hour came twice: write ${before} for the first, ${after} for the second.`,
    }),
  },
);

export const timeSkipped = problem(
  {
    code: "time-skipped",
    severity: "error",
    means: "A time never occurred, because the clocks were put forward.",
    advice: "Correct the time, or write its offset.",
  },
  {
    with: ({ zone, before, after }: ClockChange) => ({
      expected: `a time that ${zone} has`,
      advice: `The clocks were put forward and skipped this hour: correct the time, or write its offset, ${before} or ${after}.`,
    }),
  },
);

export const timeBlank = problem({
  code: "time-blank",
  severity: "error",
  means: "A timed pass lacks its start or its end.",
  expected: "a time",
  advice: "Fill in the start and the end: they tell which reads belong to the pass.",
});

export const answerBlank = problem(
  {
    code: "answer-blank",
    severity: "error",
    means: "A cell that wants yes or no is blank.",
    advice: "Write yes or no.",
  },
  {
    with: ({ column }: { column: string }) => ({
      expected: answers,
      advice: `Fill it in: a blank does not say whether the tag was ${column}.`,
    }),
    inManifest: () => ({ expected: answers, advice: inLoad }),
  },
);

export const answerUnclear = problem(
  {
    code: "answer-unclear",
    severity: "error",
    means: "A cell that wants yes or no holds something else.",
    advice: "Write yes or no.",
  },
  { with: () => ({ expected: answers }), inManifest: () => ({ expected: answers, advice: inLoad }) },
);

const answers = "yes or no (or y, n, true, false, 1, 0)";
const inLoad = "Write yes for a tag of the load, no for one placed near by that must not be read.";

export const tagBlank = problem(
  {
    code: "tag-blank",
    severity: "error",
    means: "A row names no tag although it needs one.",
    advice: "Fill in the tag's code.",
  },
  {
    itemised: () => ({
      expected: "a tag's code; blank only where presented and read are both no",
      advice:
        "Fill in the code. A pass that presented nothing has one row with a blank tag, presented = no and read = no.",
    }),
    inManifest: () => ({
      expected: "a tag's code in every row",
      advice: "Fill in the code, or remove the row.",
    }),
    inPowerLog: () => ({
      expected: "a tag's code in every row",
      advice: "Fill in the code, or count the tags of each power under tags_presented and tags_read.",
    }),
  },
);

export const tagTwice = problem(
  {
    code: "tag-twice",
    severity: "error",
    means: "A tag stands twice in a pass or in a manifest.",
    advice: "Remove the repetition, or correct the code.",
  },
  {
    inPass: ({ pass }: { pass: string }) => ({
      expected: `each tag once in a pass, and pass ${quoted(pass)} already has it`,
      advice:
        "Keep one row for the tag, with its strongest RSSI and all its reads; or give the other pass another name.",
    }),
    inCell: () => ({ expected: "each tag once in a pass" }),
    inManifest: () => ({
      expected: "each tag once in a manifest",
      advice: "An earlier row already has the code: remove one, or correct the code.",
    }),
  },
);

export const tagWithBlanks = problem({
  code: "tag-with-blanks",
  severity: "error",
  means: "A tag code of a manifest contains spaces.",
  expected: "a code without spaces",
  advice: "Pass logs separate the tags of a manifest with spaces: write the code without any.",
});

export const tagInExponentNotation = problem({
  code: "tag-in-exponent-notation",
  severity: "error",
  means: "A spreadsheet turned a tag code into a number.",
  expected: "the tag's code in full",
  advice:
    "A spreadsheet took the code for a number and its digits are lost: import the column as text from the original file, then save again.",
});

export const rssiOutOfRange = problem(
  {
    code: "rssi-out-of-range",
    severity: "error",
    means: "An RSSI is not a level in dBm that a reader could report.",
    advice: "Write the strongest reading in dBm, for example -61.5, or leave it blank.",
  },
  {
    with: ({ text, dbm }: { text: string; dbm: number }) => ({
      expected: `a level from ${rssiRangeText}`,
      ...levelAdvice(text, dbm),
    }),
  },
);

/** @param dbm NaN where the text is not a number */
function levelAdvice(text: string, dbm: number): { advice?: string } {
  if (dbm < rssiRangeDbm.lowest) return { advice: `Is this in hundredths of a dB? Then write ${dbm / 100}.` };
  if (dbm > rssiRangeDbm.highest) {
    return {
      advice: `Received power is negative in dBm: is ${-dbm} meant? A reader's own scale of signal strength is not an RSSI in dBm.`,
    };
  }
  return text.includes(",") ? { advice: "Write a decimal point." } : {};
}

export const readContradictsItself = problem(
  {
    code: "read-contradicts-itself",
    severity: "error",
    means: "The other cells of a row contradict whether its tag was read.",
    advice: "Correct `read`, or the other cell.",
  },
  {
    unread: ({ column }: { column: string }) => ({
      expected: `no ${column} where read = no`,
      advice: "Write read = yes if the tag was read; leave this cell blank if it was not.",
    }),
    uncounted: () => ({
      expected: "at least 1 where read = yes",
      advice:
        "If the tag was read, write how often or leave this cell blank; if it was not, write read = no.",
    }),
  },
);

export const countBlank = problem({
  code: "count-blank",
  severity: "error",
  means: "A count of tags is blank.",
  expected: "a whole number of tags",
  advice: "Fill it in; write 0 for none.",
});

export const countUnreadable = problem(
  {
    code: "count-unreadable",
    severity: "error",
    means: "A count is not a whole number.",
    advice: "Write how many, in digits.",
  },
  {
    ofTags: () => ({ expected: "a whole number of tags" }),
    ofReads: () => ({
      expected: "a whole number of reads",
      advice: "Write how often the tag was read.",
    }),
  },
);

export const readMoreThanPresented = problem(
  {
    code: "read-more-than-presented",
    severity: "error",
    means: "A tally, or a step of a power log, has more tags read than presented.",
    advice: "Tags read beyond those presented are strays: count them under stray_tags.",
  },
  {
    with: ({ presented }: { presented: number }) => ({
      expected: `at most ${presented}, the tags presented`,
    }),
    atAPower: ({ presented }: { presented: number }) => ({
      expected: `at most ${presented}, the tags presented`,
      advice: "Count each tag once, however often it was read, and leave out tags that were not presented.",
    }),
  },
);

export const passTooLarge = problem(
  {
    code: "pass-too-large",
    severity: "error",
    means:
      "A tally counts more than 100 000 tags in one pass: the intervals are not made for passes so large.",
    advice: "Check the number. If so many tags went through, divide them into passes as they were counted.",
  },
  { with: ({ most }: { most: number }) => ({ expected: `at most ${most} tags in one pass` }) },
);

export const passesTooMany = problem(
  {
    code: "passes-too-many",
    severity: "error",
    means: "The logs of a facility hold more passes than a site can be made of.",
    advice:
      "Does the column of the pass hold something else, such as a time or the number of a read? Then name the pass in it. Otherwise divide the walk into several facilities.",
  },
  {
    with: ({ most }: { most: number }) => ({
      found: `more than ${most} passes`,
      expected: `at most ${most} passes in the logs of one facility`,
    }),
  },
);

export const antennasTooMany = problem(
  {
    code: "antennas-too-many",
    severity: "error",
    means: "A column of antennas holds too many different values.",
    advice: "The column seems to hold something other than the antenna's number or name.",
  },
  { with: ({ most }: { most: number }) => ({ expected: `at most ${most} different antennas` }) },
);

export const manifestBlank = problem(
  {
    code: "manifest-blank",
    severity: "error",
    means: "A row does not name the manifest of its pass.",
    advice: "Name the manifest that was walked.",
  },
  { with: ({ known }: Known) => ({ expected: manifestOf(known) }) },
);

export const manifestUnknown = problem(
  {
    code: "manifest-unknown",
    severity: "error",
    means: "A row names a manifest that does not exist.",
    advice: "Correct it, or add the manifest.",
  },
  {
    with: ({ name, known }: Named) => ({
      expected: manifestOf(known),
      advice: `${didYouMean(name, known)}Correct it, or add manifests/${name.replace(/\.csv$/i, "")}.csv.`,
    }),
  },
);

function manifestOf(known: string[]): string {
  return known.length === 0
    ? "the name of a file in manifests/, where there is none"
    : `a manifest: ${listing(known)}`;
}

export const tagsToFillIn = problem({
  code: "tags-to-fill-in",
  severity: "error",
  means: "A log that was prepared for a walk still has its question mark.",
  expected: "the codes of the tags, or the word none",
  advice: "Nobody filled this in yet: write what was seen, or remove the row if the pass was not walked.",
});

export const tagsNotCodes = problem({
  code: "tags-not-codes",
  severity: "error",
  means: "A listed log counts tags instead of naming them.",
  expected: "the codes of the tags, or the word none",
  advice: 'A listed log names the tags: write their codes, or "none". A log that only counts is a tally.',
});

export const tagsNotParted = problem({
  code: "tags-not-parted",
  severity: "error",
  means: "The codes in a cell are separated by something other than spaces.",
  expected: "codes separated by spaces",
  advice: "Separate tag codes with spaces.",
});

export const missedTagNotOnManifest = problem(
  {
    code: "missed-tag-not-on-manifest",
    severity: "error",
    means: "A tag listed as missed is not on the manifest.",
    advice:
      "Look at the tag's label. A tag that was not in the load cannot be missed: if it was read, it is a stray.",
  },
  {
    with: ({ manifest }: { manifest: string }) => ({
      expected: `a tag that manifest ${quoted(manifest)} presents`,
      advice: `It is not in manifest ${quoted(manifest)}: look at the tag's label. If the tag was in the load, the manifest lacks it; if it was not, it cannot be missed, and if it was read it is a stray.`,
    }),
  },
);

export const missedTagNotPresented = problem(
  {
    code: "missed-tag-not-presented",
    severity: "error",
    means: "A tag listed as missed was not presented, as its manifest has it.",
    advice: "The manifest says the tag was not presented, so it cannot be missed: correct one of the two.",
  },
  {
    with: ({ manifest }: { manifest: string }) => ({
      expected: `a tag that manifest ${quoted(manifest)} presents`,
    }),
  },
);

export const strayTagPresented = problem(
  {
    code: "stray-tag-presented",
    severity: "error",
    means: "A tag listed as a stray was presented, as its manifest has it.",
    advice: "A presented tag is not a stray: remove it here, or correct the manifest.",
  },
  {
    with: ({ manifest }: { manifest: string }) => ({
      expected: `a tag that manifest ${quoted(manifest)} does not present`,
    }),
  },
);

export const conditionStatedTwice = problem(
  {
    code: "condition-stated-twice",
    severity: "error",
    means: "Both a log and its manifest state a condition.",
    advice: "Leave one of the two blank.",
  },
  {
    with: ({ path, text }: { path: string; text: string }) => ({
      expected: "the condition in the log or in the manifest, not in both",
      advice: `${path} states it as well (${quoted(text)}): leave one of the two blank.`,
    }),
  },
);

export const agreementColumnMissing = problem(
  {
    code: "agreement-column-missing",
    severity: "either",
    means: "A criterion on agreement, or a pass log, lacks one of the two columns that are compared.",
    advice: "Name both columns in the criterion, and add them to the log.",
  },
  {
    inCriterion: (words: { found?: string; expected: string; advice: string }) => ({
      severity: "error",
      ...words,
    }),
    inLog: (words: { severity: "error" | "warning"; found: string; expected: string; advice: string }) =>
      words,
  },
);
