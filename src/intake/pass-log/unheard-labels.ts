import { canonicalCode } from "../../codes/canonical-code.ts";
import { quoted } from "../quotation.ts";
import type { HeardTags } from "../reader-log/reader-log.ts";
import type { LogContext } from "./log-context.ts";
import type { Manifest } from "./manifest.ts";

/**
 * Remarks on loads of timed passes that call their tags by names no reader ever wrote: a reader hears codes, so such a tag
 * counts as missed in every pass, however well it was read.
 */
export function remarkOnUnheardLabels(heard: HeardTags, { manifests, passes, rows }: LogContext): void {
  const timed = new Set(passes.passes.map(({ form, manifest }) => (form === "timed" ? manifest : null)));
  const written = new Set(heard.codes);
  const isUnheardLabel = (text: string) => {
    const read = canonicalCode(text, "hex");
    return read.kind === "refused" || (read.kind === "text" && !written.has(read.code));
  };
  for (const manifest of manifests.values()) {
    if (!timed.has(manifest.name) || manifest.broken) continue;
    const presented = manifest.rows.filter((row) => row.presented);
    const labels = presented.filter(({ tag }) => isUnheardLabel(rows.tags.texts[tag]!));
    if (labels.length > 0) report(manifest, labels[0]!, labels.length, presented.length, rows.tags.texts);
  }
}

function report(
  { report: reporter, header }: Manifest,
  first: Manifest["rows"][number],
  labels: number,
  presented: number,
  texts: readonly string[],
): void {
  const tags = `${labels} of ${presented} tags that ${labels === 1 ? "is no code" : "are no codes"}`;
  reporter.warning(
    first.record,
    header?.fields.get("tag") ?? null,
    "labels-never-heard",
    `${tags} and that no reader wrote in any pass, first ${quoted(texts[first.tag]!)}`,
    "the codes of the tags, as their reader writes them",
    "They count as missed in every pass. Where they are names, write the codes in their place.",
  );
}
