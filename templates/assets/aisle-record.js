// What is typed about a pass: how it starts out, what is wrong with it, and what is logged of it.
globalThis.aisleParts ??= {};
globalThis.aisleParts.record = (() => {
  // A pass of which nothing was said yet: as planned, nothing missed, and nobody looked for strays.
  function fieldsFor(pass, data, walkedBy) {
    return {
      missed: [],
      missedCount: 0,
      presented: pass.tagsPerPass,
      strays: "nobody",
      strayCodes: "",
      strayCount: 1,
      conditions: Object.fromEntries(
        pass.columns.map((column) => [column, statedValue(column, pass.conditions[column], data)]),
      ),
      isVoid: false,
      voidReason: "",
      note: pass.clockWentBack ? "The clock of the device went back while the pass ran." : "",
      walkedBy,
    };
  }

  // A band is planned, but a measured value is logged: it is left open.
  function statedValue(name, planned, data) {
    const column = data.columns.find(({ column }) => column === name);
    return planned === undefined || (column?.numeric && Number.isNaN(Number(planned))) ? "" : planned;
  }

  function fieldsOf(pass) {
    const { missed, missedCount, presented, strays, conditions, voidReason, note, walkedBy } = pass;
    const heard = strays !== null && (strays.codes.length > 0 || strays.count > 0);
    return {
      missed: missed ?? [],
      missedCount,
      presented,
      strays: strays === null ? "nobody" : heard ? "heard" : "none",
      strayCodes: strays?.codes.join(" ") ?? "",
      strayCount: heard ? strays.count : 1,
      conditions,
      isVoid: voidReason !== "",
      voidReason,
      note,
      walkedBy,
    };
  }

  function codesIn(text) {
    return [
      ...new Set(
        tidy(text)
          .split(/[\s,;|]+/)
          .filter((code) => code !== ""),
      ),
    ];
  }

  // A control character is never typed but sometimes pasted, and one of them makes the whole log unreadable.
  function tidy(text) {
    return text.replace(/[^\P{Cc}\t\r\n]/gu, "").trim();
  }

  function recordOf(pass, fields) {
    const named = pass.manifest !== null;
    const codes = named && fields.strays === "heard" ? codesIn(fields.strayCodes) : [];
    const count = fields.strays !== "heard" ? 0 : named ? codes.length : fields.strayCount;
    return {
      missed: named ? [...fields.missed] : null,
      missedCount: named ? fields.missed.length : fields.missedCount,
      presented: fields.presented,
      strays: fields.strays === "nobody" ? null : { codes, count },
      conditions: Object.fromEntries(
        Object.entries(fields.conditions).map(([column, text]) => [column, tidy(text)]),
      ),
      voidReason: fields.isVoid ? tidy(fields.voidReason) : "",
      note: tidy(fields.note),
      walkedBy: tidy(fields.walkedBy),
    };
  }

  const answer = /^(?:yes|no|y|n|true|false|0|1|none|nil|n\/a|-+)$/i;
  const spreadsheetNumber = /^[-+]?\d+(?:[.,]\d*)?[eE][-+]\d+$|^[-+]?\d+[.,]\d+[eE]\d+$/;
  const noCode = /^(?:\d{1,2}|no|nil|none|yes|n\/a|-)$/i;

  // What stands in the way of logging it, each with the field it is about: the checks on logs would refuse it as well.
  function faults(pass, fields, data) {
    const found = [];
    const add = (field, text) => found.push({ field, text });
    if (fields.missedCount > fields.presented) add("missed", "More tags missed than went through.");
    if (fields.strays === "heard" && pass.manifest !== null) strayFaults(fields, data, add);
    if (fields.isVoid) {
      const reason = tidy(fields.voidReason);
      if (reason === "") add("void", "Say why the pass does not count.");
      else if (answer.test(reason)) add("void", "Say why the pass does not count, in words.");
    }
    for (const [name, text] of Object.entries(fields.conditions)) {
      const column = data.columns.find((one) => one.column === name);
      if (column !== undefined) conditionFault(pass, fields, column, text.trim(), add);
    }
    return found;
  }

  function strayFaults({ strayCodes }, { load }, add) {
    const codes = codesIn(strayCodes);
    const presented = codes.find((code) => load?.tags.includes(code));
    const lost = codes.find((code) => spreadsheetNumber.test(code));
    if (codes.length === 0) add("strays", "Type the codes heard, or choose that none was heard.");
    else if (presented !== undefined) add("strays", `${presented} is in the load, so it is no stray.`);
    else if (lost !== undefined)
      add("strays", `${lost} is a number that lost its digits: type the code in full.`);
    else if (codes.length === 1 && noCode.test(codes[0]))
      add("strays", "Type the codes, not how many there were.");
  }

  function conditionFault(pass, fields, column, text, add) {
    const { column: name, label, edges, numeric } = column;
    if (text === "") {
      // A load's own list may say how each of its tags sat.
      const open = pass.manifest !== null && !pass.varied.includes(name);
      if (!fields.isVoid && pass.needed.includes(name) && !open)
        add(`condition ${name}`, `${label}: say how it was walked.`);
    } else if (numeric && !/^[-+]?(?:\d+\.?\d*|\.\d+)$/.test(text)) {
      const point = /^[-+]?\d*,\d+$/.test(text);
      add(
        `condition ${name}`,
        point ? `${label}: write a point, not a comma.` : `${label}: write a number alone.`,
      );
    } else if (edges !== null && globalThis.aisleParts.route.bandName(edges, text) === null) {
      add(`condition ${name}`, `${label}: a value from ${edges[0]} to ${edges.at(-1)}.`);
    }
  }

  return { statedValue, fieldsFor, fieldsOf, recordOf, codesIn, faults };
})();
