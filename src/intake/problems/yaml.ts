import { problem } from "./problem.ts";

/* What facility.yaml says. */

export const facilityBlank = problem(
  {
    code: "facility-blank",
    severity: "error",
    means: "facility.yaml is blank, or holds something other than keys with values.",
    advice: "Run `proofwalk new DIR` for a commented facility.yaml to start from.",
  },
  {
    with: ({ isNothing }: { isNothing: boolean }) => ({
      found: isNothing ? "nothing" : "something other than keys with values",
      expected: "name, rounds and read_points",
    }),
  },
);
