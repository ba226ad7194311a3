// Walking another pass than the next one: one of the plan that is still open, or an extra one under conditions of its own.
globalThis.aisleParts ??= {};
globalThis.aisleParts.others = (() => {
  const { record, route: routes, shown } = globalThis.aisleParts;
  const { button, conditionField } = globalThis.aisleParts.fields;
  const at = (id) => document.getElementById(id);

  // `choose` is called with the read point's route and the pass picked.
  function open(data, choose) {
    let extra = {};
    let route = null;

    function show(shownRoute, passes, next) {
      const left = routes.open(data, shownRoute, passes);
      at("others-line").textContent = `${shown.passes(left.length)} of the plan still to be walked.`;
      at("open-passes").replaceChildren(
        ...left.map(({ pass, cell }) =>
          button(
            `${pass}: ${shown.combination(shownRoute.cells[cell].conditions, data)}`,
            () => choose(shownRoute, { planned: pass }),
            { "aria-pressed": String(pass === next?.planned) },
          ),
        ),
      );
      if (shownRoute !== route) showExtra(shownRoute);
    }

    function showExtra(shownRoute) {
      route = shownRoute;
      extra = {};
      at("extra-conditions").replaceChildren(
        ...route.varied.map((name, i) => {
          const column = data.columns.find((one) => one.column === name);
          return conditionField(column, `extra-${i}`, "", column, (text) => {
            extra[name] = text.trim();
          });
        }),
      );
    }

    function takeExtra() {
      const pass = { manifest: null, needed: [], varied: [] };
      const fields = { ...record.fieldsFor({ columns: [] }, data, ""), conditions: extra };
      const faults = record.faults(pass, fields, data);
      at("extra-fault").hidden = faults.length === 0;
      at("extra-fault").textContent = faults.map(({ text }) => text).join(" ");
      const conditions = Object.fromEntries(Object.entries(extra).filter(([, text]) => text !== ""));
      if (faults.length === 0) choose(route, { planned: null, conditions });
    }

    at("take-extra").addEventListener("click", takeExtra);

    return { show };
  }

  return { open };
})();
