// What the aisle page shows of the log: the pass that is next or under way, what was logged, and how far the plan is done.
globalThis.aisleParts ??= {};
globalThis.aisleParts.shown = (() => {
  const { element, apart, button, valueText } = globalThis.aisleParts.fields;
  const at = (id) => document.getElementById(id);
  const clockOf = (stamp) => stamp.text.slice(11, 19);
  const passes = (count) => `${count} ${count === 1 ? "pass" : "passes"}`;

  function conditionTexts(conditions, data) {
    return Object.entries(conditions)
      .filter(([, value]) => value !== "")
      .map(([name, value]) => {
        const column = data.columns.find((one) => one.column === name) ?? { label: name, unit: null };
        return { label: column.label, value: valueText(value, column) };
      });
  }

  // In words large enough to be read at arm's length.
  function showAsked(conditions, data) {
    at("asked").replaceChildren(
      ...conditionTexts(conditions, data).map(({ label, value }) =>
        element("div", {}, [element("dt", {}, [apart(label)]), element("dd", {}, [apart(value)])]),
      ),
    );
  }

  function combination(conditions, data) {
    const texts = conditionTexts(conditions, data).map(({ value }) => value);
    return texts.length === 0 ? "every pass" : texts.join(", ");
  }

  function stateWord({ planned, done }) {
    if (planned === null) return "out of reach";
    if (planned === 0) return "not asked";
    return done >= planned ? "done" : done === 0 ? "missing" : "short";
  }

  function showDone(route, { planned, done, cells }, data) {
    at("done-line").replaceChildren(
      ...(planned === 0
        ? ["Nothing is planned at ", apart(route.name), " that a number of passes would settle."]
        : [`${done} of ${passes(planned)} done at `, apart(route.name), "."]),
    );
    at("done").tBodies[0].replaceChildren(
      ...cells.map((cell) =>
        element("tr", {}, [
          element("th", { scope: "row" }, [apart(combination(cell.conditions, data))]),
          element("td", { class: "number", text: String(cell.done) }),
          element("td", {
            class: "number",
            text: cell.planned === null ? "none will do" : String(cell.planned),
          }),
          element("td", { text: stateWord(cell) }),
        ]),
      ),
    );
  }

  function strayText({ strays }) {
    if (strays === null) return "strays: nobody looked";
    if (strays.count === 0) return "no stray heard";
    return `${strays.count === 1 ? "1 stray" : `${strays.count} strays`} heard`;
  }

  function missedText({ missedCount, presented }) {
    return missedCount === 0 ? `all ${presented} tags read` : `${missedCount} of ${presented} missed`;
  }

  function logRow(pass, index, data, change) {
    const nameOf = data.routes.find(({ readPoint }) => readPoint === pass.readPoint)?.name ?? pass.readPoint;
    const codes = [...(pass.missed ?? [])].join(" ");
    const heard = pass.strays?.codes.join(" ") ?? "";
    const line = (label, text) => element("span", { class: "line" }, [label, apart(text)]);
    return element("li", {}, [
      element("div", { class: "logged" }, [
        element("span", { class: "line" }, [
          element("b", { text: pass.pass }),
          pass.voidReason === "" ? "" : element("span", { class: "void-word", text: "void" }),
          element("span", { class: "detail" }, [
            apart(nameOf),
            `, ${clockOf(pass.startedAt)} to ${clockOf(pass.endedAt)}`,
          ]),
        ]),
        line("", combination(pass.conditions, data)),
        element("span", { class: "line", text: `${missedText(pass)}; ${strayText(pass)}` }),
        ...(codes === "" ? [] : [line("Missed: ", codes)]),
        ...(heard === "" ? [] : [line("Strays: ", heard)]),
        ...(pass.voidReason === "" ? [] : [line("Void: ", pass.voidReason)]),
        ...(pass.note === "" ? [] : [line("Note: ", pass.note)]),
        ...(pass.walkedBy === "" ? [] : [line("Walked by ", pass.walkedBy)]),
      ]),
      button("Change", () => change(index), { "aria-label": `Change ${pass.pass}` }),
    ]);
  }

  // The latest first: it is the one that is looked for.
  function showLog(logged, data, mayChange, change) {
    const voids = logged.filter(({ voidReason }) => voidReason !== "").length;
    at("log-line").textContent =
      logged.length === 0
        ? "Nothing yet."
        : `${passes(logged.length)}, ${voids === 0 ? "none of them void" : `${voids} of them void`}; the latest first.`;
    at("log").replaceChildren(...logged.map((pass, i) => logRow(pass, i, data, change)).reverse());
    for (const made of at("log").querySelectorAll("button")) made.disabled = !mayChange;
  }

  function duration(ms) {
    const seconds = Math.max(0, Math.floor(ms / 1000));
    return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
  }

  return { showAsked, showDone, showLog, combination, missedText, clockOf, duration, passes };
})();
