import { openFoldOfAddress } from "./folds.ts";
import { watchScrollRegions } from "./scroll-regions.ts";
import { offerSearch } from "./tables/search.ts";
import { sortByHeadings } from "./tables/sort.ts";

/* Conveniences of every page. Without scripts each page says the same, whole and in the order of its tables. */

// The browser's own menu prints the page just as well.
for (const button of document.querySelectorAll<HTMLButtonElement>("button.print")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
for (const table of document.querySelectorAll<HTMLTableElement>("table[data-sorts]")) sortByHeadings(table);
for (const search of document.querySelectorAll<HTMLElement>("[data-search]")) offerSearch(search);
watchScrollRegions();
openFoldOfAddress();
window.addEventListener("hashchange", openFoldOfAddress);
