// The pass log as CSV, and the clock as RFC 3339.
globalThis.aisleParts ??= {};
globalThis.aisleParts.csv = (() => {
  const two = (number) => String(Math.floor(number)).padStart(2, "0");

  // `minutesAhead` is how far the device's clock is ahead of UTC.
  function stampOf(ms, minutesAhead) {
    const wall = new Date(ms + minutesAhead * 60_000).toISOString().slice(0, 19);
    const ahead = Math.abs(minutesAhead);
    return { ms, text: `${wall}${minutesAhead < 0 ? "-" : "+"}${two(ahead / 60)}:${two(ahead % 60)}` };
  }

  function stampNow() {
    const now = new Date();
    return stampOf(now.getTime(), -now.getTimezoneOffset());
  }

  const number = /^-?(?:\d+\.?\d*|\.\d+)$/;

  // A spreadsheet would run a text that starts like a formula. A no-break space in front makes it plain text, and the
  // reading of logs takes blanks around a cell away again, so that the text itself comes back.
  function cell(text) {
    const guarded = /^[=+\-@]/.test(text) && !number.test(text) ? `\u00A0${text}` : text;
    return /[",;\r\n]|^\s|\s$/.test(guarded) ? `"${guarded.replaceAll('"', '""')}"` : guarded;
  }

  function csvText(header, rows) {
    const text = [header, ...rows].map((row) => `${row.map(cell).join(",")}\r\n`).join("");
    return /[\u0080-\uFFFF]/.test(text) ? `\uFEFF${text}` : text;
  }

  // The log in the form its passes have: with a load the tags are named, without one they are counted. A log that holds
  // both, since the plan was changed on the way, is two files.
  function files(data, state, passes) {
    const listed = passes.filter(({ manifest }) => manifest !== null);
    const counted = passes.filter(({ manifest }) => manifest === null);
    const stem = `${data.fileStem}-${state.walk}`;
    const both = listed.length > 0 && counted.length > 0;
    return [
      ...(listed.length > 0 ? [{ name: `${stem}.csv`, text: listedText(data, listed) }] : []),
      ...(counted.length > 0
        ? [{ name: `${stem}${both ? "-counted" : ""}.csv`, text: countedText(data, counted) }]
        : []),
    ];
  }

  function listedText(data, passes) {
    const own = ["manifest", "missed_tags", "stray_tags"];
    return logText(data, passes, own, ({ manifest, missed, strays }) => [
      manifest,
      missed.length === 0 ? "none" : missed.join(" "),
      strays === null ? "" : strays.codes.length === 0 ? "none" : strays.codes.join(" "),
    ]);
  }

  function countedText(data, passes) {
    const own = ["tags_presented", "tags_read", "stray_tags"];
    return logText(data, passes, own, ({ presented, missedCount, strays }) => [
      String(presented),
      String(presented - missedCount),
      strays === null ? "" : String(strays.count),
    ]);
  }

  function logText(data, passes, own, ownCells) {
    const columns = data.columns.map(({ column }) => column);
    for (const { conditions } of passes) {
      for (const column of Object.keys(conditions)) if (!columns.includes(column)) columns.push(column);
    }
    const header = ["round", "pass", "read_point", "started_at", "ended_at", ...columns, ...own];
    return csvText(
      [...header, "void_reason", "walked_by", "note"],
      passes.map((pass) => [
        pass.round,
        pass.pass,
        pass.readPoint,
        pass.startedAt.text,
        pass.endedAt.text,
        ...columns.map((column) => pass.conditions[column] ?? ""),
        ...ownCells(pass),
        pass.voidReason,
        pass.walkedBy,
        pass.note,
      ]),
    );
  }

  return { stampOf, stampNow, files };
})();
