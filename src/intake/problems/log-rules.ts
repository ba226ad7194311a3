import { counted } from "../../model/number-words.ts";
import { problem } from "./card/problem.ts";
import { listing, quoted } from "./card/wording.ts";

/* What can be told only once all pass logs and manifests have been read. */

export const passEndsBeforeStart = problem(
  {
    code: "pass-ends-before-start",
    severity: "error",
    means: "A pass ends before it starts.",
    advice: "Correct one of the two times; check the date where a pass runs over midnight.",
  },
  {
    with: ({ startedAt, pass }: { startedAt: string; pass: string }) => ({
      expected: `a time not before ${startedAt}, when pass ${quoted(pass)} started`,
    }),
  },
);

export const pauseTooShort = problem(
  {
    code: "pause-within-persistence",
    severity: "warning",
    means:
      "Tags of one pass are presented again before their session has let them answer: the later pass may miss them for that alone.",
    advice: "Wait longer between passes that present the same tags, or take session 0.",
  },
  {
    with: (facts: {
      pass: string;
      before: string;
      session: string;
      pauseS: number;
      fromS: number;
      toS: number | null;
      tags: number;
    }) => ({
      found: `pass ${quoted(facts.pass)} ${Number(facts.pauseS.toFixed(1))} s after pass ${quoted(facts.before)}, with ${facts.tags === 1 ? "one tag" : `${facts.tags} tags`} of both, in session ${facts.session}`,
      expected:
        facts.toS === null
          ? `a pause of more than ${facts.fromS} s: tags keep silent for at least that long in session ${facts.session}, and with power for as long as they have it`
          : `a pause of ${facts.toS} s or more: tags keep silent for ${facts.fromS} to ${facts.toS} s in session ${facts.session}`,
    }),
  },
);

export const compareTagsMissing = problem(
  {
    code: "compare-tags-missing",
    severity: "error",
    means: "compare_tags names a column that no manifest and no log has.",
    advice:
      "Name the column of the manifests or of the itemised logs that says which model a tag is of, or remove compare_tags.",
  },
  {
    with: ({ column }: { column: string }) => ({
      found: `compare_tags: ${quoted(column)}, which is no column of any log or manifest`,
      expected: "a column whose values are the models of the tags",
    }),
  },
);

export const compareTagsAlike = problem(
  {
    code: "compare-tags-alike",
    severity: "warning",
    means: "compare_tags compares models of tags, and the logs have fewer than two.",
    advice:
      "Fill the column for every tag. A comparison takes tags of two models or more in the same passes.",
  },
  {
    with: ({ column, models }: { column: string; models: readonly string[] }) => ({
      found:
        models.length === 0
          ? `nothing in the column ${quoted(column)}`
          : `only ${quoted(models[0]!)} in the column ${quoted(column)}`,
      expected: "two models or more",
    }),
  },
);

export const compareTagsTwice = problem(
  {
    code: "compare-tags-twice",
    severity: "error",
    means: "A tag is of one model in one place and of another elsewhere.",
    advice: "Correct the manifest or the log that is wrong: a tag does not change its model.",
  },
  {
    with: ({ tag, model, other }: { tag: string; model: string; other: string }) => ({
      found: `the tag ${quoted(tag)} of model ${quoted(model)}`,
      expected: `as elsewhere: ${quoted(other)}`,
    }),
  },
);

export const handLogDisagrees = problem(
  {
    code: "hand-log-disagrees",
    severity: "warning",
    means: "A log kept by hand says of a tag what the reader's log of the same pass does not.",
    advice: "The reader's log judges. Check the mark on the walk sheet, and where the tag sat.",
  },
  {
    with: ({ tag, pass, isRead, reads }: TagInBoth) => ({
      found: `the tag ${quoted(tag)} ${isRead ? "read" : "not read"} in pass ${quoted(pass)}`,
      expected: isRead
        ? "as in the reader's log: not read"
        : `as in the reader's log: read ${counted(reads, "time", "times")}`,
    }),
    notInLoad: ({ tag, pass }: TagInBoth) => ({
      found: `the tag ${quoted(tag)} presented in pass ${quoted(pass)}`,
      expected: "a tag of the manifest that the timed log names",
      advice: "The timed log judges, and there the tag was not presented. Check which load was walked.",
    }),
    notInHandLog: ({ tag, pass }: TagInBoth) => ({
      found: `no row of the tag ${quoted(tag)} in pass ${quoted(pass)}`,
      expected: "each tag of the manifest that the timed log names",
      advice: "The timed log judges, and there the tag was presented. Check which load was walked.",
    }),
    inCount: ({ pass, counted: read, found }: { pass: string; counted: number; found: number }) => ({
      found: `${counted(read, "tag", "tags")} read in pass ${quoted(pass)}`,
      expected: `as in the reader's log: ${found}`,
    }),
  },
);

interface TagInBoth {
  tag: string;
  pass: string;
  /** By the log kept by hand. */
  isRead: boolean;
  /** How often the reader's log has it. */
  reads: number;
}

export const handLogCompared = problem(
  {
    code: "hand-log-compared",
    severity: "warning",
    means: "Passes of a log kept by hand stand in a timed log, too, and were compared with the reader's log.",
    advice: "The reader's log judges these passes. Nothing needs doing.",
  },
  {
    with: ({ passes, tags, differ }: { passes: number; tags: number; differ: number }) => ({
      found: `${counted(passes, "pass", "passes")} that a timed log has, too${tags > 0 ? `, with ${counted(tags, "row", "rows")} of tags` : ""}`,
      expected: "the same in both",
      advice: `The reader's log judges these passes. ${differ === 0 ? "The two agree on every tag" : `The two disagree ${counted(differ, "time", "times")}`}.`,
    }),
  },
);

export const compareUnused = problem({
  code: "compare-unused",
  severity: "warning",
  means:
    "facility.yaml asks for logs kept by hand to be compared with the reader's log, and no pass stands in both.",
  expected: "passes with the same round, read point and name in a timed log and in another",
  advice: "Give the passes the same names in both logs, or remove compare_with_reader.",
});

export const passFarFromRound = problem(
  {
    code: "pass-far-from-round",
    severity: "warning",
    means: "A pass was walked days away from the date of its round.",
    advice: "Check the round named in this row, the year, and the date of the round in facility.yaml.",
  },
  {
    with: ({ pass, day, round, date }: { pass: string; day: string; round: string; date: string }) => ({
      found: `pass ${quoted(pass)} started on ${day}`,
      expected: `a day near ${date}, the date of round ${quoted(round)}`,
    }),
  },
);

export const tagInTwoSpellings = problem(
  {
    code: "tag-in-two-spellings",
    severity: "warning",
    means: "Two tag codes differ only in capitals and small letters.",
    advice: "They are counted as two tags. If they are one, write its code the same way everywhere.",
  },
  {
    with: ({ one, other }: { one: string; other: string }) => ({
      found: `${quoted(one)} and ${quoted(other)}`,
      expected: "one spelling for one tag",
    }),
  },
);

export const groupsTooMany = problem(
  {
    code: "groups-too-many",
    severity: "error",
    means: "A criterion is judged for more combinations of values than can be shown.",
    advice: "Name fewer columns under for_each, or list under where the values that matter.",
  },
  {
    with: ({ criterion, counts, groups, most }: GroupFacts) => ({
      found: `${groups} combinations in criterion ${quoted(criterion)}: ${counts.map(({ column, values }) => `${values} of ${quoted(column)}`).join(", ")}`,
      expected: `at most ${most} combinations`,
    }),
  },
);

interface GroupFacts {
  criterion: string;
  counts: { column: string; values: number }[];
  groups: number;
  most: number;
}

export const codeUnlikeOthers = problem(
  {
    code: "code-unlike-others",
    severity: "warning",
    means: "Among hexadecimal codes there is something that is not one.",
    advice: "Was the code cut off or overwritten? Correct it. A label may stay as it is.",
  },
  {
    with: ({ codes }: { codes: number }) => ({ expected: likeOthers(codes) }),
    heard: ({ text, codes }: { text: string; codes: number }) => ({
      found: `the code ${quoted(text)} in the reader's log, heard in this pass`,
      expected: likeOthers(codes),
      advice: "Was the code cut off or overwritten? It counts as a stray of the pass.",
    }),
  },
);

function likeOthers(codes: number): string {
  return `hexadecimal digits in whole bytes, 16 or more, as in ${codes} other codes`;
}

export const lookalikeCharacters = problem(
  {
    code: "lookalike-characters",
    severity: "either",
    means: "A code, a pass or a value holds a character that looks like another one and is not it.",
    advice: "Type the text anew, with plain letters and digits.",
  },
  {
    twins: (facts: LookalikeFacts & { other: string }) => ({
      severity: "error",
      found: lookalikeFound(facts),
      expected: "one spelling for what looks the same",
      advice: `It looks like ${quoted(facts.other)}, which stands elsewhere, and would count as another: type it anew.`,
    }),
    mixed: (facts: LookalikeFacts) => ({
      severity: "warning",
      found: lookalikeFound(facts),
      expected: "letters and digits of one alphabet in a word",
    }),
  },
);

interface LookalikeFacts {
  text: string;
  character: string;
  /** Empty for a character that nobody sees. */
  looksLike: string;
}

function lookalikeFound({ text, character, looksLike }: LookalikeFacts): string {
  const number = `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0")}`;
  return looksLike === ""
    ? `${quoted(text)} with the invisible character ${number}`
    : `${quoted(text)} with the character ${number}, which looks like ${quoted(looksLike)}`;
}

export const missedTagsNeverFilled = problem(
  {
    code: "missed-tags-never-filled",
    severity: "warning",
    means: "The column of missed tags is blank in every pass of a log.",
    advice:
      "A blank counts as no tag missed. Write none where every tag was read; fill the column in if nobody has done so yet.",
  },
  {
    with: ({ passes }: { passes: number }) => ({
      found: `missed_tags blank in ${passes === 1 ? "the only pass" : `all ${passes} passes`}`,
      expected: "the codes of the missed tags, or the word none",
    }),
  },
);

export const conditionNotANumber = problem(
  {
    code: "condition-not-a-number",
    severity: "error",
    means: "A condition with bands or a range holds something other than a number.",
    advice: "Write the number alone, without its unit; the unit stands in the column's name.",
  },
  {
    with: ({ text }: { text: string }) => ({
      expected: "a number",
      ...(/^[-+]?\d+,\d+$/.test(text) ? { advice: `Write a decimal point: ${text.replace(",", ".")}.` } : {}),
    }),
  },
);

export const valueOutsideBands = problem(
  {
    code: "value-outside-bands",
    severity: "error",
    means: "A value of a condition lies outside all its bands.",
    advice: "Correct the value, or widen the bands in facility.yaml.",
  },
  { with: ({ bands }: { bands: string[] }) => ({ expected: `a value within the bands ${listing(bands)}` }) },
);

export const conditionBlank = problem(
  {
    code: "condition-blank",
    severity: "error",
    means: "A condition by which a criterion selects or groups is blank.",
    advice: "Fill it in, or void the pass with a void_reason if nobody knows any more.",
  },
  {
    with: ({ criterion }: { criterion: string }) => ({ expected: `a value: ${useBy(criterion)}` }),
  },
);

export const conditionColumnMissing = problem(
  {
    code: "condition-column-missing",
    severity: "error",
    means: "A log lacks the column of a condition by which a criterion selects or groups.",
    advice: "Add the column and fill it in.",
  },
  {
    with: ({ column, readPoint, criterion, manifest }: ColumnFacts) => ({
      found: `no column ${quoted(column)}`,
      expected: `${column} for passes at ${quoted(readPoint)}: ${useBy(criterion)}`,
      ...(manifest === null
        ? {}
        : { advice: `Add the column here or in the manifest ${quoted(manifest)}, and fill it in.` }),
    }),
  },
);

interface ColumnFacts {
  column: string;
  readPoint: string;
  criterion: string;
  manifest: string | null;
}

function useBy(criterion: string): string {
  return `criterion ${quoted(criterion)} selects or groups by it`;
}

export const rssiBlank = problem(
  {
    code: "rssi-blank",
    severity: "error",
    means: "A tag that was read has no RSSI, and a criterion ranks the tags by it.",
    advice: "Fill it in. A log without any RSSI leaves the column out; its passes are then not ranked.",
  },
  {
    with: ({ criterion }: { criterion: string }) => ({
      expected: `the strongest RSSI of a tag that was read: criterion ${quoted(criterion)} ranks by it`,
    }),
  },
);

export const manifestUnused = problem(
  {
    code: "manifest-unused",
    severity: "warning",
    means: "No pass names a manifest.",
    advice: "Check the manifest column of the logs, or remove the file.",
  },
  {
    with: ({ name }: { name: string }) => ({
      found: `the manifest ${quoted(name)}, which no pass names`,
      expected: "manifests that pass logs name",
    }),
  },
);

export const bystandersNotRecorded = problem(
  {
    code: "bystanders-not-recorded",
    severity: "warning",
    means: "A pass does not say whether the bystanders of its manifest were read.",
    advice:
      'The bystanders are left out of the figures for this pass. Write "none" under stray_tags if none of them was read.',
  },
  {
    with: ({ pass, readPoint, manifest }: { pass: string; readPoint: string; manifest: string }) => ({
      found: `pass ${quoted(pass)} at ${quoted(readPoint)} says nothing of stray tags`,
      expected: `a filled stray_tags, since manifest ${quoted(manifest)} lists tags that were not presented`,
    }),
  },
);

export const straysHalfRecorded = problem(
  {
    code: "strays-half-recorded",
    severity: "warning",
    means: "A log records strays for some of its passes only.",
    advice:
      "A blank says that nobody looked, so those passes do not count where strays are judged. Where somebody looked and found none, write none (in a tally, 0).",
  },
  {
    with: ({ recorded, passes }: { recorded: number; passes: number }) => ({
      found: `stray_tags filled in ${recorded} of ${passes} passes`,
      expected: "stray_tags filled in every pass, or in none",
    }),
  },
);

export const passesOverlap = problem(
  {
    code: "passes-overlap",
    severity: "error",
    means: "Two timed passes at one read point overlap.",
    advice: "Correct the times, or make pass_window shorter: a read in both would belong to two passes.",
  },
  {
    with: ({ pass, startedAt, endedAt, other, otherEndedAt }: OverlapFacts) => ({
      found: `pass ${quoted(pass)}, under way from ${startedAt} to ${endedAt}`,
      expected: `a pass that begins after ${quoted(other)} at the same read point has ended (${otherEndedAt})`,
    }),
  },
);

interface OverlapFacts {
  pass: string;
  startedAt: string;
  endedAt: string;
  other: string;
  otherEndedAt: string;
}

export const readerLogSilent = problem(
  {
    code: "reader-log-silent",
    severity: "error",
    means: "A timed pass was walked at a read point of which no reader log has reads.",
    advice: "Add its log under reader_logs, or check which values of the log stand for this read point.",
  },
  {
    with: ({ pass, readPoint }: { pass: string; readPoint: string }) => ({
      found: `pass ${quoted(pass)} at ${quoted(readPoint)}`,
      expected: "a read point of which a reader log has reads",
    }),
  },
);

export const passOutsideLog = problem(
  {
    code: "pass-outside-log",
    severity: "error",
    means: "A timed pass lies outside the time that its reader log covers.",
    advice:
      "Add the missing log, correct the times, or state the reader's clock_offset_s. Tags of a pass that the reader log does not cover are not counted as missed.",
  },
  {
    with: ({ pass, startedAtUtc, from, to, readPoint }: SpanFacts) => ({
      found: `pass ${quoted(pass)} at ${startedAtUtc} (UTC)`,
      expected: `a time between ${from} and ${to}, which the log of ${quoted(readPoint)} covers`,
    }),
  },
);

interface SpanFacts {
  pass: string;
  startedAtUtc: string;
  from: string;
  to: string;
  readPoint: string;
}

export const labelsNeverHeard = problem(
  {
    code: "labels-never-heard",
    severity: "warning",
    means: "A manifest of timed passes names tags by texts that are not codes and that no reader wrote.",
    advice: "They count as missed in every pass. Where they are names, write the codes in their place.",
  },
  {
    with: ({ labels, presented, first }: { labels: number; presented: number; first: string }) => ({
      found: `${labels} of ${presented} tags that ${labels === 1 ? "is not a code" : "are not codes"} and that no reader wrote in any pass, first ${quoted(first)}`,
      expected: "the codes of the tags, as their reader writes them",
    }),
  },
);

export const valueNotWalked = problem(
  {
    code: "value-not-walked",
    severity: "warning",
    means: "A criterion selects a value that no row has, and the logs have a value that looks much like it.",
    advice: "Correct the value in facility.yaml or in the logs.",
  },
  {
    with: (facts: { column: string; value: string; criterion: string; walked: string[]; near: string }) => ({
      found: `${facts.column}: ${quoted(facts.value)} in criterion ${quoted(facts.criterion)}`,
      expected: `a value that the logs have: ${listing([...facts.walked].sort())}`,
      advice: `Did you mean ${quoted(facts.near)}? As it stands, it selects no row.`,
    }),
  },
);

export const planStatesTwice = problem(
  {
    code: "plan-states-twice",
    severity: "error",
    means: "The plan varies a condition that its manifest states of each tag.",
    advice: "Remove the condition from the plan, or from the manifest.",
  },
  {
    with: ({ column, manifest }: { column: string; manifest: string }) => ({
      found: `the column ${quoted(column)}, which manifest ${quoted(manifest)} states of each tag`,
      expected: "columns that the manifest does not state",
      advice: "Remove it from each, or from the manifest: a log that follows this plan would state it twice.",
    }),
  },
);

export const planLoadDiffers = problem(
  {
    code: "plan-load-differs",
    severity: "error",
    means: "The plan's manifest presents another number of tags than tags_per_pass says.",
    advice: "Correct tags_per_pass or the manifest.",
  },
  {
    with: ({ manifest, presented, planned }: { manifest: string; presented: number; planned: number }) => ({
      expected: `the ${presented} that manifest ${quoted(manifest)} presents`,
      advice: `The plan says ${planned} tags a pass and its load presents ${presented}: correct one of the two.`,
    }),
  },
);

export const columnNeeded = problem(
  {
    code: "column-needed",
    severity: "either",
    means: "A log lacks a column that the measure of a criterion needs.",
    advice: "Add the column, or take the read point out of the criterion.",
  },
  {
    with: (words: { severity: "error" | "warning"; found: string; expected: string; advice: string }) =>
      words,
  },
);
