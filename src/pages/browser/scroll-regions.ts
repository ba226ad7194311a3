/**
 * What may scroll sideways is a stop of the Tab key, so that the arrow keys can scroll it. Where all of it is seen the stop
 * is idle, and a reader of the page aloud would hear of a region for nothing.
 */
export function watchScrollRegions(): void {
  const watcher = new ResizeObserver((entries) => {
    for (const { target } of entries) setStop(target as HTMLElement);
  });
  for (const region of document.querySelectorAll<HTMLElement>(".scroll, .drawing")) {
    region.dataset.role = region.getAttribute("role") ?? "";
    region.dataset.label = region.getAttribute("aria-label") ?? "";
    watcher.observe(region);
  }
}

function setStop(region: HTMLElement): void {
  // A fold that is closed has no size: what is in it is set when it opens.
  if (region.clientWidth === 0) return;
  const scrolls = region.scrollWidth > region.clientWidth;
  const { role = "", label = "" } = region.dataset;
  set(region, "tabindex", scrolls ? "0" : "");
  set(region, "role", scrolls ? role || "group" : "");
  set(region, "aria-label", scrolls ? label || "Picture" : "");
}

function set(element: HTMLElement, name: string, value: string): void {
  if (value === "") element.removeAttribute(name);
  else element.setAttribute(name, value);
}
