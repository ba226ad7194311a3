// The pass at hand, large: its word first, then how it is to be walked, then what the one large button does.
globalThis.aisleParts ??= {};
globalThis.aisleParts.stage = (() => {
  const { apart } = globalThis.aisleParts.fields;
  const { showAsked, clockOf, duration, passes } = globalThis.aisleParts.shown;
  const at = (id) => document.getElementById(id);

  function show({ stage, changing, pass, draft, route, done }, data) {
    const main = at("main");
    main.className = `main ${stage}`;
    main.hidden = pass === null;
    if (pass === null) {
      at("stage-word").textContent =
        done.planned === 0 ? "No pass is planned here" : "All planned passes are walked";
      at("stage-line").textContent = "Walk an extra pass, go to another read point, or save the log.";
      showAsked({}, data);
      return;
    }
    showAsked(pass.conditions, data);
    at("stage-word").replaceChildren(`${wordOf(stage, changing, pass)}: `, apart(pass.pass));
    main.textContent = buttonWord(stage, changing, pass, draft);
    at("stage-line").replaceChildren(...lineOf(stage, pass, route, done));
  }

  function wordOf(stage, changing, pass) {
    if (changing) return "Changing";
    if (stage === "running") return "Running";
    if (stage === "stopped") return "Walked";
    return pass.planned === null ? "Extra pass" : "Next";
  }

  function buttonWord(stage, changing, pass, draft) {
    if (changing) return "Keep the change";
    if (stage === "ready") return `Start ${pass.pass}`;
    if (stage === "running") return "Stop";
    const { missed, missedCount, isVoid } = draft.fields;
    const count = pass.manifest === null ? missedCount : missed.length;
    return isVoid ? "Save as void" : count === 0 ? "Save: none missed" : `Save: ${count} missed`;
  }

  function lineOf(stage, pass, route, done) {
    if (pass.endedAt) {
      const { startedAt, endedAt } = pass;
      return [`${clockOf(startedAt)} to ${clockOf(endedAt)}, ${duration(endedAt.ms - startedAt.ms)}.`];
    }
    if (stage === "running") return [`Started at ${clockOf(pass.startedAt)}.`];
    if (done.planned === 0) return [];
    const cell = done.cells[pass.cell];
    const here = cell === undefined ? "." : `; ${cell.done} of ${cell.planned} in this combination.`;
    return [`${done.done} of ${passes(done.planned)} done at `, apart(route.name), here];
  }

  return { show };
})();
