import { Role } from "../../model/pass-log.ts";
import { pauseNeededS, persistences } from "../../model/radio/inventory.ts";
import { statedSession } from "../../model/radio/setting-names.ts";
import { pauseTooShort } from "../problems/log-rules.ts";
import type { FacilityLogs } from "./read.ts";
import type { LogPass } from "./rows/passes.ts";

interface DatedPass {
  pass: LogPass;
  startUs: number;
  endUs: number;
}

/**
 * Pauses between passes that are shorter than tags keep silent for in the round's session, where both passes present a tag. Where every time
 * of a read point in a round is on the full minute, pauses are not known well enough.
 */
export function checkPauses(logs: FacilityLogs): void {
  const places = new Map<string, LogPass[]>();
  for (const pass of logs.passes) {
    const key = `${pass.round} ${pass.readPoint}`;
    const own = places.get(key);
    if (own === undefined) places.set(key, [pass]);
    else own.push(pass);
  }
  const pairs = [...places.values()].flatMap((passes) => shortPauses(passes, logs));
  if (pairs.length === 0) return;
  const tags = tagsOf(new Set(pairs.flatMap(({ earlier, later }) => [earlier.number, later.number])), logs);
  for (const { earlier, later, pauseS, session } of pairs) {
    const own = tags.get(later.number) ?? new Set();
    const shared = [...(tags.get(earlier.number) ?? [])].filter((tag) => own.has(tag)).length;
    if (shared === 0) continue;
    const place = { record: later.startedAt!.at, field: later.file.header.fields.get("started_at")! };
    const { fromS, toS } = persistences[session]!;
    later.file.report.at(
      place,
      pauseTooShort.with({ pass: later.id, before: earlier.id, session, pauseS, fromS, toS, tags: shared }),
    );
  }
}

function shortPauses(
  passes: readonly LogPass[],
  { facility }: FacilityLogs,
): { earlier: LogPass; later: LogPass; pauseS: number; session: string }[] {
  const { round, readPoint } = passes[0]!;
  const id = facility.readPoints[readPoint]?.id;
  const session = id === undefined ? null : statedSession(facility.rounds[round]?.settings[id] ?? {});
  const persistence = session === null ? null : persistences[session]!;
  if (session === null || persistence === null) return [];
  const dated = passes
    .flatMap((pass): DatedPass[] =>
      pass.startedAt === null || pass.endedAt === null
        ? []
        : [{ pass, startUs: pass.startedAt.time.epochUs, endUs: pass.endedAt.time.epochUs }],
    )
    .sort((a, b) => a.startUs - b.startUs || a.pass.number - b.pass.number);
  const minuteUs = 60e6;
  if (dated.every(({ startUs, endUs }) => startUs % minuteUs === 0 && endUs % minuteUs === 0)) return [];
  return dated.slice(1).flatMap((later, i) => {
    const earlier = dated[i]!;
    const pauseS = (later.startUs - earlier.endUs) / 1e6;
    if (pauseS >= pauseNeededS(persistence)) return [];
    return [{ earlier: earlier.pass, later: later.pass, pauseS: Math.max(0, pauseS), session }];
  });
}

/** The tags that each of some passes presents. */
function tagsOf(wanted: ReadonlySet<number>, { table }: FacilityLogs): Map<number, Set<number>> {
  const found = new Map<number, Set<number>>();
  const { pass, role, tag, length } = table;
  for (let row = 0; row < length; row += 1) {
    if (!wanted.has(pass[row]!) || role[row] !== Role.presented || tag[row]! < 0) continue;
    const own = found.get(pass[row]!) ?? new Set();
    found.set(pass[row]!, own.add(tag[row]!));
  }
  return found;
}
