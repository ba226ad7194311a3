import { noRssi, Role } from "../model/pass-log.ts";
import { Match } from "../model/rows.ts";
import type { Measure } from "./evidence.ts";

/**
 * A quantile of each presentation's strongest read, in dBm; a missed presentation ranks below every read one. Passes
 * whose log has no RSSI are left out whole, so that their misses do not stand without their reads.
 */
export const rssiQuantile: Measure = {
  unit: "presentations",
  gather: (selection, criterion) => {
    const { log, rows, match, withVoids } = selection;
    const { pass, role, presentations, reads, rssiDbm } = log.rows;
    const passes = new Set<number>();
    const silent = new Set<number>();
    const readDbm: number[] = [];
    let missed = 0;
    for (const row of rows) {
      const number = pass[row]!;
      if (role[row] !== Role.presented || presentations[row] === 0) continue;
      if (!withVoids && log.passes[number]!.voidReason !== null) continue;
      if (match(row) !== Match.yes) continue;
      if (!log.passes[number]!.rssiRecorded) {
        silent.add(number);
        continue;
      }
      if (reads[row] === 0) missed += 1;
      else if (rssiDbm[row] !== noRssi) readDbm.push(rssiDbm[row]!);
      else continue;
      passes.add(number);
    }
    readDbm.sort((a, b) => a - b);
    return {
      kind: "levels",
      passes: passes.size,
      levels: { missed, readDbm },
      quantile: criterion.quantile ?? 0.5,
      remarks: silent.size > 0 ? [{ code: "rssi-not-recorded", passes: silent.size }] : [],
    };
  },
};
