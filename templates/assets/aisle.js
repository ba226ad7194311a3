// The page to log a walk on: one large button that goes from start to stop to save, and everything around it.
(() => {
  const parts = globalThis.aisleParts ?? {};
  const island = document.getElementById("walk-data");
  if (!island || !parts.keep || !parts.form || !parts.stage) return;

  const { log, route: routes, record, csv, shown } = parts;
  const { apart } = parts.fields;
  const at = (id) => document.getElementById(id);
  const data = JSON.parse(island.textContent);
  // A glove taps twice: what follows a start or a stop this closely is not meant.
  const secondTapMs = 400;
  let lastPress = Number.NEGATIVE_INFINITY;

  const form = parts.form.open(data, (fields) => keep.put({ ...state, draft: { ...state.draft, fields } }));
  const keep = parts.keep.open(data, (next, elsewhere) => {
    state = next;
    // What another tab typed has to take the place of what stands in the fields here.
    if (elsewhere) form.hide();
    render();
  });
  const others = parts.others.open(data, choose);
  let state = keep.begin();
  let listed = [];

  const routeOf = (id) => data.routes.find(({ readPoint }) => readPoint === id);
  const say = (text) => {
    at("said").textContent = text;
  };

  const toStage = () => at("stage").scrollIntoView({ block: "start" });

  // The pass that a start would begin: the one picked, else the next that is planned.
  function upcoming(route, passes) {
    const picked = state.chosen?.readPoint === route.readPoint ? state.chosen : null;
    if (picked?.planned === null) {
      return { planned: null, conditions: picked.conditions, pass: routes.freeId(data, route, passes, null) };
    }
    const open = routes.open(data, route, passes);
    const next = open.find(({ pass }) => pass === picked?.planned) ?? open[0];
    if (next === undefined) return null;
    return {
      planned: next.pass,
      cell: next.cell,
      conditions: route.cells[next.cell].conditions,
      pass: routes.freeId(data, route, passes, next.pass),
    };
  }

  function start(route, passes) {
    const { planned, conditions, pass } = upcoming(route, passes);
    const { readPoint, round, columns, needed, varied } = route;
    const manifest = data.load?.manifest ?? null;
    const tagsPerPass = data.load?.tags.length ?? data.tagsPerPass;
    const begun = {
      readPoint,
      round,
      pass,
      planned,
      conditions,
      manifest,
      tagsPerPass,
      columns,
      needed,
      varied,
    };
    const step = { do: "start", pass: begun, at: csv.stampNow() };
    keep.put({ ...log.after(state, step), chosen: null, readPoint });
    toStage();
    say(`${pass} started at ${shown.clockOf(step.at)}.`);
  }

  function stop() {
    const stopped = log.after(state, { do: "stop", at: csv.stampNow() });
    const { current, passes } = log.standing(stopped);
    const fields = stopped.draft?.fields ?? firstFields(current, passes);
    keep.put({ ...stopped, draft: { of: "current", fields } });
    toStage();
    say(`${current.pass} stopped at ${shown.clockOf(current.endedAt)}.`);
  }

  // What the plan leaves open stays as it was in the pass before, until it is changed.
  function firstFields(current, passes) {
    const fields = record.fieldsFor(current, data, state.walkedBy);
    const before = passes.findLast(({ readPoint }) => readPoint === current.readPoint);
    for (const column of current.needed) {
      if (current.conditions[column] === undefined && before !== undefined) {
        fields.conditions[column] = before.conditions[column] ?? "";
      }
    }
    return fields;
  }

  function save({ stage, current, passes }) {
    const changing = stage === "ready";
    const pass = changing ? passes[state.draft.of] : current;
    const fields = changing ? state.draft.fields : { ...state.draft.fields, walkedBy: state.walkedBy };
    const faults = record.faults(pass, fields, data);
    form.showFaults(faults);
    if (faults.length > 0) {
      say("Not saved yet: see what is missing.");
      return;
    }
    const step = changing ? { do: "change", index: state.draft.of } : { do: "save", fields };
    const logged = record.recordOf(pass, fields);
    keep.put(log.after(state, { ...step, record: logged }));
    at("cautions").open = false;
    say(
      `${pass.pass} ${changing ? "changed" : "saved"}${logged.voidReason === "" ? "" : " as void"}: ${shown.missedText(logged)}.`,
    );
    toStage();
  }

  function change(index) {
    keep.put({ ...state, draft: { of: index, fields: record.fieldsOf(log.standing(state).passes[index]) } });
    toStage();
  }

  const taken = { start: "the start", stop: "the stop", save: "the saving", change: "the change" };

  function undo() {
    const { stage, passes } = log.standing(state);
    if (stage === "ready" && state.draft !== null) {
      const { pass } = passes[state.draft.of];
      keep.put({ ...state, draft: null });
      say(`${pass} is left as it was.`);
      return;
    }
    const step = state.steps.at(-1);
    const of = passOf(step, log.standing(state));
    keep.put(log.undo(state));
    say(`Undone: ${taken[step.do]} of ${of.pass}.`);
  }

  function redo() {
    const { step } = state.undone.at(-1);
    keep.put(log.redo(state));
    say(`Done again: ${taken[step.do]} of ${passOf(step, log.standing(state)).pass}.`);
  }

  // The pass that the last step was about.
  function passOf({ index }, { current, passes }) {
    return current ?? passes[index ?? passes.length - 1];
  }

  function press() {
    const now = Date.now();
    const since = now - lastPress;
    if (since >= 0 && since < secondTapMs) return;
    lastPress = now;
    const standing = log.standing(state);
    if (standing.stage === "running") stop();
    else if (standing.stage === "stopped" || state.draft !== null) save(standing);
    else start(shownRoute(standing), standing.passes);
  }

  // The one picked; before that the first where something is left to walk.
  function shownRoute({ current, passes }) {
    const stays = routeOf(current?.readPoint) ?? routeOf(state.readPoint);
    if (stays !== undefined) return stays;
    const planned = data.routes.filter((route) => route.passes.length > 0);
    const open = planned.find((route) => routes.open(data, route, passes).length > 0);
    return open ?? planned[0] ?? data.routes[0];
  }

  function render() {
    const standing = log.standing(state);
    const { stage, current, passes } = standing;
    const route = shownRoute(standing);
    const changing = stage === "ready" && state.draft !== null;
    at("read-point").value = route.readPoint;
    at("read-point").disabled = stage !== "ready" || changing;
    if (at("walked-by") !== document.activeElement) at("walked-by").value = state.walkedBy;
    const next = stage === "ready" && !changing ? upcoming(route, passes) : null;
    const pass = current ?? (changing ? passes[state.draft.of] : next);
    const done = routes.progress(data, route, passes);
    parts.stage.show({ stage, changing, pass, draft: state.draft, route, done }, data);
    if (stage === "stopped" || changing) {
      form.show(
        pass,
        state.draft.fields,
        `${state.draft.of} ${pass.readPoint} ${pass.pass} ${state.steps.length}`,
      );
    } else form.hide();
    at("others").hidden = stage !== "ready" || changing;
    others.show(route, passes, next);
    showLists(route, done, passes, stage === "ready" && !changing);
    keep.render(standing);
    at("undo").textContent = changing ? "Leave as it was" : "Undo";
    at("undo").disabled = !changing && state.steps.length === 0;
    at("redo").hidden = changing || state.undone.length === 0;
    tick();
  }

  // Typing changes neither list, and a long walk makes them long.
  function showLists(route, done, passes, mayChange) {
    const what = [state.steps, route, mayChange];
    if (what.every((each, i) => each === listed[i])) return;
    listed = what;
    shown.showDone(route, done, data);
    shown.showLog(passes, data, mayChange, change);
  }

  function choose(route, { planned, conditions = {} }) {
    keep.put({ ...state, chosen: { readPoint: route.readPoint, planned, conditions } });
    at("others").open = false;
    toStage();
    say(planned === null ? "An extra pass is next." : `${planned} is next.`);
  }

  // The button is in reach before the pass that it starts is in sight, so the bar says which one that is.
  function sayNext() {
    const standing = log.standing(state);
    if (standing.stage !== "ready" || state.draft !== null) return;
    const route = shownRoute(standing);
    const next = upcoming(route, standing.passes);
    if (next === null) return;
    const how = apart(shown.combination(next.conditions, data));
    at("said").replaceChildren(apart(route.name), ": ", how, ".");
  }

  function tick() {
    const { stage, current } = log.standing(state);
    const now = csv.stampNow();
    at("clock").textContent =
      `Clock: ${now.text.slice(0, 10)}, ${shown.clockOf(now)}, UTC${now.text.slice(19)}.`;
    at("timer").hidden = stage !== "running";
    if (stage === "running") at("timer").textContent = shown.duration(now.ms - current.startedAt.ms);
  }

  at("main").addEventListener("click", press);
  // A key held down is one press.
  at("main").addEventListener("keydown", (event) => event.repeat && event.preventDefault());
  at("undo").addEventListener("click", undo);
  at("redo").addEventListener("click", redo);
  at("read-point").addEventListener("change", () => {
    keep.put({ ...state, readPoint: at("read-point").value });
    sayNext();
  });
  at("walked-by").addEventListener("input", () => keep.put({ ...state, walkedBy: at("walked-by").value }));
  at("cautions").open = state.steps.length === 0;
  at("without-script").hidden = true;
  at("on-paper").hidden = true;
  at("walk").hidden = false;
  setInterval(tick, 1000);
  render();
  sayNext();
})();
