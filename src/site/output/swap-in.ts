import { existsSync, lstatSync, renameSync, statSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { setImmediate as nextTurn } from "node:timers/promises";
import { abandonedBeside, BuildFolder } from "./build-folder.ts";
import { makeFolders, OutputRefused, realPath, refusalOf, removeEmptyFolders } from "./output-place.ts";
import { refuseForeignFolder } from "./own-site.ts";

/** How often another build may get in the way. */
const mostTries = 20;

/** A site in the making. */
export interface FreshSite {
  /** Where its files go. It exists once the first input has come. */
  folder: string;
  /**
   * Hands on what the site is made of. While the next one is read and judged, Ctrl+C ends the process at once, as it does
   * where no site is made: code that runs without a pause could not clear away. The next build does.
   */
  interruptible<T>(inputs: AsyncIterable<T> | Iterable<T>): AsyncGenerator<T>;
}

/**
 * Lets `fill` write a whole site into a new folder beside `out` and, only when that succeeded, puts it in `out`'s place
 * by renames. The site that stood before is untouched until then. A folder that holds anything but a site made here is
 * refused.
 */
export async function swapIn(out: string, fill: (site: FreshSite) => Promise<void>): Promise<void> {
  const target = placeOf(out);
  const work = BuildFolder.beside(target);
  const made = prepare(target, work, out);
  const clearAway = () => {
    work.remove();
    removeEmptyFolders(made);
  };
  const interruption = exitOnSignals();
  process.once("exit", clearAway);
  const begin = () => {
    if (!existsSync(work.path)) work.make();
    interruption.hold();
  };
  const site: FreshSite = {
    folder: work.fresh,
    async *interruptible(inputs) {
      for await (const input of inputs) {
        begin();
        yield input;
        await signalsTold();
        interruption.release();
      }
      begin();
    },
  };
  // While it is filled inputs are read as well, and their faults are none of the place.
  let touched: string | null = work.path;
  try {
    await fill(site);
    touched = null;
    replace(target, work, out);
  } catch (fault) {
    clearAway();
    throw refusalOf(fault, out, touched);
  } finally {
    interruption.release();
    process.off("exit", clearAway);
  }
}

/**
 * Refuses a place that cannot be written or replaced, before anything is read: the build folder is made and taken back.
 * Returns the folders that had to be made for it.
 */
function prepare(target: string, work: BuildFolder, out: string): string[] {
  let made: string[] = [];
  try {
    recoverAbandoned(target);
    refuseStanding(target, out);
    made = makeFolders(dirname(target));
    work.make();
    work.remove();
    return made;
  } catch (fault) {
    work.remove();
    removeEmptyFolders(made);
    throw refusalOf(fault, out);
  }
}

/** Where the site goes; a link leads to the folder that is replaced. */
function placeOf(out: string): string {
  const absolute = resolve(out);
  try {
    const isLink = lstatSync(absolute, { throwIfNoEntry: false })?.isSymbolicLink() ?? false;
    if (isLink && !existsSync(absolute))
      throw new OutputRefused(
        `"${out}" is a link that leads nowhere. Make the folder it names, or remove it.`,
      );
    return realPath(absolute);
  } catch (fault) {
    throw refusalOf(fault, out);
  }
}

/** What may not be replaced, said before the work begins. */
function refuseStanding(target: string, out: string): void {
  refuseForeignSite(target, out);
  if (!existsSync(target)) return;
  if (dirname(target) === target || statSync(target).dev !== statSync(dirname(target)).dev) {
    throw new OutputRefused(
      `"${out}" is a mount point and cannot be replaced. Give --out a folder inside it: ${out}/site`,
    );
  }
}

/** What another build replaces while it is looked at is looked at again. */
function refuseForeignSite(target: string, out: string): void {
  for (let tries = 0; ; tries += 1) {
    const before = statSync(target, { throwIfNoEntry: false });
    if (before === undefined) return;
    try {
      refuseForeignFolder(target, out);
      return;
    } catch (refusal) {
      const isSame = statSync(target, { throwIfNoEntry: false })?.ino === before.ino;
      if (isSame || tries === mostTries) throw refusal;
    }
  }
}

/** Puts the new site in its place. Another build may do the same at any moment: whoever comes last stands. */
function replace(target: string, work: BuildFolder, out: string): void {
  // Another build that lies between its two renames, or is faster, is met again on the next round.
  for (let tries = 0; ; tries += 1) {
    refuseForeignSite(target, out);
    const isAside = moved(target, work.earlier);
    try {
      renameSync(work.fresh, target);
    } catch (fault) {
      if (isAside) putBackOrCheck(target, work);
      if (!isTaken(fault) || tries === mostTries) throw fault;
      continue;
    }
    if (isAside) spend(target, work, out);
    work.remove();
    return;
  }
}

/** What was added to the earlier site since it was checked brings it back. */
function spend(target: string, work: BuildFolder, out: string): void {
  try {
    refuseForeignFolder(work.earlier, out);
  } catch (refusal) {
    if (moved(target, work.fresh)) renameSync(work.earlier, target);
    throw refusal;
  }
  renameSync(work.earlier, work.spent);
}

/** Where the place was taken meanwhile, the site set aside is no longer the one that stands. */
function putBackOrCheck(target: string, work: BuildFolder): void {
  try {
    renameSync(work.earlier, target);
  } catch (fault) {
    if (!isTaken(fault)) throw fault;
    refuseForeignFolder(work.earlier, work.earlier);
    renameSync(work.earlier, work.spent);
    work.removeSpent();
  }
}

/** False where there was nothing to move. */
function moved(from: string, to: string): boolean {
  try {
    renameSync(from, to);
    return true;
  } catch (fault) {
    if ((fault as NodeJS.ErrnoException).code === "ENOENT") return false;
    throw fault;
  }
}

function isTaken(fault: unknown): boolean {
  return ["ENOTEMPTY", "EEXIST"].includes((fault as NodeJS.ErrnoException).code ?? "");
}

/** Puts back a site that a killed build had set aside, and clears away what killed builds left. */
function recoverAbandoned(target: string): void {
  for (const work of abandonedBeside(target)) {
    try {
      if (existsSync(work.earlier)) putBackOrCheck(target, work);
      work.remove();
    } catch {
      // Another build is at it, or somebody changed what lies there: nothing is deleted that is not known.
    }
  }
}

/** Between `hold` and `release` a signal ends the process through exit, which lets it clear away. */
export function exitOnSignals(): { hold(): void; release(): void } {
  const end = (signal: NodeJS.Signals) => process.exit(signal === "SIGINT" ? 130 : 143);
  const release = () => {
    process.off("SIGINT", end);
    process.off("SIGTERM", end);
  };
  const hold = () => {
    release();
    process.on("SIGINT", end);
    process.on("SIGTERM", end);
  };
  return { hold, release };
}

/**
 * Waits until every signal that has come is told. Node tells it when it next polls, which in the turn under way may be over:
 * whoever stopped listening before would never be told.
 */
async function signalsTold(): Promise<void> {
  await nextTurn();
  await nextTurn();
}
