// Which pass comes next, what it is called, and how far the plan is done: the plan's data against what was logged.
globalThis.aisleParts ??= {};
globalThis.aisleParts.route = (() => {
  // As the tool names bands: the first holds both its edges, later ones exclude the lower.
  function bandName(edges, text) {
    const value = text.trim() === "" ? Number.NaN : Number(text);
    if (!(value >= edges[0])) return null;
    for (let i = 1; i < edges.length; i += 1) {
      if (value <= edges[i]) return `${edges[i - 1]} to ${edges[i]}`;
    }
    return null;
  }

  function carries(names, conditions, columns) {
    return Object.entries(names).every(([name, wanted]) => {
      const { edges } = columns.find(({ column }) => column === name);
      const value = conditions[name] ?? "";
      return value === wanted || (edges !== null && bandName(edges, value) === wanted);
    });
  }

  // Every pass of this read point and round that is known, each id once: what the browser keeps stands for the same pass in
  // the files.
  function known(data, route, passes) {
    const own = passes
      .filter(({ readPoint, round }) => readPoint === route.readPoint && round === route.round)
      .map((pass) => ({
        pass: pass.pass,
        valid: pass.voidReason === "",
        cells: route.cells.flatMap(({ names }, i) =>
          carries(names, pass.conditions, data.columns) ? [i] : [],
        ),
      }));
    const ids = new Set(own.map(({ pass }) => pass));
    return [...own, ...route.before.filter(({ pass }) => !ids.has(pass))];
  }

  function isRepeat(id, of) {
    return id === of || (id.startsWith(`${of}-`) && /^\d+$/.test(id.slice(of.length + 1)));
  }

  // Passes still to be walked, in the planned order. A combination is done once it has its number of valid passes,
  // whatever they are called.
  function open(data, route, passes) {
    const walked = known(data, route, passes).filter(({ valid }) => valid);
    const done = new Set(
      route.passes
        .filter(({ pass }) => walked.some((one) => isRepeat(one.pass, pass)))
        .map(({ pass }) => pass),
    );
    const wanted = new Set();
    for (const { done: count, planned, place } of progress(data, route, passes).cells) {
      const all = route.passes.filter(({ cell }) => cell === place);
      const inTurn = [
        ...all.filter(({ pass }) => !done.has(pass)),
        ...all.filter(({ pass }) => done.has(pass)),
      ];
      for (const { pass } of inTurn.slice(0, Math.max(0, (planned ?? 0) - count))) wanted.add(pass);
    }
    return route.passes.filter(({ pass }) => wanted.has(pass));
  }

  function progress(data, route, passes) {
    const walked = known(data, route, passes).filter(({ valid }) => valid);
    const cells = route.cells.map(({ conditions, planned }, place) => ({
      place,
      conditions,
      planned,
      done: walked.filter((one) => one.cells.includes(place)).length,
    }));
    let planned = 0;
    let done = 0;
    for (const cell of cells) {
      planned += cell.planned ?? 0;
      done += Math.min(cell.done, cell.planned ?? 0);
    }
    return { planned, done, cells };
  }

  // An id that no pass of this read point and round has yet: the planned one, or, after a void pass, w03-2.
  function freeId(data, route, passes, planned) {
    const taken = new Set(known(data, route, passes).map(({ pass }) => pass));
    for (const { pass } of route.passes) if (planned === null) taken.add(pass);
    if (planned !== null && !taken.has(planned)) return planned;
    for (let number = planned === null ? 1 : 2; ; number += 1) {
      const id = planned === null ? `x${String(number).padStart(2, "0")}` : `${planned}-${number}`;
      if (!taken.has(id)) return id;
    }
  }

  return { bandName, known, open, progress, freeId };
})();
