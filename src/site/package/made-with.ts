import { readFileSync } from "node:fs";
import { join } from "node:path";
import { compiledFolder, dependencyFolder, toolVersion } from "./package-folders.ts";

/** Says what a site was computed with. It is on no list of the site, since the same site may come of other versions. */
export const madeWithName = "made-with.json";

/** What was compiled, as compile.js found it. */
interface Compiled {
  /** Null where the sources were in no repository. */
  commit: string | null;
  /** Whether any source differed from the commit. */
  changed: boolean;
  /** Versions of the libraries inside the program, by name. */
  bundled: Record<string, string>;
  /** Names of the libraries that are installed with it. */
  installed: string[];
}

/** The file's text: tool and commit, runtime, and the version of each library, bundled or installed. */
export function madeWithText(): string {
  const { commit, changed, bundled, installed }: Compiled = JSON.parse(
    readFileSync(join(compiledFolder, "compiled.json"), "utf8"),
  );
  const versions = Object.fromEntries(installed.map((name) => [name, packageOf(name).version]));
  const { platform, arch, version } = process;
  const made = {
    tool: { name: "proofwalk", version: toolVersion, commit, changed },
    runtime: { name: "node", version, v8: process.versions.v8, platform, arch },
    libraries: { ...bundled, ...versions },
  };
  return `${JSON.stringify(made, null, 2)}\n`;
}

function packageOf(name: string): { version: string } {
  return JSON.parse(readFileSync(join(dependencyFolder(name), "package.json"), "utf8"));
}
