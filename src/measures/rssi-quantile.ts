import { counted, countText, statedNumber, thinSpace } from "../model/number-words.ts";
import { noRssi, Role } from "../model/pass-log.ts";
import { presentationRows } from "../model/rows.ts";
import { levelEvidence } from "./evidence/levels.ts";
import type { Measure } from "./measure.ts";
import { differentTags } from "./presentations.ts";
import { quantileNeeds, quantileOf } from "./quantile.ts";
import { dbm, onMissed, withUnit } from "./scales.ts";

/**
 * A quantile of each presentation's strongest read, in dBm; a missed presentation ranks below every read one. Passes
 * whose log has no RSSI are left out whole, so that their misses do not stand without their reads.
 */
export const rssiQuantile: Measure = {
  id: "rssi-quantile",
  title: "Signal strength",
  unit: { one: "presentation", many: "presentations" },
  scale: dbm,
  usualSense: "at-least",
  criterion: quantileNeeds({
    measure: "rssi-quantile",
    example: 0.05,
    means: "the value that 95 % of presentations exceed",
  }),
  log: { roles: [Role.presented], rssi: true },
  collect: (selection, criterion) => {
    const { log } = selection;
    const { pass, tagsRead, rssiDbm } = log.rows;
    const passes = new Set<number>();
    const silent = new Set<number>();
    const readDbm: number[] = [];
    let missed = 0;
    for (const row of presentationRows(selection)) {
      const number = pass[row]!;
      if (!log.passes[number]!.rssiRecorded) {
        silent.add(number);
        continue;
      }
      if (tagsRead[row] === 0) missed += 1;
      else if (rssiDbm[row] !== noRssi) readDbm.push(rssiDbm[row]!);
      else continue;
      passes.add(number);
    }
    readDbm.sort((a, b) => a - b);
    return levelEvidence({
      levels: { censored: missed, values: readDbm },
      quantile: quantileOf(criterion) ?? 0.5,
      passes: passes.size,
      tags: () => differentTags(selection, (pass) => passes.has(pass)),
      remarks: silent.size > 0 ? [{ code: "rssi-not-recorded", passes: silent.size }] : [],
    });
  },
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "tag", "tags")} read`,
    fault: "one on the wrong side of the limit",
    nothing: "No tag was presented.",
    figure: ({ value }, criterion) => {
      const quantile = quantileOf(criterion);
      const weakest =
        quantile === null
          ? "the required quantile"
          : `the weakest ${statedNumber(quantile * 100)}${thinSpace}% of presentations`;
      return value === onMissed
        ? `${weakest} fall on missed tags`
        : `${weakest} lie at or below ${withUnit(value, dbm)}`;
    },
  },
  plan: null,
  method: {
    counts:
      "the strongest signal of each presentation, and of these the value that a stated share lies at or below",
    of: "presentations; a missed one ranks below every one that was read",
  },
};
