import { existsSync } from "node:fs";
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { inject } from "vitest";
import { type BuiltSite, buildSite, openSite } from "./built-site.ts";

/** The site of the demonstration data, built by the first test file that asks; the others wait for it. */
export async function demonstrationSite(): Promise<BuiltSite> {
  const folder = join(inject("sharedFolder"), "demonstration");
  const site = join(folder, "site");
  const failed = join(folder, "failed");
  const isFirst = await mkdir(folder).then(
    () => true,
    () => false,
  );
  if (isFirst) {
    try {
      return await buildSite("data", site);
    } catch (fault) {
      await writeFile(failed, "");
      throw fault;
    }
  }
  // The site appears whole, by a rename.
  while (!existsSync(site)) {
    if (existsSync(failed)) throw new Error("The demonstration site could not be built: see the other file.");
    await pause(50);
  }
  return openSite(site);
}
