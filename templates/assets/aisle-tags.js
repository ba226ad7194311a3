// The tags of a load, to tap as missed and to tap again.
globalThis.aisleParts ??= {};
globalThis.aisleParts.tags = (() => {
  const { element, button } = globalThis.aisleParts.fields;

  // As many of a code's last digits as it takes to tell the codes of this load apart, and a few at the least.
  function tailLength(codes) {
    const first = codes[0] ?? "";
    let shared = first.length;
    for (const code of codes) while (!code.startsWith(first.slice(0, shared))) shared -= 1;
    return Math.max(4, Math.min(8, first.length - shared));
  }

  // Codes that end in what is looked for; where none does, those that hold it anywhere.
  function found(codes, wanted) {
    const text = wanted.trim().toUpperCase();
    const ending = codes.filter((code) => code.toUpperCase().endsWith(text));
    return ending.length > 0 ? ending : codes.filter((code) => code.toUpperCase().includes(text));
  }

  function open(list, filter, toggle) {
    let buttons = new Map();

    function build(codes) {
      const tail = tailLength(codes);
      buttons = new Map(
        codes.map((code) => {
          const made = button(undefined, () => toggle(code), { class: "tag-button", "data-tag": code });
          made.append(
            element("span", { class: "head", text: code.slice(0, -tail) }),
            element("span", { class: "tail", text: code.slice(-tail) }),
            element("span", { class: "word" }),
          );
          return [code, made];
        }),
      );
      list.replaceChildren(...buttons.values());
      filter.value = "";
      sift();
    }

    function sift() {
      const shown = new Set(found([...buttons.keys()], filter.value));
      for (const [code, made] of buttons) made.hidden = !shown.has(code);
      return shown;
    }

    function mark(missed) {
      for (const [code, made] of buttons) {
        const is = missed.includes(code);
        made.setAttribute("aria-pressed", String(is));
        made.querySelector(".word").textContent = is ? "missed" : "";
      }
    }

    filter.addEventListener("input", sift);
    // Typed to the end, a single match is taken with the key that ends the typing.
    filter.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      const shown = sift();
      if (filter.value.trim() === "" || shown.size !== 1) return;
      toggle([...shown][0]);
      filter.value = "";
      sift();
    });

    return { build, mark };
  }

  return { tailLength, found, open };
})();
