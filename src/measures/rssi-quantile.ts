import { signOffInterval } from "../intervals/index.ts";
import type { Basis, Limit } from "../intervals/interval.ts";
import { counted, countText, statedPercent } from "../model/number-words.ts";
import { noRssi, type PassLog, Role } from "../model/pass-log.ts";
import type { Remark } from "../model/result/remark.ts";
import { presentationRows } from "../model/rows.ts";
import { levelEvidence } from "./evidence/levels.ts";
import type { Measure } from "./measure.ts";
import { differentTags, PresentationCounter } from "./presentations.ts";
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
    const rows: number[] = [];
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
      rows.push(row);
    }
    readDbm.sort((a, b) => a - b);
    const quantile = quantileOf(criterion) ?? 0.5;
    const evidence = levelEvidence({
      levels: { censored: missed, values: readDbm },
      quantile,
      passes: passes.size,
      tags: () => differentTags(selection, (pass) => passes.has(pass)),
      remarks: silent.size > 0 ? [{ code: "rssi-not-recorded", passes: silent.size }] : [],
    });
    return {
      ...evidence,
      remarksAt: (basis, limit) =>
        evidence.isEmpty || evidence.decide(limit, basis) !== "met"
          ? []
          : remarkIfAlike({ log, rows: Int32Array.from(rows), quantile }, limit, basis),
    };
  },
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "tag", "tags")} read`,
    fault: "one on the wrong side of the limit",
    figure: ({ value }, criterion) => {
      const quantile = quantileOf(criterion);
      const weakest =
        quantile === null
          ? "the required quantile"
          : `the weakest ${statedPercent(quantile)} of presentations`;
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

/**
 * A remark where the share of presentations on the good side of the limit, judged as a rate by the interval to sign off by, does not
 * show what the criterion asks for: the order statistics that judge take presentations as independent.
 */
function remarkIfAlike(
  { log, rows, quantile }: { log: PassLog; rows: Int32Array; quantile: number },
  { sense, limit }: Limit,
  basis: Basis,
): Remark[] {
  const { rssiDbm, tagsRead } = log.rows;
  const isGood = (row: number) => {
    const level = tagsRead[row] === 0 ? Number.NEGATIVE_INFINITY : rssiDbm[row]!;
    return sense === "at-least" ? level >= limit : level <= limit;
  };
  const { counts } = new PresentationCounter(log).count(rows, (row) => (isGood(row) ? 1 : 0));
  const share = sense === "at-least" ? 1 - quantile : quantile;
  const decision = signOffInterval().decide(counts, { sense: "at-least", limit: share }, basis);
  const { k, n } = counts;
  return decision === "met" ? [] : [{ code: "signal-alike", k, n, share, limitDbm: limit, sense }];
}
