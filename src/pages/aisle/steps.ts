import type { CurrentPass, Fields, LoggedPass, Recorded, Stamp, StartedPass } from "./pass.ts";

export type Step =
  | { do: "start"; pass: StartedPass; at: Stamp }
  | { do: "stop"; at: Stamp; clockWentBack?: boolean }
  | { do: "save"; record: Recorded; fields: Fields }
  | { do: "change"; index: number; record: Recorded };

/** What is being typed, of the pass just stopped or of a logged one that is being changed. */
export interface Draft {
  of: "current" | number;
  fields: Fields;
}

/** A pass picked to be the next: one of the plan, or an extra one with conditions of its own. */
export interface ChosenPass {
  readPoint: string;
  planned: string | null;
  conditions: Record<string, string>;
}

/**
 * The log of a walk. What was done is kept as a list of steps, and where things stand is read off it: undoing takes the
 * last step away, so it goes back as far as one likes, across reloads too.
 */
export interface State {
  version: number;
  /** Tells this walk's file from any other walk's. */
  walk: string;
  steps: Step[];
  undone: { step: Step; draft: Draft | null }[];
  draft: Draft | null;
  readPoint: string | null;
  chosen: ChosenPass | null;
  walkedBy: string;
  /** Counts what happened, to tell whether the log was saved since. */
  changes: number;
  saved: number;
}

/** Where a walk stands; the passes logged are in the order they were walked. */
export type Standing =
  | { stage: "ready"; current: null; passes: LoggedPass[] }
  | { stage: "running"; current: CurrentPass & { endedAt: null }; passes: LoggedPass[] }
  | { stage: "stopped"; current: CurrentPass & { endedAt: Stamp }; passes: LoggedPass[] };

const version = 1;

export function begun(walk: string): State {
  return {
    version,
    walk,
    steps: [],
    undone: [],
    draft: null,
    readPoint: null,
    chosen: null,
    walkedBy: "",
    changes: 0,
    saved: 0,
  };
}

export function standing({ steps }: Pick<State, "steps">): Standing {
  let current: CurrentPass | null = null;
  const passes: LoggedPass[] = [];
  for (const step of steps) {
    if (step.do === "start") current = { ...step.pass, startedAt: step.at, endedAt: null };
    else if (step.do === "change") passes[step.index] = { ...passes[step.index]!, ...step.record };
    else if (step.do === "stop")
      current = { ...current!, endedAt: step.at, clockWentBack: step.clockWentBack ?? false };
    else {
      passes.push({ ...(current as LoggedPass), ...step.record });
      current = null;
    }
  }
  if (current === null) return { stage: "ready", current, passes };
  const { endedAt } = current;
  return endedAt === null
    ? { stage: "running", current: { ...current, endedAt }, passes }
    : { stage: "stopped", current: { ...current, endedAt }, passes };
}

/** The stage in which a step is possible. */
const stageOf: Record<Step["do"], Standing["stage"]> = {
  start: "ready",
  stop: "running",
  save: "stopped",
  change: "ready",
};

/** The state after a step; the very same state where the step does not fit, as after a tap too many. */
export function afterStep(state: State, step: Step): State {
  const { stage, current, passes } = standing(state);
  if (stageOf[step.do] !== stage) return state;
  if (step.do === "change" && passes[step.index] === undefined) return state;
  return {
    ...state,
    steps: [...state.steps, step.do === "stop" ? stopNoEarlier(step.at, current!.startedAt) : step],
    undone: [],
    draft: step.do === "stop" ? state.draft : null,
    changes: state.changes + 1,
  };
}

/** No pass ends before it began: where the device's clock went back, the end is the start. */
function stopNoEarlier(at: Stamp, startedAt: Stamp): Step {
  const clockWentBack = at.ms < startedAt.ms;
  return { do: "stop", at: clockWentBack ? startedAt : at, clockWentBack };
}

export function undo(state: State): State {
  const last = state.steps.at(-1);
  if (last === undefined) return state;
  let draft: Draft | null = null;
  if (last.do === "save") draft = { of: "current", fields: last.fields };
  else if (last.do === "stop") draft = state.draft;
  return {
    ...state,
    steps: state.steps.slice(0, -1),
    undone: [...state.undone, { step: last, draft: state.draft }],
    draft,
    changes: state.changes + 1,
  };
}

export function redo(state: State): State {
  const last = state.undone.at(-1);
  if (last === undefined) return state;
  return {
    ...state,
    steps: [...state.steps, last.step],
    undone: state.undone.slice(0, -1),
    draft: last.draft,
    changes: state.changes + 1,
  };
}

/** Whether what the browser kept is a state that this page wrote. */
export function isState(value: unknown): value is State {
  if (typeof value !== "object" || value === null) return false;
  const { version: written, walk, steps, undone } = value as Partial<State>;
  return (
    written === version &&
    typeof walk === "string" &&
    Array.isArray(undone) &&
    Array.isArray(steps) &&
    steps.every((step) => Object.hasOwn(stageOf, (step as Step | null)?.do ?? ""))
  );
}
