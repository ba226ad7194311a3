/*
 * Runs on pages that are served, never on those of a site on disk: loads the page again after each build. What was unfolded stays
 * unfolded. A log that is being written is never taken away by it.
 */

const key = `unfolded ${location.pathname}`;
const folds = () => [...document.querySelectorAll("details")];

function restore(): void {
  const kept = sessionStorage.getItem(key);
  sessionStorage.removeItem(key);
  if (kept === null) return;
  const { open, top } = JSON.parse(kept) as { open: boolean[]; top: number };
  folds().forEach((fold, i) => {
    fold.open = open[i] ?? fold.open;
  });
  scrollTo({ top, behavior: "instant" });
}

function refresh(): void {
  if (document.body.classList.contains("aisle")) {
    if (document.querySelector(".rebuilt") !== null) return;
    const line = document.createElement("p");
    line.className = "rebuilt";
    line.setAttribute("role", "status");
    line.textContent =
      "The site was built again. Load this page anew when no pass is running; the log is kept.";
    document.body.prepend(line);
    return;
  }
  sessionStorage.setItem(key, JSON.stringify({ open: folds().map(({ open }) => open), top: scrollY }));
  location.reload();
}

const script = document.currentScript as HTMLScriptElement;
const mine = script.getAttribute("data-build");
const events = new EventSource("/.served/events");
events.addEventListener("message", ({ data }) => {
  if (data !== mine) refresh();
});
restore();
