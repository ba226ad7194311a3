import { existsSync, rmSync } from "node:fs";
import { mkdir, mkdtemp, readdir, rename, rm } from "node:fs/promises";
import { basename, dirname, resolve } from "node:path";
import { contentsName } from "./contents-list.ts";

/** Why an output folder is left alone; it is an input of the user, so the command says it as one. */
export class OutputRefused extends Error {}

/**
 * Lets `fill` write a whole site into a new folder beside `out` and, only when that succeeded, puts it in `out`'s place
 * by renames. The site that stood before is untouched until then. A folder that holds anything but a site made here is
 * refused.
 */
export async function swapIn(out: string, fill: (folder: string) => Promise<void>): Promise<void> {
  const target = resolve(out);
  await refuseForeignFolder(target, out);
  const fresh = await newFolderBeside(target, out);
  // A process that is interrupted leaves through exit, and not through `finally`.
  const clearAway = () => rmSync(fresh, { recursive: true, force: true });
  process.once("exit", clearAway);
  try {
    await fill(fresh);
    if (existsSync(target)) {
      const old = await mkdtemp(`${target}.old-`);
      await rename(target, `${old}/${basename(target)}`);
      try {
        await rename(fresh, target);
      } catch (fault) {
        await rename(`${old}/${basename(target)}`, target);
        throw fault;
      } finally {
        await rm(old, { recursive: true, force: true });
      }
    } else {
      await rename(fresh, target);
    }
  } finally {
    process.off("exit", clearAway);
    await rm(fresh, { recursive: true, force: true });
  }
}

async function newFolderBeside(target: string, out: string): Promise<string> {
  try {
    await mkdir(dirname(target), { recursive: true });
    return await mkdtemp(`${target}.new-`);
  } catch (fault) {
    const reason = (fault as NodeJS.ErrnoException).code ?? "unknown";
    throw new OutputRefused(
      `No folder can be made beside "${out}" (${reason}). Give --out a place that can be written.`,
    );
  }
}

async function refuseForeignFolder(target: string, out: string): Promise<void> {
  if (!existsSync(target)) return;
  const names = await readdir(target).catch(() => {
    throw new OutputRefused(
      `"${out}" is not a folder. Give --out a folder that is new, empty or an earlier site.`,
    );
  });
  if (names.length === 0 || names.includes(contentsName)) return;
  throw new OutputRefused(
    `"${out}" holds files that proofwalk did not write (${names.slice(0, 3).join(", ")}), and a build replaces the ` +
      "whole folder. Give --out a folder that is new, empty or an earlier site.",
  );
}
