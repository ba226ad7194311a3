import { z } from "zod";
import { counted, countText } from "../model/number-words.ts";
import { Role } from "../model/pass-log.ts";
import { matchingRows, type Selection } from "../model/rows.ts";
import { passesEvidence } from "./evidence/rates.ts";
import type { CriterionFault, Measure, Parameters } from "./measure.ts";
import { differentTags } from "./presentations.ts";
import { percent } from "./scales.ts";

const keys = ["observed", "expected"] as const;

/**
 * Passes in which the column `observed` says what the column `expected` says: the direction, the carrier's badge with
 * the item. A pass counts where any of its matching rows has `expected` filled, and agrees where all those rows do;
 * a blank observation does not agree.
 */
export const agreementRate: Measure = {
  id: "agreement-rate",
  title: "Passes in agreement",
  unit: { one: "pass", many: "passes" },
  scale: percent,
  usualSense: "at-least",
  criterion: {
    parameters: {
      observed: columnOf("For agreement-rate: the column that says what the read point concluded."),
      expected: columnOf("For agreement-rate: the column that says what was true."),
    },
    faults: (written) => {
      const missing = keys.filter((key) => written[key] == null).map(missingColumn);
      if (missing.length > 0 || written.observed !== written.expected) return missing;
      return [
        {
          key: "observed",
          code: "agreement-column-same",
          expected: "two different columns",
          advice:
            "A column always agrees with itself: name the column that holds what the read point concluded.",
        },
      ];
    },
  },
  log: {
    roles: [Role.presented, Role.nothing],
    enters: ({ isFilled }, criterion) => isFilled(comparedColumns(criterion).expected),
    columns: (criterion) => {
      const { observed, expected } = comparedColumns(criterion);
      if (observed === "" || expected === "") return [];
      return [
        {
          column: String(expected),
          severity: "warning",
          code: "agreement-column-missing",
          purpose: `compares with ${observed}`,
          advice: "These passes do not enter the criterion. Add the column if what was true is known.",
        },
        {
          column: String(observed),
          severity: "error",
          code: "agreement-column-missing",
          purpose: `compares with ${expected}`,
          advice: "Add the column with what the read point concluded: blank where it concluded nothing.",
        },
      ];
    },
  },
  collect: (selection, criterion) => {
    const agreeing = comparePasses(selection, comparedColumns(criterion));
    return passesEvidence(agreeing, { tags: () => differentTags(selection, (pass) => agreeing.has(pass)) });
  },
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "pass", "passes")} in agreement`,
    fault: "a disagreement",
  },
  plan: {
    trials: "passes",
    countsPresented: false,
    expected: ({ readRate }) => readRate,
    phrase: (rate) => `${rate} of the passes agree`,
  },
  method: {
    counts: "passes in which the observed value equals the expected one, for example the direction",
    of: "passes with an expected value",
  },
};

function columnOf(description: string) {
  return {
    schema: z.string().regex(/\S/).meta({ digitsToo: true }).nullish().meta({ description }),
    namesColumn: true,
  };
}

function missingColumn(key: string): CriterionFault {
  return {
    key: null,
    code: "agreement-column-missing",
    lacks: key,
    expected: `${key}, the name of a column`,
    advice: "agreement-rate compares two columns of the pass log: name both observed and expected.",
  };
}

function comparedColumns({ observed, expected }: Parameters): { observed: string; expected: string } {
  return { observed: String(observed ?? ""), expected: String(expected ?? "") };
}

/** By pass that has an expectation: whether it agrees. */
function comparePasses(
  selection: Selection,
  names: { observed: string; expected: string },
): Map<number, boolean> {
  const { pass, columns } = selection.log.rows;
  const agreeing = new Map<number, boolean>();
  const expected = columns.get(names.expected);
  const observed = columns.get(names.observed);
  if (expected === undefined) return agreeing;
  for (const row of matchingRows(selection)) {
    const number = pass[row]!;
    const wanted = expected.index[row]!;
    if (wanted === -1) continue;
    const seen = observed?.index[row] ?? -1;
    const agrees = seen !== -1 && observed!.values[seen] === expected.values[wanted];
    agreeing.set(number, (agreeing.get(number) ?? true) && agrees);
  }
  return agreeing;
}
