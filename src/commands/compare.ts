import { standsAfterAll } from "../pages/words/comparison-sentence.ts";
import { compareLines } from "./compare-lines.ts";
import type { Source } from "./facility-source.ts";
import { judgedResults } from "./judged-results.ts";
import { type Exit, ExitStatus, type Terminal } from "./terminal.ts";

/**
 * Prints what changed from round to round, facility by facility; nothing where an input has an error. A condition that
 * got worse counts as worse only where that stands after every look is allowed for: with dozens of looks, some always
 * seem to.
 */
export async function compare(source: Source, json: boolean, terminal: Terminal): Promise<Exit> {
  const results = await judgedResults(source, "No comparison", terminal);
  if (results === null) return ExitStatus.refused;
  if (json) {
    const facilities = results.map(({ facility: { id, name }, comparisons }) => ({
      facility: { id, name },
      comparisons,
    }));
    terminal.out(`${JSON.stringify({ schemaVersion: 1, facilities }, null, 2)}\n`);
  } else terminal.out(results.map(compareLines).join("\n"));
  const worse = results.some(({ comparisons }) =>
    comparisons.some((one) => one.change === "worse" && standsAfterAll(one)),
  );
  return worse ? ExitStatus.notMet : ExitStatus.fine;
}
