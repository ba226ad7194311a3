// The log of a walk, without a page: what was done is kept as a list of steps, and where things stand is read off it.
// Undoing is taking the last step away, so it goes back as far as one likes, across reloads too.
globalThis.aisleParts ??= {};
globalThis.aisleParts.log = (() => {
  const version = 1;

  function begun(walk) {
    return {
      version,
      // Tells this walk's file from any other walk's.
      walk,
      steps: [],
      undone: [],
      // What is being typed, of the pass just stopped or of a logged one that is being changed.
      draft: null,
      readPoint: null,
      walkedBy: "",
      // Counts what happened, to tell whether the log was saved since.
      changes: 0,
      saved: 0,
    };
  }

  // ready, running or stopped; the pass under way; and the passes logged, in the order they were walked.
  function standing({ steps }) {
    let current = null;
    const passes = [];
    for (const step of steps) {
      if (step.do === "start") current = { ...step.pass, startedAt: step.at, endedAt: null };
      else if (step.do === "stop")
        current = { ...current, endedAt: step.at, clockWentBack: step.clockWentBack };
      else if (step.do === "save") {
        passes.push({ ...current, ...step.record });
        current = null;
      } else passes[step.index] = { ...passes[step.index], ...step.record };
    }
    const stage = current === null ? "ready" : current.endedAt === null ? "running" : "stopped";
    return { stage, current, passes };
  }

  const stageOf = { start: "ready", stop: "running", save: "stopped", change: "ready" };

  // The state after a step; the very same state where the step does not fit, as after a tap too many.
  function after(state, step) {
    const { stage, current, passes } = standing(state);
    if (stageOf[step.do] !== stage) return state;
    if (step.do === "change" && passes[step.index] === undefined) return state;
    let taken = step;
    if (step.do === "stop") {
      const clockWentBack = step.at.ms < current.startedAt.ms;
      taken = { ...step, at: clockWentBack ? current.startedAt : step.at, clockWentBack };
    }
    const kept = step.do === "stop" ? state.draft : null;
    return {
      ...state,
      steps: [...state.steps, taken],
      undone: [],
      draft: kept,
      changes: state.changes + 1,
    };
  }

  function undo(state) {
    const last = state.steps.at(-1);
    if (last === undefined) return state;
    let draft = null;
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

  function redo(state) {
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

  // Whether a text kept by the browser is a state that this script wrote.
  function isState(value) {
    return (
      typeof value === "object" &&
      value !== null &&
      value.version === version &&
      Array.isArray(value.steps) &&
      value.steps.every((step) => stageOf[step?.do] !== undefined) &&
      Array.isArray(value.undone) &&
      typeof value.walk === "string"
    );
  }

  return { begun, standing, after, undo, redo, isState };
})();
