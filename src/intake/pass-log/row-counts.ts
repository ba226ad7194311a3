import type { InputFile } from "../../model/result.ts";
import type { LogContext } from "./log-context.ts";

/** How many rows of each file entered the figures, and how many belong to void passes. */
export function countRows(context: LogContext, inputs: readonly InputFile[]): void {
  const { rows, passes, files, manifests } = context;
  const byPath = new Map(inputs.map((input) => [input.path, input]));
  const counts = files.map(() => ({ used: 0, void: 0 }));
  for (const pass of passes.passes) {
    const isVoid = pass.voidReasons !== null;
    // In the other two forms a pass is a row.
    if (pass.form !== "itemised") counts[pass.file]![isVoid ? "void" : "used"] += 1;
    const manifest = manifests.get(pass.manifest ?? "");
    if (manifest !== undefined) manifest.walked[isVoid ? "void" : "valid"] += 1;
  }
  for (let row = 0; row < rows.length; row += 1) {
    const pass = passes.passes[rows.pass[row]!]!;
    if (pass.form === "itemised") counts[pass.file]![pass.voidReasons === null ? "used" : "void"] += 1;
  }
  files.forEach((file, i) => {
    Object.assign(byPath.get(file.path)!, counts[i]);
  });
  for (const { input, walked } of manifests.values()) {
    input.used = walked.valid > 0 ? input.rows : 0;
    input.void = walked.valid === 0 && walked.void > 0 ? input.rows : 0;
  }
}
