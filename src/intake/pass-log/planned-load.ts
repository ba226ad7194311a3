import { byCodePoint } from "../../model/order.ts";
import type { PlannedLoad } from "../../model/pass-log.ts";
import { planLoadDiffers, planStatesTwice } from "../problems/pass-log.ts";
import type { YamlReport } from "../problems/reports.ts";
import { referenceUnknown } from "../problems/yaml.ts";
import type { LogContext } from "./log-context.ts";
import type { Manifest, ManifestRow } from "./manifest.ts";

/** Whether the load that the plan names exists and presents as many tags as the plan says. */
export function checkPlannedLoad({ facility, manifests }: LogContext, report: YamlReport): void {
  const { plan } = facility;
  if (plan === null || plan.manifest === null) return;
  const manifest = manifests.get(plan.manifest);
  if (manifest === undefined) {
    const names = [...manifests.keys()].sort(byCodePoint);
    report.value(["plan", "manifest"], referenceUnknown.manifest({ name: plan.manifest, names }));
    return;
  }
  for (const { column } of plan.each) {
    if (!manifest.columns.has(column)) continue;
    report.key(["plan", "each", column], planStatesTwice.with({ column, manifest: plan.manifest }));
  }
  const presented = presentedBy(manifest).length;
  // What is wrong with the manifest itself has been objected to in its own lines.
  if (manifest.broken || presented === plan.tagsPerPass) return;
  report.value(
    ["plan", "tags_per_pass"],
    planLoadDiffers.with({ manifest: plan.manifest, presented, planned: plan.tagsPerPass }),
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
