import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { TestProject } from "vitest/node";

declare module "vitest" {
  interface ProvidedContext {
    /** A folder that lives for one run of the tests, empty at its start: what is dear to make is made there once. */
    sharedFolder: string;
  }
}

export default async function sharedFolder(project: TestProject): Promise<() => Promise<void>> {
  const folders: string[] = [];
  const provide = async () => {
    const folder = await mkdtemp(join(tmpdir(), "proofwalk-run-"));
    folders.push(folder);
    project.provide("sharedFolder", folder);
  };
  await provide();
  project.onTestsRerun(provide);
  return async () => {
    for (const folder of folders) await rm(folder, { recursive: true, force: true });
  };
}
