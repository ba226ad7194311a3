import { byCodePoint } from "../../analysis/order.ts";
import { listing, quoted } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import type { YamlReporter } from "../yaml/reporter.ts";
import type { LogContext } from "./log-context.ts";
import type { Manifest } from "./manifest.ts";

/** Whether the load that the plan names exists and presents as many tags as the plan says. */
export function checkPlannedLoad({ facility, manifests }: LogContext, report: YamlReporter): void {
  const { plan } = facility;
  if (plan === null || plan.manifest === null) return;
  const path = ["plan", "manifest"];
  const manifest = manifests.get(plan.manifest);
  if (manifest === undefined) {
    const names = [...manifests.keys()].sort(byCodePoint);
    report.error(
      path,
      "reference-unknown",
      names.length === 0
        ? "the name of a file in manifests/, where there is none"
        : `a manifest: ${listing(names)}`,
      `${didYouMean(plan.manifest, names)}Correct it, or add manifests/${plan.manifest}.csv.`,
    );
    return;
  }
  for (const { column } of plan.each) {
    const stored = manifest.columns.get(column);
    if (stored === undefined || !manifest.rows.some(({ texts }) => texts[stored]! >= 0)) continue;
    report.error(
      ["plan", "each", column],
      "plan-condition-in-load",
      `a condition that manifest ${quoted(plan.manifest)} leaves open`,
      `${manifest.path} says it of each tag, so no pass can be walked at one value of it: leave it out here, or take the column out of the manifest.`,
      `the key ${quoted(column)}`,
    );
  }
  const presented = presentedBy(manifest).length;
  // What is wrong with the manifest itself has been objected to in its own lines.
  if (manifest.broken || presented === plan.tagsPerPass) return;
  report.error(
    ["plan", "tags_per_pass"],
    "plan-load-differs",
    `the ${presented} that manifest ${quoted(plan.manifest)} presents`,
    `The plan says ${plan.tagsPerPass} tags a pass and its load presents ${presented}: correct one of the two.`,
  );
}

/** The tags of the plan's load, by code point; null where the plan names none. */
export function plannedTags({ facility, manifests, rows }: LogContext): string[] | null {
  const manifest = manifests.get(facility.plan?.manifest ?? "");
  if (manifest === undefined) return null;
  return presentedBy(manifest)
    .map((row) => rows.tags.texts[row.tag]!)
    .sort(byCodePoint);
}

function presentedBy(manifest: Manifest) {
  return manifest.rows.filter((row) => row.presented);
}
