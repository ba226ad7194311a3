import type { LogContext } from "./log-context.ts";

const headerRecord = 0;

/** A log that writes down strays for some of its passes only leaves the others out of every figure on strays. */
export function remarkOnStrays({ passes, files }: LogContext): void {
  for (const [index, { report, header }] of files.entries()) {
    const field = header.fields.get("stray_tags");
    if (field === undefined) continue;
    const own = passes.passes.filter((pass) => pass.file === index && pass.voidReasons === null);
    const recorded = own.filter((pass) => pass.straysRecorded).length;
    if (recorded === 0 || recorded === own.length) continue;
    report.warning(
      headerRecord,
      field,
      "strays-half-recorded",
      `stray_tags filled in ${recorded} of ${own.length} passes`,
      "stray_tags filled in every pass, or in none",
      "A blank says that nobody looked, so those passes do not count where strays are judged. Where somebody looked and heard none, write none (in a tally, 0).",
    );
  }
}
