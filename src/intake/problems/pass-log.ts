import { problem } from "./problem.ts";
import { quoted } from "./wording.ts";

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
