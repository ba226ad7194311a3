import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { pictureUnreadable } from "../../intake/problems/pictures.ts";
import { placedProblem } from "../../intake/problems/problem-list.ts";
import type { Problem } from "../../model/problem.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import { codecOf } from "./codec.ts";

/** What is asked of the pictures of a facility. */
interface PictureCheck {
  facility: string;
  /** The folder that the paths of its files are relative to. */
  folder: string;
  onFile: (path: string) => void;
}

/**
 * The photographs of which no copy could be made, since they are damaged inside: their segments are whole, and what these hold is not. To tell,
 * each is decoded, as for the pages: 0.2 to 0.4 s of a processor for twelve million pixels.
 */
export async function damagedPictures(
  inputs: readonly InputFile[],
  { facility, folder, onFile }: PictureCheck,
): Promise<Problem[]> {
  const problems: Problem[] = [];
  for (const { path, picture } of inputs) {
    if (picture === undefined || picture.kind === "svg") continue;
    onFile(path);
    const bytes = await readFile(join(folder, path));
    const codec = await codecOf(picture.kind);
    const isWhole = await codec.decode(bytes).then(
      () => true,
      () => false,
    );
    if (isWhole) continue;
    const why = `a ${picture.kind.toUpperCase()} that cannot be decoded`;
    problems.push(placedProblem({ facility, file: path }, pictureUnreadable.damaged({ why })));
  }
  return problems;
}
