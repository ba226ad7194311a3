import { byCodePoint } from "../../model/order.ts";
import type { PlannedLoad } from "../../model/pass-log.ts";
import { listing, quoted } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import type { YamlReporter } from "../yaml/reporter.ts";
import type { LogContext } from "./log-context.ts";
import type { Manifest, ManifestRow } from "./manifest.ts";

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
    if (!manifest.columns.has(column)) continue;
    report.keyError(
      ["plan", "each", column],
      "plan-states-twice",
      `the column ${quoted(column)}, which manifest ${quoted(plan.manifest)} states of each tag`,
      "columns that the load leaves open",
      "Remove it from each, or from the manifest: a log that follows this plan would state it twice.",
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

/** The plan's load, by code point; null where the plan names none. */
export function plannedLoad({ facility, manifests, rows }: LogContext): PlannedLoad | null {
  const manifest = manifests.get(facility.plan?.manifest ?? "");
  if (manifest === undefined) return null;
  const code = (row: ManifestRow) => rows.tags.texts[row.tag]!;
  const load = presentedBy(manifest).sort((a, b) => byCodePoint(code(a), code(b)));
  const columns = [...manifest.columns].map(([name, place]) => {
    const { texts } = rows.columns.find((column) => column.name === name)!.table;
    return [name, load.map((row) => texts[row.texts[place]!] ?? null)] as const;
  });
  return { tags: load.map(code), columns: Object.fromEntries(columns) };
}

function presentedBy(manifest: Manifest) {
  return manifest.rows.filter((row) => row.presented);
}
