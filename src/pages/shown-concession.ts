import type { Finding } from "../model/result.ts";

/** The concession that belongs beside a finding: one that is met needs none, though its criterion may have one. */
export function shownConcession(finding: Pick<Finding, "state" | "concession">): Finding["concession"] {
  return finding.state === "met" ? null : finding.concession;
}
