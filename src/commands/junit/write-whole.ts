import { randomBytes } from "node:crypto";
import { existsSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { liesIn, OutputRefused, realPath, refusalOf } from "../../site/output/output-place.ts";

/** Why a file cannot be written where it was named, said before anything is judged; null where it can. */
export function refuseFile(file: string, data: string): string | null {
  const refused = (why: string, advice: string) => `"${file}" cannot be written: ${why}. ${advice}`;
  if (file.trim() === "") return "--junit needs the name of a file.";
  if (existsSync(file) && !statSync(file).isFile())
    return refused("it is a folder or a device", "Name a file.");
  const folder = dirname(file);
  if (!existsSync(folder)) return refused(`there is no folder "${folder}"`, "Make the folder first.");
  // Whatever lies among the inputs is read as one.
  if (liesIn(realPath(file), realPath(data)))
    return refused(`it lies in the data folder "${data}"`, "Name a place outside of it.");
  return null;
}

/** Writes a file whole or not at all: beside its place first, then by a rename. Returns why it could not; null where it did. */
export function writeWhole(file: string, text: string): string | null {
  const beside = join(dirname(file), `.${basename(file)}.${randomBytes(6).toString("hex")}`);
  try {
    writeFileSync(beside, text, { flag: "wx" });
    renameSync(beside, file);
    return null;
  } catch (fault) {
    rmSync(beside, { force: true });
    const refusal = refusalOf(fault, file);
    if (refusal instanceof OutputRefused) return refusal.message;
    throw fault;
  }
}
