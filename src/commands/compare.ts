import { type Command, ExitStatus } from "./command.ts";
import { jsonText } from "./lines/text.ts";

/**
 * Prints what changed from round to round, facility by facility; nothing where an input has an error. A condition that
 * got worse counts as worse only where that stands after every look is allowed for: with dozens of looks, some always
 * seem to.
 */
export const compare: Command = {
  name: "compare",
  summary: "shows what changed from round to round",
  options: ["data", "only", "json"],
  operand: null,
  examples: [
    { words: "compare", purpose: "what got better or worse from round to round" },
    { words: "compare --only north-hall", purpose: "one facility" },
    { words: "compare --json", purpose: "the comparisons for other programs" },
  ],
  exits: { 0: "nothing got worse", 1: "something got worse" },
  async run({ source, json }, terminal) {
    const { judgedResults } = await import("./data/judge-all.ts");
    const judged = await judgedResults(source, "No comparison", terminal);
    if (judged === null) return ExitStatus.refused;
    const { facilities: results, journeys } = judged;
    const { compareLines } = await import("./lines/result-lines.ts");
    const { compareJourneyLines } = await import("./lines/journey-lines.ts");
    const { holdsAfterAdjustment } = await import("../pages/words/comparisons.ts");
    if (json) {
      const facilities = results.map(({ facility: { id, name }, comparisons }) => ({
        facility: { id, name },
        comparisons,
      }));
      const compared = journeys.map(({ id, title, comparisons }) => ({ id, title, comparisons }));
      terminal.out(jsonText({ schemaVersion: 1, facilities, journeys: compared }));
    } else terminal.out([...results.map(compareLines), ...journeys.map(compareJourneyLines)].join("\n"));
    const worse =
      results.some(({ comparisons }) =>
        comparisons.some((one) => one.change === "worse" && holdsAfterAdjustment(one)),
      ) || journeys.some(({ comparisons }) => comparisons.some(({ change }) => change === "worse"));
    return worse ? ExitStatus.notMet : ExitStatus.fine;
  },
};
