import type { AskedColumn } from "../aisle/walk-data.ts";

/** The elements of templates/pages/aisle.njk that the script fills, by their ids. */
interface PageElements {
  after: HTMLElement;
  "as-text": HTMLElement;
  "as-walked": HTMLDetailsElement;
  asked: HTMLElement;
  cautions: HTMLDetailsElement;
  "cautions-read": HTMLButtonElement;
  clear: HTMLButtonElement;
  "clear-line": HTMLElement;
  "clear-no": HTMLButtonElement;
  "clear-not": HTMLElement;
  "clear-sure": HTMLElement;
  "clear-yes": HTMLButtonElement;
  clock: HTMLElement;
  counts: HTMLElement;
  done: HTMLTableElement;
  "done-line": HTMLElement;
  "extra-conditions": HTMLElement;
  "extra-fault": HTMLElement;
  "is-void": HTMLInputElement;
  log: HTMLElement;
  "log-line": HTMLElement;
  main: HTMLButtonElement;
  "missed-line": HTMLElement;
  note: HTMLTextAreaElement;
  notice: HTMLElement;
  "on-paper": HTMLElement;
  "open-passes": HTMLElement;
  others: HTMLDetailsElement;
  "others-line": HTMLElement;
  "read-point": HTMLSelectElement;
  redo: HTMLButtonElement;
  said: HTMLElement;
  "save-file": HTMLButtonElement;
  "save-line": HTMLElement;
  "show-text": HTMLButtonElement;
  stage: HTMLElement;
  "stage-line": HTMLElement;
  "stage-word": HTMLElement;
  "strays-heard": HTMLElement;
  "take-extra": HTMLButtonElement;
  timer: HTMLElement;
  undo: HTMLButtonElement;
  "void-reason": HTMLInputElement;
  "void-reasons": HTMLElement;
  "void-why": HTMLElement;
  walk: HTMLElement;
  "walk-data": HTMLElement;
  "walked-by": HTMLInputElement;
  "walked-conditions": HTMLElement;
  "without-script": HTMLElement;
}

export function at<Id extends keyof PageElements>(id: Id): PageElements[Id] {
  return document.getElementById(id) as PageElements[Id];
}

interface Made {
  text?: string | undefined;
  on?: Record<string, (event: Event) => void>;
  [attribute: string]: unknown;
}

/** An element with its text, attributes and children; texts are never taken for markup. */
export function element<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  { text, on = {}, ...attributes }: Made = {},
  children: (Node | string)[] = [],
): HTMLElementTagNameMap[Tag] {
  const made = document.createElement(tag);
  if (text !== undefined) made.textContent = text;
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "boolean") made.toggleAttribute(name, value);
    else made.setAttribute(name, String(value));
  }
  for (const [name, handle] of Object.entries(on)) made.addEventListener(name, handle);
  made.append(...children);
  return made;
}

/** A text in the direction it is written in, whatever stands around it. */
export function apart(text: string): HTMLElement {
  return element("bdi", { text });
}

export function button(text: string, press: () => void, attributes: Made = {}): HTMLButtonElement {
  return element("button", { type: "button", text, on: { click: press }, ...attributes });
}

export function valueText(text: string, { unit }: Pick<AskedColumn, "unit">): string {
  return unit === null || text === "" ? text : `${text}\u00A0${unit}`;
}

/** A condition to be filled in: typed, or picked from the values that are known. */
export function conditionField(field: {
  column: AskedColumn;
  id: string;
  value: string;
  values: string[];
  hint?: string;
  changed(text: string): void;
}): HTMLElement {
  const { column, id, values, hint = "", changed } = field;
  const { label, unit, numeric } = column;
  const input = element("input", {
    id,
    type: "text",
    autocomplete: "off",
    ...(numeric ? { inputmode: "decimal" } : {}),
    on: { input: () => changed(input.value) },
  });
  input.value = field.value;
  const pick = (text: string) => () => {
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

/** A count with a button to either side. */
export function stepper(field: {
  label: string;
  id: string;
  value: number;
  least: number;
  changed(count: number): void;
}): HTMLElement {
  const { label, id, least, changed } = field;
  let count = field.value;
  const input = element("input", {
    id,
    type: "text",
    inputmode: "numeric",
    autocomplete: "off",
    on: {
      input: () => {
        if (/^\d{1,6}$/.test(input.value.trim())) take(Number(input.value));
      },
      change: () => step(0),
    },
  });
  const take = (wanted: number) => {
    count = Math.max(least, wanted);
    changed(count);
  };
  const step = (by: number) => {
    take(count + by);
    input.value = String(count);
  };
  input.value = String(count);
  return element("div", { class: "field stepper" }, [
    element("label", { for: id, text: label }),
    element("div", { class: "steps" }, [
      button("\u2212", () => step(-1), { "aria-label": `${label}: one fewer` }),
      input,
      button("+", () => step(1), { "aria-label": `${label}: one more` }),
    ]),
  ]);
}
