import { journeyFile } from "../model/journey/journey-files.ts";
import { type Command, ExitStatus } from "./command.ts";
import { jsonText } from "./lines/text.ts";

/** Prints how much is to be walked, facility by facility; nothing where an input has an error. */
export const plan: Command = {
  name: "plan",
  summary: "shows how much to walk, from plan: in facility.yaml",
  options: ["data", "only", "json"],
  operand: null,
  examples: [
    { words: "plan", purpose: "how many passes to walk, and what that risks" },
    { words: "plan --only north-hall", purpose: "one facility" },
    { words: "plan --json", purpose: "the plan for other programs" },
  ],
  exits: { 0: "the plan was printed" },
  async run({ source, json }, terminal) {
    const { judgedResults } = await import("./data/judge-all.ts");
    const judged = await judgedResults(source, "No plan", terminal);
    if (judged === null) return ExitStatus.refused;
    const { facilities: results, journeys } = judged;
    const without = [
      ...results
        .filter((result) => result.plan === null)
        .map(({ facility }) => ({ file: `${facility.id}/facility.yaml`, key: "tags_per_pass", count: 40 })),
      ...journeys
        .filter((journey) => journey.plan === null)
        .map(({ id }) => ({ file: journeyFile(id), key: "tags_per_run", count: 20 })),
    ];
    for (const { file, key, count } of without)
      terminal.err(
        `No plan in ${file}. Add, for example, plan: { ${key}: ${count}, expected_rate: 0.998 }\n`,
      );
    const plans = results.flatMap((result) => result.plan ?? []);
    const runs = journeys.flatMap(({ id, title, plan }) => (plan === null ? [] : [{ id, title, ...plan }]));
    if (plans.length + runs.length === 0) return ExitStatus.refused;
    const { planLines } = await import("./lines/plan-lines.ts");
    const { planJourneyLines } = await import("./lines/journey-lines.ts");
    if (json) terminal.out(jsonText({ schemaVersion: 1, facilities: plans, journeys: runs }));
    else
      terminal.out(
        [
          ...results.flatMap((result) => planLines(result) ?? []),
          ...journeys.flatMap((journey) => planJourneyLines(journey) ?? []),
        ].join("\n"),
      );
    return ExitStatus.fine;
  },
};
