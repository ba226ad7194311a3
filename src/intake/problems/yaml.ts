import { joined, sentenceStart } from "../../model/number-words.ts";
import type { RadioResult } from "../../model/radio/radio-settings.ts";
import { problem } from "./card/problem.ts";
import { didYouMean, listing, quoted } from "./card/wording.ts";

/* What facility.yaml says. */

const example = "Run `proofwalk new DIR` for a commented facility.yaml to start from.";

// The file as a whole, and its YAML.

export const facilityBlank = problem(
  {
    code: "facility-blank",
    severity: "error",
    means: "facility.yaml is blank, or holds something other than keys with values.",
    advice: example,
  },
  {
    with: ({ isNothing }: { isNothing: boolean }) => ({
      found: isNothing ? "nothing" : "something other than keys with values",
      expected: "name, rounds and read_points",
    }),
  },
);

export const yamlSyntax = problem(
  {
    code: "yaml-syntax",
    severity: "error",
    means: "facility.yaml is not valid YAML.",
    advice: "Check indentation, colons and quotes in the line and in the line before.",
  },
  {
    with: ({ line, reason }: { line: string; reason: string }) => ({
      found: quoted(line),
      expected: "valid YAML",
      advice: reason,
    }),
  },
);

export const yamlDuplicateKey = problem(
  {
    code: "yaml-duplicate-key",
    severity: "error",
    means: "A key stands twice in one place.",
    advice: "Remove one of the two.",
  },
  {
    with: ({ line }: { line: string }) => ({
      found: quoted(line),
      expected: "each key once",
      advice: "The same key stands twice in one place: remove one of the two.",
    }),
  },
);

export const yamlStructure = problem(
  {
    code: "yaml-structure",
    severity: "error",
    means: "facility.yaml uses YAML that cannot be taken as keys and values, such as aliases that multiply.",
    advice: "Write the values out where they stand, without aliases.",
  },
  {
    with: ({ found, advice }: { found: string; advice: string }) => ({
      found,
      expected: "keys with texts, numbers, lists and maps",
      advice,
    }),
  },
);

// Keys and values by themselves.

export const keyUnknown = problem(
  {
    code: "key-unknown",
    severity: "error",
    means: "A key has no meaning at its place.",
    advice: "Correct the key or remove it.",
  },
  {
    with: ({ key, where, known }: { key: string; where: string; known: string[] }) => ({
      found: `the key ${quoted(key)} ${where}`,
      expected: `one of ${known.join(", ")}`,
      advice: /^\d+$/.test(key)
        ? "Is this the rest of a number? Write decimals with a point, for example 0.99."
        : `${didYouMean(key, known)}Correct the key or remove it.`,
    }),
  },
);

export const keyMissing = problem(
  {
    code: "key-missing",
    severity: "error",
    means: "A key that is needed is missing.",
    advice: "Add the key.",
  },
  {
    with: ({ name, expected, meaning }: { name: string; expected: string; meaning: string }) => ({
      found: `no ${name}`,
      expected,
      advice: `Add it. ${meaning}`,
    }),
  },
);

export const keyUnused = problem(
  {
    code: "key-unused",
    severity: "error",
    means: "A criterion has a key that its measure does not use.",
    advice: "Remove the key, or correct the measure.",
  },
  {
    otherMeasure: ({ key, measure, users }: { key: string; measure: string; users: string[] }) => ({
      found: `${key} in a criterion with measure ${measure}`,
      expected: `${key} only with measure ${users.join(" or ")}`,
      advice: "Remove it, or correct the measure.",
    }),
    besidePasses: ({ key, measure, what }: { key: string; measure: string; what: string }) => ({
      found: `${key} in a criterion with measure ${measure}`,
      expected: "no conditions",
      advice: `${sentenceStart(what)} has no conditions: remove it.`,
    }),
  },
);

interface Value {
  found: string;
  expected: string;
  advice: string;
}

export const valueBlank = problem(
  {
    code: "value-blank",
    severity: "error",
    means: "A value is blank although one is needed.",
    advice: "Fill it in.",
  },
  {
    unfilled: ({ name, expected, meaning }: { name: string; expected: string; meaning: string }) => ({
      found: `${name} without a value`,
      expected,
      advice: `Fill it in. ${meaning}`,
    }),
    text: (value: Value) => value,
    selected: () => ({
      expected: "a value of the column",
      advice: "Rows without a value cannot be selected.",
    }),
    planned: () => ({
      expected: "a value of the column",
      advice: "Name the value that is to be walked.",
    }),
  },
);

export const valueType = problem(
  {
    code: "value-type",
    severity: "error",
    means: "A value is of the wrong kind: a text for a number, or a number for a list.",
    advice: "Write the kind of value that the message expects.",
  },
  { with: (value: Value) => value },
);

export const valueNotAllowed = problem(
  {
    code: "value-not-allowed",
    severity: "error",
    means: "A value is not one of those that its key allows.",
    advice: "Write one of the values that the message lists.",
  },
  { with: (value: Value) => value },
);

export const valueOutOfRange = problem(
  {
    code: "value-out-of-range",
    severity: "error",
    means: "A number is too small or too large, or a list too short.",
    advice: "Write a value in the range that the message states.",
  },
  { with: (value: Value) => value },
);

export const dateInvalid = problem(
  {
    code: "date-invalid",
    severity: "error",
    means: "A date is not a day of the calendar in the form YYYY-MM-DD.",
    advice: "Write the date as year-month-day, for example 2026-05-22.",
  },
  { with: (value: Value) => value },
);

export const entryDuplicate = problem(
  {
    code: "entry-duplicate",
    severity: "error",
    means: "A list names the same entry twice.",
    advice: "Remove the repeated entry.",
  },
  {
    entry: () => ({ expected: "each entry once" }),
    value: () => ({ expected: "each value once", advice: "Remove the repeated value." }),
  },
);

// Names.

export const referenceUnknown = problem(
  {
    code: "reference-unknown",
    severity: "error",
    means: "A name refers to a round, read point, condition, criterion or manifest that does not exist.",
    advice: "Correct the name, or add what it refers to.",
  },
  {
    declared: (facts: { name: string; names: ReadonlySet<string>; what: string; section: string }) => ({
      expected:
        facts.names.size === 0
          ? `${facts.what} listed under ${facts.section}, which lists none`
          : `${facts.what}: ${listing([...facts.names])}`,
      advice: `${didYouMean(facts.name, facts.names)}Correct it, or add it under ${facts.section}.`,
    }),
    manifest: ({ name, names }: { name: string; names: string[] }) => ({
      expected:
        names.length === 0
          ? "the name of a file in manifests/, which has none"
          : `a manifest: ${listing(names)}`,
      advice: `${didYouMean(name, names)}Correct it, or add manifests/${name}.csv.`,
    }),
  },
);

export const idDuplicate = problem(
  {
    code: "id-duplicate",
    severity: "error",
    means: "Two entries of a list have the same id or column.",
    advice: "Rename one of the two.",
  },
  {
    with: ({ key, firstLine }: { key: string; firstLine: number }) => ({
      expected: `a different ${key} for each entry`,
      advice: `The same ${key} is already used in line ${firstLine}: rename one of the two.`,
    }),
  },
);

export const nameUnusable = problem(
  {
    code: "name-unusable",
    severity: "error",
    means: "An id or column name has blanks at its ends, or a line break in it.",
    advice: "Remove the blanks or line breaks: the pass logs could not name it otherwise.",
  },
  {
    with: ({ name, key }: { name: string; key: string }) => ({
      found: `${key}: ${quoted(name)}`,
      expected: "a name in one line without blanks at its ends",
      advice:
        "Remove the blanks or line breaks, or choose another name: the pass logs could not name it otherwise.",
    }),
  },
);

export const columnReserved = problem(
  {
    code: "column-reserved",
    severity: "error",
    means: "A condition or criterion takes the name of a column that already has a meaning in pass logs.",
    advice: "Give the column another name, in facility.yaml and in the logs.",
  },
  {
    with: ({ column }: { column: string }) => ({
      expected: "a column of your own",
      advice: `${quoted(column)} already has a meaning in pass logs: give the column another name, here and in the logs.`,
    }),
  },
);

// The facility.

export const timeZoneUnknown = problem(
  {
    code: "time-zone-unknown",
    severity: "error",
    means: "A time zone is not an IANA time zone.",
    advice: "Write the zone as Area/City, for example Europe/Dublin.",
  },
  {
    with: ({ near }: { near: string | null }) => ({
      expected: "an IANA time zone, for example Europe/Dublin",
      advice: `${near === null ? "" : `Did you mean ${quoted(near)}? `}Write the zone as Area/City.`,
    }),
  },
);

export const confidenceOutOfRange = problem(
  {
    code: "confidence-out-of-range",
    severity: "error",
    means: "The confidence is not above 0.5 and below 1.",
    advice: "Write a fraction; 0.95 is usual.",
  },
  { with: (value: Value) => value },
);

export const missCorrelationOutOfRange = problem(
  {
    code: "miss-correlation-out-of-range",
    severity: "error",
    means: "The assumed correlation of misses is below 0, or is 1 or more.",
    advice: "Write a number from 0 to below 1; without miss_correlation, 0.02 is assumed.",
  },
  { with: (value: Value) => value },
);

export const smallestChangeOutOfRange = problem(
  {
    code: "smallest-change-out-of-range",
    severity: "error",
    means: "The smallest change that matters is not above 0 and below 1.",
    advice: "Write a fraction; without it, 0.005 is assumed.",
  },
  { with: (value: Value) => value },
);

export const reportMissing = problem({
  code: "report-missing",
  severity: "warning",
  means: "facility.yaml states no report number, revision and date of issue.",
  found: 'no "report"',
  expected: "report: { number, revision, issued }",
  advice:
    "Add it before signing: without it the pages carry no report number, and concessions cannot expire.",
});

export const areaOffPlan = problem(
  {
    code: "area-off-plan",
    severity: "error",
    means: "An area runs over the edge of the floor plan.",
    advice: "Move the area or make it smaller.",
  },
  {
    with: ({ from, size, edge }: { from: string; size: string; edge: string }) => ({
      expected: `${from} + ${size} of at most 100, in percent of the plan`,
      advice: `The area runs over the ${edge} edge: make ${from} or ${size} smaller.`,
    }),
  },
);

export const roundsOutOfOrder = problem(
  {
    code: "rounds-out-of-order",
    severity: "warning",
    means: "A round is dated before the round above it.",
    advice: "Move the rounds into the order they were walked: the last one is judged.",
  },
  {
    with: ({ round, date, latest }: { round: string; date: string; latest: string }) => ({
      found: `round ${quoted(round)} of ${date} after one of ${latest}`,
      expected: "rounds from the earliest to the latest",
      advice: "The last round is the one that is judged: move the rounds into the order they were walked.",
    }),
  },
);

export const bandsNotRising = problem(
  {
    code: "bands-not-rising",
    severity: "error",
    means: "The edges of a condition's bands do not rise.",
    advice: "List the edges from the lowest to the highest, each once.",
  },
  { with: ({ above }: { above: number }) => ({ expected: `an edge above ${above}` }) },
);

// Criteria and concessions.

export const limitMissing = problem(
  {
    code: "limit-missing",
    severity: "error",
    means: "A criterion has neither at_least nor at_most.",
    advice: "Add one of the two, for example at_least: 0.99.",
  },
  {
    with: ({ criterion, example }: { criterion: string; example: string }) => ({
      found: `no limit in criterion ${quoted(criterion)}`,
      expected: "one of at_least, at_most",
      advice: `Add one, for example ${example}.`,
    }),
  },
);

export const limitDouble = problem(
  {
    code: "limit-double",
    severity: "error",
    means: "A criterion has both at_least and at_most.",
    advice: "Keep one limit, and make a second criterion for the other.",
  },
  {
    with: ({ atLeast, atMost }: { atLeast: number; atMost: number }) => ({
      found: `at_least: ${atLeast} and at_most: ${atMost}`,
      expected: "one of at_least, at_most",
      advice: "Keep one limit here, and make a second criterion for the other.",
    }),
  },
);

/** What a measure objects to in its criterion, in the words of its card. */
const ofMeasure = { with: (words: { found?: string; expected: string; advice: string }) => words };

export const limitOutOfRange = problem(
  {
    code: "limit-out-of-range",
    severity: "error",
    means: "A limit can never be missed or never be met, or has the wrong unit.",
    advice:
      "Write a rate as a fraction between 0 and 1 (0.99), an RSSI in dBm (-65), idle reads in tags a minute.",
  },
  ofMeasure,
);

export const parameterFault = problem(
  {
    code: "criterion-key",
    severity: "error",
    means: "A key that the measure of a criterion asks for is missing, or has a value that it cannot have.",
    advice: "Follow the advice of the message.",
  },
  ofMeasure,
);

export const quantileMissing = problem(
  {
    code: "quantile-missing",
    severity: "error",
    means: "A criterion on the RSSI does not say which quantile it is about.",
    advice: "Add, for example, quantile: 0.05, the value that 95 % of presentations exceed.",
  },
  ofMeasure,
);

export const quantileOutOfRange = problem(
  {
    code: "quantile-out-of-range",
    severity: "error",
    means: "A quantile is not above 0 and below 1.",
    advice: "Write a fraction; 0.05 is usual.",
  },
  ofMeasure,
);

export const worstPassOutOfRange = problem(
  {
    code: "worst-pass-out-of-range",
    severity: "error",
    means: "The share of tags that a bad pass misses is not above what the limit allows, or is above 1.",
    advice: "Write the share of its tags that a bad pass misses, as a fraction: 0.5 for half of them.",
  },
  ofMeasure,
);

export const agreementColumnSame = problem(
  {
    code: "agreement-column-same",
    severity: "error",
    means: "A criterion on agreement compares a column with itself.",
    advice:
      "Name the column that holds what the read point concluded, and the column that holds what was true.",
  },
  ofMeasure,
);

export const rangeEmpty = problem({
  code: "range-empty",
  severity: "error",
  means: "A range has neither from nor to.",
  found: "an empty range",
  expected: "from, to or both",
  advice: "Say from where to where the range goes.",
});

export const rangeReversed = problem(
  {
    code: "range-reversed",
    severity: "error",
    means: "A range starts above its end.",
    advice: "Swap the two: from is the lower end.",
  },
  { with: ({ to }: { to: number }) => ({ expected: `from of at most ${to}` }) },
);

export const bandUnknown = problem(
  {
    code: "band-unknown",
    severity: "error",
    means: "A value is neither a band of its condition nor a number within the bands.",
    advice: "Write a band by its edges, for example 1 to 2, or a number within the bands.",
  },
  {
    with: ({ text, bands }: { text: string; bands: readonly string[] }) => ({
      expected: `a band or a number within the bands: ${listing(bands)}`,
      advice: `${didYouMean(text, bands)}Bands are called by their edges; a range is written { from: ..., to: ... }.`,
    }),
  },
);

export const concessionWithoutFinding = problem(
  {
    code: "concession-without-finding",
    severity: "error",
    means: "A concession names a read point that its criterion does not cover.",
    advice: "Correct the criterion or the read point.",
  },
  {
    with: ({ criterion }: { criterion: string }) => ({
      expected: `a read point of criterion ${quoted(criterion)}`,
      advice:
        "The criterion does not cover this read point, so there is nothing to concede: correct one of the two.",
    }),
  },
);

export const concessionDuplicate = problem(
  {
    code: "concession-duplicate",
    severity: "error",
    means: "There are two concessions for one criterion at one read point.",
    advice: "Keep the one that holds.",
  },
  {
    with: (facts: { criterion: string; readPoint: string; firstLine: number }) => ({
      found: `a second concession for ${quoted(facts.criterion)} at ${quoted(facts.readPoint)}`,
      expected: "one concession for a criterion at a read point",
      advice: `There is already one in line ${facts.firstLine}: keep the one that holds.`,
    }),
  },
);

export const concessionEndsBeforeStart = problem(
  {
    code: "concession-ends-before-start",
    severity: "error",
    means: "A concession ends before it was granted.",
    advice: "Correct until or on.",
  },
  {
    with: ({ on }: { on: string }) => ({
      expected: `a day not before ${on}`,
      advice: "A concession cannot end before it was granted: correct until or on.",
    }),
  },
);

export const retestNotAfterIssue = problem(
  {
    code: "retest-not-after-issue",
    severity: "error",
    means: "The next re-test is not later than the report.",
    advice: "Correct retest.on or report.issued.",
  },
  {
    with: ({ issued }: { issued: string }) => ({
      expected: `a day after ${issued}, the day of issue`,
      advice: "The next re-test comes after the report: correct retest.on or report.issued.",
    }),
  },
);

// The plan.

export const expectedRateOutOfRange = problem(
  {
    code: "expected-rate-out-of-range",
    severity: "error",
    means: "The expected rate of the plan is not above 0 and below 1.",
    advice: "Write the rate as a fraction, for example 0.998.",
  },
  { with: ({ advice }: { advice: string }) => ({ expected: "a rate above 0 and below 1", advice }) },
);

export const planTagsContradict = problem({
  code: "plan-tags-contradict",
  severity: "error",
  means: "The plan names a manifest, and says that other tags go through in each pass.",
  expected: "same_tags: true, or no same_tags, where the plan names a manifest",
  advice: "A manifest is one load, and every pass carries it: remove same_tags or the manifest.",
});

export const planTooLarge = problem(
  {
    code: "plan-too-large",
    severity: "error",
    means: "The plan has more combinations of values than anybody can walk.",
    advice: "Every combination is walked: name fewer values, or fewer columns.",
  },
  {
    with: ({ cells, most }: { cells: number; most: number }) => ({
      found: `${cells} combinations under "each"`,
      expected: `at most ${most}`,
    }),
  },
);

export const planValuesInOneBand = problem(
  {
    code: "plan-values-in-one-band",
    severity: "error",
    means: "Two values of the plan lie in one band of their condition.",
    advice: "Remove one of the two, or split the band.",
  },
  {
    with: ({ first, second, band }: { first: string; second: string; band: string }) => ({
      expected: "each value in a band of its own",
      advice: `${quoted(first)} and ${quoted(second)} both lie in the band ${quoted(band)} and would be counted as one: remove one of them, or split the band.`,
    }),
  },
);

// Entries of reader_logs.

export const readerColumnUnclear = problem(
  {
    code: "reader-column-unclear",
    severity: "error",
    means:
      "A column of a reader log is given by number although the log has a header, or by name although it has none.",
    advice: "Name columns by the header; with header: no, count them from the left, from 1.",
  },
  {
    withoutHeader: () => ({
      expected: "the number of a column, from 1",
      advice: "With header: no the columns have no names: count them from the left, from 1.",
    }),
    withHeader: () => ({
      expected: "the name of a column",
      advice: "Columns go by the names in the header; numbers are for logs without one (header: no).",
    }),
  },
);

export const timeFormatUnused = problem(
  {
    code: "time-format-unused",
    severity: "error",
    means: "A reader log has a format for its times although its times are numbers.",
    advice: "Remove the format, or the unit.",
  },
  {
    with: ({ unit }: { unit: string }) => ({
      expected: "a format only for times in words",
      advice: `Times in ${unit} are numbers: remove the format, or the unit.`,
    }),
  },
);

export const pathOutside = problem({
  code: "path-outside",
  severity: "error",
  means: "A file is named that lies outside the facility's folder.",
  expected: "a path below the facility's folder, with /",
  advice:
    "Put the file into the facility's folder, a reader log for example into reads/, and name it from there.",
});

export const readerLogsUnused = problem({
  code: "reader-logs-unused",
  severity: "warning",
  means: "facility.yaml names reader logs, but no pass takes its reads from them.",
  found: "reader_logs, but no timed pass that could use them",
  expected:
    "timed passes: a row a pass with manifest, started_at and ended_at, and no column of tags or counts, so that the reads come from the reader's log",
  advice:
    "What was read is taken from the pass logs alone. If the reader's log is to tell it, log the passes so: of a log with missed_tags, remove that column. To check a log kept by hand against the reader's, put both into passes/ and write compare_with_reader: true.",
});

// The radio of a round.

export const radioLimitUnstated = problem(
  {
    code: "radio-limit-unstated",
    severity: "error",
    means: "A limit of radiated power is to hold that is not stated, or has no source.",
    advice: "State limit_dbm_eirp or limit_dbm_erp, and its source.",
  },
  {
    limit: () => ({
      expected: "limit_dbm_eirp or limit_dbm_erp, with a source, where the region is other",
      advice: "Look up what the rule of your country allows, and state it with its source.",
    }),
    source: () => ({
      expected: "a source beside the limit",
      advice: "Add source: the rule, licence or agreement that the limit comes from.",
    }),
  },
);

export const radioStatedTwice = problem(
  {
    code: "radio-stated-twice",
    severity: "error",
    means: "A limit or a gain is stated in two ways.",
    advice: "Keep the one that the rule or the data sheet states, and remove the other.",
  },
  {
    limit: ({ eirp }: { eirp: number }) => ({
      expected: `2.15 dB less than limit_dbm_eirp, ${eirp}`,
      advice: "e.r.p. is 2.15 dB less than EIRP: keep the one that the rule states, and remove the other.",
    }),
    gain: () => ({
      expected: "either antenna_gain_dbi or antenna_gain_dbic",
      advice:
        "dBic is the gain of a circular antenna, about 3 dB above its gain in one plane: keep the one that the data sheet states.",
    }),
  },
);

export const radioFrequencyOutside = problem(
  {
    code: "radio-frequency-outside",
    severity: "error",
    means: "A frequency lies outside the band of its region.",
    advice: "Correct the frequency or the region.",
  },
  {
    with: ({ region, from, to }: { region: string; from: number; to: number }) => ({
      expected: `${from} to ${to} MHz in region ${region}`,
    }),
  },
);

export const radioPowerUnknown = problem(
  {
    code: "radio-power-unknown",
    severity: "warning",
    means: "A radio has a limit, but what it radiates cannot be computed.",
    advice: "State the power in the round's settings, as transmit_power_dbm, and the antenna's gain.",
  },
  {
    with: ({ lacking }: { lacking: string[] }) => ({
      expected: joined(lacking),
      advice: "Without it nobody is told whether the limit is kept.",
    }),
  },
);

export const radioOverLimit = problem(
  {
    code: "radio-over-limit",
    severity: "warning",
    means: "A radio is set to radiate more than its limit allows.",
    advice:
      "Lower the power, or ask the person responsible for the radio licence. Passes walked over the limit say nothing of how the read point reads within it.",
  },
  {
    with: ({ readPoint, radio }: { readPoint: string; radio: RadioResult }) => ({
      found: `${quoted(readPoint)} at ${dB(radio.eirpDbm!)} dBm EIRP (${dB(radio.conductedDbm!)} dBm at the antenna) in round ${quoted(radio.round)}`,
      expected: `at most ${dB(radio.limitDbm!)} dBm EIRP${radio.conductedLimitDbm === null ? "" : ` and ${dB(radio.conductedLimitDbm)} dBm at the antenna`}: ${radio.source}`,
    }),
  },
);

const dB = (value: number) => value.toFixed(2).replace(/\.?0+$/, "");

// What must not be signed.

const signedLast = "Until then the sign-off sheet is marked as not ready.";

export const placeholderUnchanged = problem(
  {
    code: "placeholder-unchanged",
    severity: "warning",
    means:
      "A text is still the placeholder that `proofwalk new` wrote, or a criterion is still its proposal.",
    advice: "Put in what is true, or remove the line. Take the word off a proposal once it is agreed.",
  },
  {
    text: ({ name, text }: Placeholder) => ({
      found: quoted(`${name}: ${text}`),
      expected: "what is true of this facility",
      advice: `\`proofwalk new\` wrote this to be replaced, and marked it "change" in the file: put in what is true, or remove the line. ${signedLast}`,
    }),
    proposal: ({ name, text }: Placeholder) => ({
      found: quoted(`${name}: ${text}`),
      expected: "a requirement that was agreed",
      advice: `Agree on the criterion and its limit, and take the word "Proposal:" off its title. ${signedLast}`,
    }),
  },
);

interface Placeholder {
  name: string;
  text: string;
}

export const roleIsOrganisation = problem(
  {
    code: "role-is-organisation",
    severity: "warning",
    means: "A person who signs has the name of an organisation, or one for a role.",
    advice: "Name the person under name, what the person does under role, and the firm under organisation.",
  },
  {
    name: ({ organisation }: { organisation: string }) => ({
      expected: "the name of a person",
      advice: `${quoted(organisation)} is an organisation, and a person signs. Name the person, and put the firm under organisation.`,
    }),
    role: ({ organisation }: { organisation: string }) => ({
      expected: "what the person does, for example commissioning engineer",
      advice: `${quoted(organisation)} is an organisation and not a role. Put it under organisation, and the person's function under role.`,
    }),
  },
);
