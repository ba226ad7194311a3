import type { Finding } from "../../src/model/result/finding.ts";
import type { Result } from "../../src/model/result/result.ts";
import { worstState } from "../../src/model/state.ts";
import { Draw } from "../fuzz/draw.ts";

/** The most of a usual facility: the demonstration's larger one. */
const usual = { readPoints: 6, findings: 25, openPoints: 4, concessions: 1 };

/** How much a sheet is made to hold. */
interface Length {
  result: Result;
  /** Whether it holds no more than a usual facility, in texts no longer than the demonstration's. */
  isUsual: boolean;
}

/** A facility made of the demonstration's parts, more of them or fewer, with texts once to three times as long. */
export function facilityOfLength(bases: readonly Result[], seed: number): Length {
  const draw = new Draw(seed);
  const base = draw.of(bases);
  const times = 1 + Math.max(0, draw.below(5) - 2);
  const long = (text: string) => Array.from({ length: times }, () => text).join(" ");
  const several = <T>(list: readonly T[], count: number, as: (entry: T, copy: number) => T): T[] =>
    list.length === 0
      ? []
      : Array.from({ length: count }, (_, i) => {
          const entry = list[i % list.length]!;
          const copy = Math.floor(i / list.length);
          return copy === 0 ? entry : as(entry, copy);
        });
  const copyOf = (id: string, copy: number) => `${id}-copy-${copy}`;
  const named = several(base.readPoints, 1 + draw.below(10), (point, copy) => ({
    ...point,
    id: copyOf(point.id, copy),
    name: `${point.name}, bay ${copy + 1}`,
  }));
  const most = 1 + draw.below(12);
  const findings = named.flatMap(({ id }): Finding[] => {
    const of = base.findings.filter(
      ({ readPoint }) => id === readPoint || id.startsWith(`${readPoint}-copy-`),
    );
    return of.slice(0, most).map((finding) => ({ ...finding, readPoint: id }));
  });
  const readPoints = named.map((point) => {
    const own = findings.filter(({ readPoint }) => readPoint === point.id);
    return { ...point, state: worstState(own.map(({ state }) => state)) };
  });
  const anyPoint = () => draw.of(readPoints).id;
  const openPoints = several(base.openPoints, draw.below(9), (point, copy) => ({
    ...point,
    id: `${point.id}${copy}`,
  })).map((point) => ({ ...point, text: long(point.text), readPoint: anyPoint() }));
  const concessions = several(base.concessions, draw.below(4), (entry) => entry).map((entry) => ({
    ...entry,
    readPoint: anyPoint(),
    reason: long(entry.reason ?? "Accepted for the time being."),
  }));
  const result: Result = {
    ...base,
    facility: {
      ...base.facility,
      address: draw.below(2) === 0 ? null : long(base.facility.address ?? "Here"),
    },
    witnessedBy: several(base.witnessedBy, draw.below(4), (party) => party),
    retest:
      draw.below(2) === 0
        ? null
        : { on: "2027-05-21", why: long("yearly, and after any change of antennas") },
    criteria: base.criteria.map((criterion) => ({ ...criterion, title: long(criterion.title) })),
    readPoints,
    findings,
    openPoints,
    concessions,
    plan: draw.below(2) === 0 ? null : base.plan,
  };
  const isUsual =
    times === 1 &&
    readPoints.length <= usual.readPoints &&
    findings.length <= usual.findings &&
    openPoints.length <= usual.openPoints &&
    concessions.length <= usual.concessions;
  return { result, isUsual };
}
