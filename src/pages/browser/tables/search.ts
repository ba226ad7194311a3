import { entriesOf } from "./sort.ts";

/** A table this short is seen at a glance. */
const leastRows = 6;

/**
 * Shows only what contains every word typed, in the tables that stand beside the field, and counts it. On paper all of it
 * stays.
 */
export function offerSearch(search: HTMLElement): void {
  const field = search.querySelector("input")!;
  const count = search.querySelector("output")!;
  const scope = search.parentElement!;
  const tables = [...scope.querySelectorAll<HTMLTableElement>("table[data-sorts]")];
  const entries = tables.flatMap((table) =>
    entriesOf(table).map((entry) => ({ entry, text: plain(entry.textContent!) })),
  );
  if (entries.length < leastRows) return;
  search.hidden = false;
  const { things = "" } = search.dataset;
  const folds = [...scope.querySelectorAll<HTMLDetailsElement>("details.passes-of")].map((fold) => ({
    fold,
    wasOpen: fold.open,
  }));

  const show = () => {
    const words = field.value.split(/\s+/).map(plain);
    const isAsked = words.some((word) => word !== "");
    let found = 0;
    for (const { entry, text } of entries) {
      const fits = words.every((word) => text.includes(word));
      entry.classList.toggle("left-out", !fits);
      if (fits) found += 1;
    }
    for (const { fold, wasOpen } of folds) {
      const hasFound = fold.querySelector("table[data-sorts] tbody > tr:not(.left-out)") !== null;
      fold.open = isAsked ? hasFound : wasOpen;
      fold.closest(".passes-block")?.classList.toggle("left-out", isAsked && !hasFound);
    }
    count.textContent = isAsked ? `${found} of ${entries.length} ${things}` : "";
  };
  field.addEventListener("input", show);
  if (field.value !== "") show();
}

/** Small letters, without blanks: codes are found however they are written. */
function plain(text: string): string {
  return text.toLowerCase().replace(/\s+/g, "");
}
