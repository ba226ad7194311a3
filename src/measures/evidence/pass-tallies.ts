import { Role } from "../../model/pass-log.ts";
import { countedRows, Match, type Selection } from "../../model/rows.ts";

/** The counts of one pass over its selected rows. */
export interface PassTally {
  pass: number;
  presented: number;
  read: number;
  /** Codes read that were not presented. */
  strays: number;
}

/**
 * One tally per pass with a matching row, in the order walked. A stray of unknown condition counts with its pass if another
 * row of the pass matches.
 */
export function tallyPasses(selection: Selection): PassTally[] {
  const { log, match } = selection;
  const { pass, role, presentations, tagsRead } = log.rows;
  const tallies = new Map<number, PassTally>();
  const unplaced = new Map<number, number>();
  let tally: PassTally | undefined;
  for (const row of countedRows(selection)) {
    const number = pass[row]!;
    const answer = match(row);
    if (answer === Match.no) continue;
    const strayReads = role[row] === Role.notPresented || role[row] === Role.stray ? tagsRead[row]! : 0;
    if (answer === Match.unplaced) {
      unplaced.set(number, (unplaced.get(number) ?? 0) + strayReads);
      continue;
    }
    // Rows of one pass mostly lie together.
    if (tally?.pass !== number) tally = tallies.get(number);
    if (tally === undefined) {
      tally = { pass: number, presented: 0, read: 0, strays: log.passes[number]!.tallyStrays ?? 0 };
      tallies.set(number, tally);
    }
    tally.strays += strayReads;
    if (role[row] === Role.presented) {
      tally.presented += presentations[row]!;
      tally.read += tagsRead[row]!;
    }
  }
  for (const [number, strays] of unplaced) {
    const tally = tallies.get(number);
    if (tally !== undefined) tally.strays += strays;
  }
  return [...tallies.values()].sort((a, b) => a.pass - b.pass);
}
