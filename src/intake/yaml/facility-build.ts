import { measures } from "../../measures/index.ts";
import type {
  Concession,
  Condition,
  Criterion,
  Facility,
  OpenPoint,
  Party,
  ReadPoint,
  Round,
  WhereClause,
} from "../../model/facility.ts";
import type {
  WrittenCondition,
  WrittenCriterion,
  WrittenFacility,
  WrittenReadPoint,
  WrittenRound,
} from "../facility-schema.ts";
import { isTimeZone } from "../time-zone.ts";
import { builtPlan } from "./plan-build.ts";
import { builtReaderLog } from "./reader-log-build.ts";
import { valueAt } from "./schema-faults.ts";
import type { WrittenSections } from "./written-facility.ts";

/**
 * The facility with its defaults filled in. Where facility.yaml has errors it is a draft, good for checking the logs
 * against and nothing else; null where not even that can be made.
 */
export function builtFacility(id: string, sections: WrittenSections): Facility | null {
  const rounds = sections.rounds.map(({ value }) => builtRound(value));
  // A malformed round is still one that the logs may name.
  for (const name of sections.ids.rounds) {
    if (!rounds.some((round) => round.id === name)) rounds.push(builtRound({ id: name }));
  }
  if (rounds.length === 0) return null;
  const whole: Partial<WrittenFacility> = sections.whole ?? {};
  const signOffRound = whole.sign_off_round ?? rounds.at(-1)!.id;
  const points = sections.readPoints.map(({ value }) => builtReadPoint(value, signOffRound));
  for (const name of sections.ids.readPoints) {
    if (!points.some((point) => point.id === name)) points.push(builtReadPoint({ id: name }, signOffRound));
  }
  const conditions = sections.conditions.map(({ value }) => builtCondition(value));
  for (const column of sections.ids.columns) {
    if (!conditions.some((condition) => condition.column === column))
      conditions.push(builtCondition({ column }));
  }
  const plan = whole.floor_plan;
  return {
    id,
    name: whole.name ?? id,
    client: whole.client ?? null,
    address: whole.address ?? null,
    timeZone: zoneOf(sections),
    report: whole.report ?? null,
    preparedBy: whole.prepared_by == null ? null : builtParty(whole.prepared_by),
    witnessedBy: (whole.witnessed_by ?? []).map(builtParty),
    confidence: whole.confidence ?? 0.95,
    interval: whole.interval ?? "wilson",
    missCorrelation: whole.miss_correlation ?? 0.02,
    smallestChangeThatMatters: whole.smallest_change_that_matters ?? 0.005,
    rounds,
    signOffRound,
    readPoints: points,
    conditions,
    criteria: sections.criteria.map(({ value }) =>
      builtCriterion(
        value,
        points.map((point) => point.id),
      ),
    ),
    concessions: sections.concessions.map(
      ({ value }): Concession => ({
        criterion: value.criterion,
        readPoint: value.read_point,
        grantedBy: value.granted_by,
        on: value.on ?? null,
        until: value.until ?? null,
        reason: value.reason ?? null,
      }),
    ),
    openPoints: sections.openPoints.map(
      ({ value }): OpenPoint => ({
        id: value.id,
        readPoint: value.read_point ?? null,
        text: value.text,
        owner: value.owner ?? null,
        due: value.due ?? null,
        closed: value.closed ?? null,
      }),
    ),
    floorPlan:
      plan == null ? null : { widthMetres: plan.width_m, depthMetres: plan.depth_m, areas: plan.areas ?? [] },
    readerLogs: sections.readerLogs.map(({ value }) => builtReaderLog(value)),
    passWindow: {
      beforeS: whole.pass_window?.before_s ?? 0,
      afterS: whole.pass_window?.after_s ?? 0,
    },
    plan:
      sections.plan === null
        ? null
        : builtPlan(
            sections.plan.value,
            points.map((point) => point.id),
          ),
  };
}

/** A zone that was stated and is none has been objected to already: the logs are not blamed for it. */
function zoneOf(sections: WrittenSections): string | null {
  const zone = valueAt(sections.tree.value, ["time_zone"]) ?? null;
  if (zone === null) return null;
  return typeof zone === "string" && isTimeZone(zone) ? zone : "UTC";
}

function builtParty(party: NonNullable<WrittenFacility["prepared_by"]>): Party {
  return { name: party.name, organisation: party.organisation ?? null, role: party.role ?? null };
}

function builtRound(round: WrittenRound): Round {
  const settings = Object.entries(round.settings ?? {}).map(
    ([point, values]) => [point, texts(values ?? {})] as const,
  );
  return {
    id: round.id,
    title: round.title ?? round.id,
    date: round.date ?? null,
    changes: round.changes ?? null,
    settings: Object.fromEntries(settings),
  };
}

function builtCondition(condition: WrittenCondition): Condition {
  return {
    column: condition.column,
    label: condition.label ?? condition.column,
    unit: condition.unit ?? null,
    bands: condition.bands ?? null,
  };
}

function builtReadPoint(point: WrittenReadPoint, signOffRound: string): ReadPoint {
  return {
    id: point.id,
    name: point.name ?? point.id,
    kind: point.kind ?? null,
    at: point.at ?? null,
    equipment: texts(point.equipment ?? {}),
    signOffRound: point.sign_off_round ?? signOffRound,
  };
}

function texts(values: Record<string, unknown>): Record<string, string> {
  const filled = Object.entries(values).filter(([, value]) => value !== null);
  return Object.fromEntries(filled.map(([key, value]) => [key, String(value)]));
}

function builtCriterion(written: WrittenCriterion, everyReadPoint: string[]): Criterion {
  const atMost = written.at_least == null && written.at_most != null;
  return {
    id: written.id,
    title: written.title ?? written.id,
    measure: written.measure,
    limit: written.at_least ?? written.at_most ?? Number.NaN,
    sense: atMost ? "at-most" : "at-least",
    readPoints: written.read_points ?? everyReadPoint,
    where: Object.entries(written.where ?? {}).map(([column, where]): WhereClause => {
      if (Array.isArray(where)) return { column, kind: "values", values: where.map(String) };
      if (where === null || typeof where !== "object")
        return { column, kind: "values", values: [String(where)] };
      return { column, kind: "range", from: where.from ?? null, to: where.to ?? null };
    }),
    forEach: written.for_each ?? [],
    minimumPasses: written.minimum_passes ?? 1,
    ...parametersOf(written),
  };
}

/** Those of all measures: null where the criterion does not state one. */
function parametersOf(written: WrittenCriterion): Record<string, unknown> {
  const keys = measures.all().flatMap(({ criterion }) => Object.keys(criterion?.parameters ?? {}));
  return Object.fromEntries(keys.map((key) => [key, written[key] ?? null]));
}
