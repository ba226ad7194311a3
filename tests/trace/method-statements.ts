import { readFile } from "node:fs/promises";
import { ofPresentations } from "./independent-interval.ts";
import type { JudgedFinding } from "./judged-findings.ts";
import { titleFirst } from "./pages-in-common.ts";
import { percent } from "./printed.ts";
import type { Shed } from "./shed.ts";

/** The correlations set side by side; the second one is what stands where facility.yaml names none. */
const correlations = [0, 0.02, 0.1, 0.5];

/** The parts of the page of rules that speak of this facility: its settings, and what hangs on the assumption. */
export const methodParts: [from: string, to: string][] = [
  ["The settings of this facility", "In full, chapter by chapter"],
  ["How much depends on the assumption", "What may not have come up"],
];

/** What those parts say, with the figures of the recount. */
export async function methodStatements({ facts, findings }: Shed): Promise<string[]> {
  const { version } = JSON.parse(await readFile(new URL("../../package.json", import.meta.url), "utf8"));
  const clustered = findings.filter(({ measure }) => /^(tag|bystander)-read-rate$/.test(measure));
  return [
    `Confidence of every interval ${facts.confidence * 100} %, two-sided`,
    `correlation of misses at least ${correlations[1]}`,
    // What matters where facility.yaml names no smallest change.
    "Smallest change that matters 0.5 percentage points",
    `Made with proofwalk ${version}`,
    `Finding ${correlations[0]} ${correlations[1]} (used here) ${correlations[2]} ${correlations[3]}`,
    ...clustered.map(
      (finding) => `${titleFirst(finding)} … ${correlations.map((one) => range(finding, one)).join(" … ")}`,
    ),
  ];
}

function range({ count, claim }: JudgedFinding, correlation: number): string {
  const { lower, upper } = ofPresentations(count, correlation);
  if (upper === 1) return `at least ${percent(lower, claim)}`;
  return `${percent(lower, claim)} to ${percent(upper, claim)}`;
}
