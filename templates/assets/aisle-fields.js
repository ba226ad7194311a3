// The controls of the aisle page that are made by script: large enough for a glove.
globalThis.aisleParts ??= {};
globalThis.aisleParts.fields = (() => {
  // An element with its text, attributes and children; texts are never taken for markup.
  function element(tag, { text, on = {}, ...attributes } = {}, children = []) {
    const made = document.createElement(tag);
    if (text !== undefined) made.textContent = text;
    for (const [name, value] of Object.entries(attributes)) {
      if (typeof value === "boolean") made.toggleAttribute(name, value);
      else made.setAttribute(name, value);
    }
    for (const [name, handle] of Object.entries(on)) made.addEventListener(name, handle);
    made.append(...children);
    return made;
  }

  // A text in the direction it is written in, whatever stands around it.
  function apart(text) {
    return element("bdi", { text });
  }

  function button(text, press, attributes = {}) {
    return element("button", { type: "button", text, on: { click: press }, ...attributes });
  }

  function valueText(text, { unit }) {
    return unit === null || text === "" ? text : `${text}\u00A0${unit}`;
  }

  // A condition to be filled in: typed, or picked from the values that are known.
  function conditionField(column, id, value, { values, hint = "" }, changed) {
    const { label, unit, numeric } = column;
    const input = element("input", {
      id,
      type: "text",
      autocomplete: "off",
      ...(numeric ? { inputmode: "decimal" } : {}),
      on: { input: () => changed(input.value) },
    });
    input.value = value;
    const pick = (text) => () => {
      input.value = text;
      changed(text);
    };
    return element("div", { class: "field" }, [
      element("label", { for: id, text: unit === null ? label : `${label}, ${unit}` }),
      input,
      element("div", { class: "picks", role: "group", "aria-label": `${label}: known values` }, [
        ...values.map((text) => button(valueText(text, column), pick(text))),
      ]),
      ...(hint === "" ? [] : [element("p", { class: "quiet", text: hint })]),
    ]);
  }

  // A count with a button to either side.
  function stepper(label, id, value, least, changed) {
    const input = element("input", {
      id,
      type: "text",
      inputmode: "numeric",
      autocomplete: "off",
      on: {
        input: () => {
          if (/^\d{1,6}$/.test(input.value.trim())) set(Number(input.value), false);
        },
        change: () => set(count, true),
      },
    });
    let count = value;
    const set = (wanted, shown) => {
      count = Math.max(least, wanted);
      if (shown) input.value = String(count);
      changed(count);
    };
    input.value = String(value);
    return element("div", { class: "field stepper" }, [
      element("label", { for: id, text: label }),
      element("div", { class: "steps" }, [
        button("\u2212", () => set(count - 1, true), { "aria-label": `${label}: one fewer` }),
        input,
        button("+", () => set(count + 1, true), { "aria-label": `${label}: one more` }),
      ]),
    ]);
  }

  return { element, apart, button, valueText, conditionField, stepper };
})();
