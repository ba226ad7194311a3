import { problem } from "./problem.ts";
import { listing, quoted } from "./wording.ts";

/* What pass logs and manifests say. */

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
  },
);

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
