import { changeTable, dayTable } from "./change-table.ts";
import { hardTable, untilMet } from "./hard-walks.ts";
import { stayTable } from "./idle-stays.ts";
import { powerLimitTable } from "./power-limits.ts";
import { said } from "./share.ts";
import { signOffTable } from "./sign-off-table.ts";
import { signalTable } from "./signal-walks.ts";

/** Every simulation, each from its own seeds: says its tables line by line, and returns what the pages state of them. */
export function simulate(walks: number, say: (line: string) => void) {
  const looks = untilMet(walks, 4001);
  say(`Until met: ${JSON.stringify(looks)}`);
  const powerLogs = said(powerLimitTable(walks, 6001), say);
  const signals = said(signalTable(walks, 7001), say);
  const idleReads = said(stayTable(walks, 5001), say);
  const hardWalks = said(hardTable(walks, 3001), say);
  const wrongSignOffs = said(signOffTable(walks, 1), say);
  const falseChanges = said(changeTable(walks, 1001), say);
  const dayEffects = said(dayTable(walks, 3001), say);
  return {
    wrongSignOffs,
    hardWalks,
    untilMet: looks,
    powerLogs,
    signals,
    idleReads,
    falseChanges,
    dayEffects,
  };
}
