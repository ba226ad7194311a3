import { quoted } from "../quotation.ts";
import type { LogContext } from "./log-context.ts";

/** Remarks on manifests that nobody walks, and on bystanders of which nothing is known. */
export function remarkOnManifests({ manifests, passes, files, facility }: LogContext): void {
  const walked = new Set(passes.passes.map((pass) => pass.manifest));
  // The load of a walk that is still to come.
  walked.add(facility.plan?.manifest ?? null);
  for (const manifest of manifests.values()) {
    if (walked.has(manifest.name) || manifest.broken) continue;
    manifest.report.whole(
      "warning",
      "manifest-unused",
      `the manifest ${quoted(manifest.name)}, which no pass walks`,
      "manifests that pass logs name",
      "Check the manifest column of the logs, or remove the file.",
    );
  }
  for (const pass of passes.passes) {
    const manifest = manifests.get(pass.manifest ?? "");
    if (manifest === undefined || !manifest.hasBystanders || pass.straysRecorded || pass.voidReasons !== null)
      continue;
    const { report, header } = files[pass.file]!;
    report.warning(
      pass.record,
      header.fields.get("stray_tags") ?? null,
      "bystanders-not-recorded",
      `pass ${quoted(pass.id)} at ${quoted(facility.readPoints[pass.readPoint]!.id)} says nothing of stray tags`,
      `a filled stray_tags, since manifest ${quoted(manifest.name)} lists tags that were not presented`,
      'They are left out of the figures for this pass. Write "none" under stray_tags if none of them was heard.',
    );
  }
}
