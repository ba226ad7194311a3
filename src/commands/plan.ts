import type { FacilityInput } from "../model/pass-log.ts";
import type { PlanResult } from "../model/plan.ts";
import type { Problem } from "../model/problem.ts";
import { type Command, ExitStatus } from "./command.ts";
import { problemLines, progressOn, refusalAdvice } from "./lines.ts";

/** Prints how much is to be walked, facility by facility; nothing where an input has an error. */
export const plan: Command = {
  name: "plan",
  summary: "says how much to walk, from plan: in facility.yaml",
  options: ["data", "only", "json"],
  operand: null,
  examples: [{ words: "plan", purpose: "how many passes to walk, and what that risks" }],
  async run({ source, json }, terminal) {
    const { readAll } = await import("./facility-source.ts");
    const { planResult } = await import("../analysis/plan/plan-result.ts");
    const { indexRows } = await import("../model/rows.ts");
    const { planLines } = await import("./plan-lines.ts");
    const progress = progressOn(terminal);
    const problems: Problem[] = [];
    const inputs: FacilityInput[] = [];
    let refused = false;
    for await (const read of readAll(source, progress)) {
      problems.push(...read.problems);
      if (read.input === null) refused = true;
      else inputs.push(read.input);
    }
    if (refused) {
      progress.done();
      terminal.err(problemLines(problems, source.data));
      terminal.err(refusalAdvice(problems, "No plan"));
      return ExitStatus.refused;
    }
    const plans: { plan: PlanResult; input: FacilityInput }[] = [];
    for (const input of inputs) {
      progress.step(`Planning ${input.facility.id}`);
      const made = planResult(input.facility, input.log, indexRows(input.log), input.plannedLoad);
      if (made !== null) plans.push({ plan: made, input });
    }
    progress.done();
    const without = inputs.map(({ facility }) => facility).filter((facility) => facility.plan === null);
    if (without.length > 0) {
      const ids = without.map(({ id }) => id).join(", ");
      terminal.err(
        `No plan in facility.yaml of ${ids}. Add, for instance, plan: { tags_per_pass: 40, expected_rate: 0.998 }.\n`,
      );
    }
    if (plans.length === 0) return ExitStatus.refused;
    if (json)
      terminal.out(
        `${JSON.stringify({ schemaVersion: 1, facilities: plans.map((one) => one.plan) }, null, 2)}\n`,
      );
    else terminal.out(plans.map((one) => planLines(one.plan, one.input.facility)).join("\n"));
    return ExitStatus.fine;
  },
};
