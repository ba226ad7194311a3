import { bystanderReadRate } from "../../measures/bystander-read-rate.ts";
import { completePassRate } from "../../measures/complete-pass-rate.ts";
import type { Measure } from "../../measures/measure.ts";
import { strayPassRate } from "../../measures/stray-pass-rate.ts";
import { tagReadRate } from "../../measures/tag-read-rate.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { Facility } from "../../model/facility.ts";
import { noRssi, type PassLog, Role } from "../../model/pass-log.ts";
import type { RoundResult } from "../../model/result.ts";
import { matchAll, type RowIndex } from "../../model/rows.ts";
import { countAntennas } from "./antennas.ts";
import { breakDown, crossConditions } from "./conditions-walked.ts";
import { summariseHeard } from "./heard-summary.ts";
import { rankMissedTags } from "./missed-tags.ts";
import { listPasses } from "./passes-walked.ts";
import { summariseRssi } from "./rssi-summary.ts";

/** What one round showed at one read point, over every pass made there; nothing walked gives zeros and no rates. */
export function describeRound(
  facility: Facility,
  log: PassLog,
  index: RowIndex,
  readPoint: string,
  round: string,
): RoundResult {
  const rows = index.rowsAt({ readPoint, round });
  const passes = index.passesAt({ readPoint, round });
  const match = matchAll;
  const rateOf = (measure: Measure, withVoids = false): Estimate =>
    measure.collect({ log, rows, match, readPoint, round, withVoids }, {}).estimate(facility);
  const tagsRead = rateOf(tagReadRate);
  const withVoids = rateOf(tagReadRate, true);
  const valid = passes.filter((pass) => log.passes[pass]!.voidReason === null);
  const readRows = rowsRead(rows, log);
  return {
    id: round,
    passes: valid.length,
    voidPasses: passes.length - valid.length,
    tagsPresented: tagsRead.n,
    tagsRead: tagsRead.k,
    tagReadRate: tagsRead,
    completePassRate: rateOf(completePassRate),
    strayPassRate: rateOf(strayPassRate),
    bystanderReadRate: rateOf(bystanderReadRate),
    withVoids: { tagsPresented: withVoids.n, tagsRead: withVoids.k, tagReadRate: withVoids },
    byCondition: breakDown(facility, readPoint, rows, log),
    grids: crossConditions(facility, readPoint, rows, log),
    rssi: summariseRssi(readRows.map((row) => log.rows.rssiDbm[row]!).filter((level) => level !== noRssi)),
    antennas: countAntennas(readRows, log),
    heard: summariseHeard(log, passes, rows, { readPoint, round }, facility),
    missedTags: rankMissedTags(rows, log),
    passList: listPasses(facility, passes, rows, log),
  };
}

/** The rows of tags that were presented and read in valid passes. */
function rowsRead(rows: Int32Array, log: PassLog): number[] {
  const { pass, role, reads, tag } = log.rows;
  const found: number[] = [];
  for (const row of rows) {
    if (role[row] !== Role.presented || tag[row] === -1 || reads[row] === 0) continue;
    if (log.passes[pass[row]!]!.voidReason === null) found.push(row);
  }
  return found;
}
