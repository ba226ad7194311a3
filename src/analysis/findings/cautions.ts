import { stricterThan } from "../../intervals/index.ts";
import type { Basis } from "../../intervals/interval.ts";
import type { Evidence } from "../../measures/evidence/evidence.ts";
import type { Finding, Unseen } from "../../model/result/finding.ts";
import type { Remark } from "../../model/result/remark.ts";
import type { Result } from "../../model/result/result.ts";
import type { State } from "../../model/state.ts";
import { clopperPearsonBounds } from "../../statistics/clopper-pearson.ts";
import { faultsInARun, type RunOfFaults, type TimedPasses } from "./faults-in-a-run.ts";
import { type Asked, stateOf } from "./verdict.ts";

/* What a verdict rests on, said beside it: what may not have come up, what came in a run, and what a stricter rule shows. */

/**
 * How rare kinds of passes and of tags can be and yet have come up: a kind that makes up a larger share of all is missing
 * from so many with a chance of at most alpha/2. Null without a pass.
 *
 * The share is 1 - (alpha/2)^(1/n), the upper Clopper-Pearson end of none of n.
 * Example: 36 passes and 40 tags at 95 %: 0.0974 and 0.0881, one in 10 and one in 11.
 */
export function unseenKinds(
  { passes, tags }: { passes: number; tags: number | null },
  confidence: number,
): Unseen | null {
  if (passes === 0) return null;
  const rarest = (n: number) => {
    const share = clopperPearsonBounds(0, n, confidence).upper;
    return { share, oneIn: Math.floor(1 / share) };
  };
  return { passes: rarest(passes), tags: tags === null ? null : rarest(tags) };
}

/** What the stricter interval shows; null where the facility's own is as strict, or the figure is no rate. */
export function strictlyJudged(evidence: Evidence, asked: Asked, basis: Basis): Finding["stricter"] {
  const stricter = stricterThan(basis.interval);
  if (stricter === null || !evidence.isRate) return null;
  return { interval: stricter, state: stateOf(evidence, asked, { ...basis, interval: stricter }) };
}

/** What a finding shows, and what it would show otherwise. */
type Judged = Pick<Finding, "state" | "stricter" | "sensitivity">;

/** How many findings would have another state by the stricter interval, or by each of the other correlations. */
export function judgedOtherwise(findings: readonly Judged[], { interval }: Basis): Result["otherwise"] {
  const id = stricterThan(interval);
  const differ = (stateIn: (finding: Judged) => State | undefined) =>
    findings.filter((finding) => (stateIn(finding) ?? finding.state) !== finding.state).length;
  const tried = new Set(
    findings.flatMap(({ sensitivity }) => sensitivity.map(({ missCorrelation }) => missCorrelation)),
  );
  return {
    interval: id === null ? null : { id, findings: differ(({ stricter }) => stricter?.state) },
    correlations: [...tried]
      .sort((a, b) => a - b)
      .map((missCorrelation) => ({
        missCorrelation,
        findings: differ(
          ({ sensitivity }) => sensitivity.find((one) => one.missCorrelation === missCorrelation)?.state,
        ),
      })),
  };
}

/** Remarks on what was counted that its counts alone do not show. */
export function remarksOn(
  evidence: Evidence,
  asked: Asked,
  { state, basis, log }: { state: State; basis: Basis; log: TimedPasses },
): Remark[] {
  const remarks: Remark[] = evidence.remarksAt?.(basis, asked) ?? [];
  const { passes } = evidence;
  const tags = evidence.tags();
  if (tags !== null && tags > 1 && tags < passes) remarks.push({ code: "tags-reused", tags, passes });
  const run = runOfFaults(evidence, asked, log);
  if (run !== null && run.p <= (1 - basis.confidence) / 2) remarks.push({ code: "misses-in-a-run", ...run });
  const bar = evidence.isEmpty ? null : evidence.bar(asked, basis);
  if (bar !== null && state !== "not-met") remarks.push(bar.remark);
  return remarks;
}

/** Whether the faults of a finding came in a run of neighbouring passes. */
function runOfFaults({ byPass }: Evidence, { sense }: Asked, log: TimedPasses): RunOfFaults | null {
  if (byPass === null) return null;
  const faultsOf = ({ n, failures }: { n: number; failures: number }) =>
    sense === "at-least" ? failures : n - failures;
  return faultsInARun(
    log,
    [...byPass].map(([pass, counts]) => ({ pass, faults: faultsOf(counts) })),
  );
}
