import { statesWorstFirst } from "../../../model/state.ts";

const natural = new Intl.Collator("en", { numeric: true });
const leastRows = 3;
/** Fewer blocks than this are seen at a glance on a phone. */
const leastBlocks = 8;

interface Order {
  column: number;
  descending: boolean;
}

/** What is moved and found as a whole: a row, or a group of rows where the table has groups. */
export function entriesOf(table: HTMLTableElement): HTMLElement[] {
  const [first, ...others] = table.tBodies;
  if (first === undefined) return [];
  return others.length === 0 ? [...first.rows] : [first, ...others];
}

/**
 * Each heading of the table becomes a button: rising, falling, and as it was. Where the headings are not shown, since rows
 * are blocks on a phone, a list above the table offers the same.
 */
export function sortByHeadings(table: HTMLTableElement): void {
  const entries = entriesOf(table);
  const headings = [...(table.tHead?.rows[0]?.cells ?? [])];
  const parent = entries[0]?.parentElement;
  if (entries.length < leastRows || !parent) return;
  let order: Order | null = null;

  const list = document.createElement("select");
  const show = (next: Order | null) => {
    order = next;
    parent.append(...(next === null ? entries : sorted(entries, headings, next)));
    headings.forEach((heading, column) => {
      if (next?.column === column)
        heading.setAttribute("aria-sort", next.descending ? "descending" : "ascending");
      else heading.removeAttribute("aria-sort");
    });
    list.value = next === null ? "" : optionOf(next);
  };

  headings.forEach((heading, column) => {
    if (heading.colSpan > 1 || heading.textContent === "") return;
    const button = document.createElement("button");
    button.type = "button";
    button.className = "sort";
    button.append(...heading.childNodes);
    button.addEventListener("click", () => show(nextOrder(order, column)));
    heading.append(button);
  });

  list.append(new Option("as listed", ""));
  headings.forEach((heading, column) => {
    const label = heading.textContent!.trim();
    if (label === "") return;
    list.append(new Option(`${label}, rising`, optionOf({ column, descending: false })));
    list.append(new Option(`${label}, falling`, optionOf({ column, descending: true })));
  });
  list.addEventListener("change", () => {
    const [column, direction] = list.value.split(" ");
    show(list.value === "" ? null : { column: Number(column), descending: direction === "falling" });
  });
  if (entries.length < leastBlocks) return;
  const label = document.createElement("label");
  label.className = "sort-list screen-only";
  label.append("Sort by ", list);
  (table.closest(".scroll") ?? table).before(label);
}

function optionOf({ column, descending }: Order): string {
  return `${column} ${descending ? "falling" : "rising"}`;
}

function nextOrder(order: Order | null, column: number): Order | null {
  if (order?.column !== column) return { column, descending: false };
  return order.descending ? null : { column, descending: true };
}

/** Entries without a value come last, either way. */
function sorted(
  entries: HTMLElement[],
  headings: HTMLElement[],
  { column, descending }: Order,
): HTMLElement[] {
  const isNumber = headings[column]!.classList.contains("number");
  const keyed = entries.map((entry) => {
    const cell = (entry instanceof HTMLTableSectionElement ? entry.rows[0]! : (entry as HTMLTableRowElement))
      .cells[column];
    return { entry, key: cell === undefined ? null : keyOf(cell, isNumber) };
  });
  const sign = descending ? -1 : 1;
  const compare = (a: string | number, b: string | number) =>
    typeof a === "number" && typeof b === "number" ? a - b : natural.compare(String(a), String(b));
  return keyed
    .toSorted((a, b) => {
      if (a.key === null || b.key === null) return Number(a.key === null) - Number(b.key === null);
      return sign * compare(a.key, b.key);
    })
    .map(({ entry }) => entry);
}

/** A state by its weight; `38 of 40` as a share; any other number as it is; the rest as text. */
function keyOf(cell: HTMLElement, isNumber: boolean): string | number | null {
  const state = cell.querySelector(".state");
  if (state !== null) return statesWorstFirst.findIndex((each) => state.classList.contains(each));
  const text = (isNumber ? (cell.querySelector("b") ?? cell) : cell).textContent!.trim();
  if (!isNumber) return text === "" ? null : text;
  const figures = text.replace(/(?<=\d)[\u202f\u2009\u00a0](?=\d{3})/g, "").replaceAll("\u2212", "-");
  const [, k, n] = /^(-?[\d.]+)(?: of ([\d.]+))?/.exec(figures) ?? [];
  if (k === undefined) return null;
  return n === undefined || Number(n) === 0 ? Number(k) : Number(k) / Number(n);
}
