/** Unfolds what the address leads to: not every browser does so by itself. */
export function openFoldOfAddress(): void {
  const target = document.getElementById(decodeURIComponent(window.location.hash.slice(1)));
  if (target === null) return;
  const folds = foldsAround(target).filter((fold) => !fold.open);
  for (const fold of folds) fold.open = true;
  if (folds.length > 0) target.scrollIntoView();
}

function foldsAround(element: Element): HTMLDetailsElement[] {
  const folds: HTMLDetailsElement[] = [];
  for (let at = element.closest("details"); at !== null; at = at.parentElement?.closest("details") ?? null)
    folds.push(at);
  return folds;
}
