import { statSync } from "node:fs";
import { type BagCheck, checkBag, isBag } from "./bag/check-bag.ts";
import { type BagFiles, folderFiles } from "./bag/files.ts";
import { isSeal, sealFaults } from "./check-seal.ts";
import { readStoredZip } from "./zip/stored-zip.ts";

/** What stands at a place, if anything that can be checked as a bag does. */
export type Place =
  | { kind: "none" }
  /** A file that is no zip of `seal`. */
  | { kind: "file" }
  | { kind: "no-bag" }
  | OpenedBag;

export interface OpenedBag {
  kind: "bag";
  isZip: boolean;
  files: BagFiles;
}

/** Looks at a folder, or at a zip whose members are only stored. Nothing is checked yet. */
export async function openBag(path: string): Promise<Place> {
  const found = statSync(path, { throwIfNoEntry: false });
  if (found === undefined) return { kind: "none" };
  if (found.isDirectory()) return placeOf(folderFiles(path), false);
  const zip = found.isFile() ? await readStoredZip(path) : null;
  return zip === null ? { kind: "file" } : placeOf(zip.files, true);
}

function placeOf(files: BagFiles, isZip: boolean): Place {
  return isBag(files) ? { kind: "bag", isZip, files } : { kind: "no-bag" };
}

/** A bag with what is wrong with it: by the standard, and where it is a seal by what a seal keeps beyond it. */
export async function checkedBag(
  files: BagFiles,
  onStep: (text: string) => void,
): Promise<BagCheck & { isSeal: boolean }> {
  const bag = await checkBag(files, (path) => onStep(`Checking ${path}`));
  const known = isSeal(bag.info);
  const beyond = known ? await sealFaults(files, bag) : [];
  return { ...bag, faults: [...bag.faults, ...beyond], isSeal: known };
}
