import type { Concession, Facility, ReadPoint, Report } from "../model/facility.ts";
import { byCodePoint } from "../model/order.ts";
import type { FacilityInput } from "../model/pass-log.ts";
import type { ConcessionResult, Finding } from "../model/result/finding.ts";
import type { ReadPointResult } from "../model/result/read-point.ts";
import type { Remark } from "../model/result/remark.ts";
import type { Result } from "../model/result/result.ts";
import { indexRows } from "../model/rows.ts";
import { worstState } from "../model/state.ts";
import { compareRounds } from "./comparison/compare-rounds.ts";
import { diagnose } from "./diagnosis/diagnose.ts";
import { judgedOtherwise } from "./findings/cautions.ts";
import { makeFindings } from "./findings/make-findings.ts";
import { planResult } from "./plan/plan-result.ts";
import { pseudonymised } from "./pseudonyms.ts";
import { describeRadio } from "./radio/describe-radio.ts";
import { powerResults } from "./radio/power-curves.ts";
import { recordOf } from "./record.ts";
import { basisOf, pseudonymsOf } from "./result-head.ts";
import { shownConditions } from "./rounds/by-condition.ts";
import { describeRound } from "./rounds/describe-round.ts";

/**
 * Judges one facility: from what was read to the archived result.
 *
 * A read point is as bad as its worst finding, and untested without one; a facility is as bad as its worst read point,
 * and untested without one. Nothing is averaged across read points. The same input gives the same result, whatever the
 * order of its rows. `version` is the tool's own.
 */
export function judgeFacility(given: FacilityInput, version: string): Result {
  const input = given.facility.pseudonyms ? pseudonymised(given) : given;
  const { facility, log } = input;
  const walked = { facility, log, index: indexRows(log) };
  const concessions = facility.concessions.map((one) => datedConcession(one, facility.report));
  const findings = makeFindings(walked, concessions);
  const readPoints = facility.readPoints.map((readPoint): ReadPointResult => {
    const own = findings.filter((finding) => finding.readPoint === readPoint.id);
    const conditions = shownConditions(walked, readPoint.id);
    const power = powerResults(walked, readPoint.id);
    const radio = describeRadio(facility, readPoint.id);
    return {
      id: readPoint.id,
      name: readPoint.name,
      kind: readPoint.kind,
      at: readPoint.at,
      equipment: readPoint.equipment,
      state: worstState(own.map((finding) => finding.state)),
      signOffRound: readPoint.signOffRound,
      remarks: remarksOn(readPoint, own, facility),
      ...diagnose(walked, readPoint),
      ...(radio.length === 0 ? {} : { radio }),
      rounds: facility.rounds.map((round) =>
        describeRound(walked, { readPoint: readPoint.id, round: round.id }, conditions),
      ),
      ...(power.length === 0 ? {} : { power }),
    };
  });
  return {
    schemaVersion: 1,
    tool: { name: "proofwalk", version },
    facility: {
      id: facility.id,
      name: facility.name,
      client: facility.client,
      address: facility.address,
      timeZone: facility.timeZone,
      floorPlan: facility.floorPlan,
    },
    report: facility.report,
    preparedBy: facility.preparedBy,
    ...pseudonymsOf(facility),
    witnessedBy: facility.witnessedBy,
    retest: facility.retest,
    signOff: signOffOf(facility, findings),
    basis: basisOf(facility),
    signOffRound: facility.signOffRound,
    state: worstState(readPoints.map((readPoint) => readPoint.state)),
    rounds: facility.rounds,
    conditions: facility.conditions,
    criteria: facility.criteria,
    readPoints,
    findings,
    otherwise: judgedOtherwise(findings, facility),
    comparisons: compareRounds(walked),
    plan: planResult(walked, input.plannedLoad),
    concessions,
    openPoints: facility.openPoints,
    problems: input.problems,
    inputs: input.inputs,
    ...(input.journeys.length === 0 ? {} : { journeys: input.journeys }),
    ...(facility.attachments.length === 0 ? {} : { attachments: facility.attachments }),
    ...recordOf(input),
  };
}

function signOffOf(facility: Facility, findings: readonly Finding[]): Result["signOff"] {
  const { signOff: readPoints } = facility;
  if (readPoints === null) return null;
  const signed = findings.filter(({ readPoint }) => readPoints.includes(readPoint));
  return { readPoints, otherwise: judgedOtherwise(signed, facility) };
}

/** Judged against the report's issue date, which is data: without a report nothing is taken to have expired. */
function datedConcession(concession: Concession, report: Report | null): ConcessionResult {
  const { until } = concession;
  const expired = until !== null && report !== null && byCodePoint(until, report.issued) < 0;
  return { ...concession, expired };
}

function remarksOn(readPoint: ReadPoint, findings: Finding[], facility: Facility): Remark[] {
  const remarks: Remark[] = [];
  if (findings.length === 0) {
    const covered = facility.criteria.some((criterion) => criterion.readPoints.includes(readPoint.id));
    remarks.push({ code: covered ? "no-value-walked" : "no-criterion" });
  }
  if (readPoint.signOffRound !== facility.signOffRound) {
    remarks.push({ code: "own-round", round: readPoint.signOffRound });
  }
  return remarks;
}
