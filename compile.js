import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "rolldown";
import manifest from "./package.json" with { type: "json" };
import { templates } from "./templates-plugin.js";

/**
 * Compiles the programs into dist. What package.json lists as a dependency is installed with the tool and loaded from
 * there: the database's native part, the engine, and what the site copies. Every other package is bundled, since a
 * command spends less time on a few large files than on finding and loading nine hundred small ones.
 */
const installed = Object.keys(manifest.dependencies);
/** What the engine would load to serve or to watch by itself, which no command asks of it. */
const unreached = ["@11ty/eleventy-dev-server", "@11ty/chokidar-with-glob-support"];
/**
 * What the engine loads at its start for work that no site of ours gives it: other template languages, code in front matter, languages of
 * a site, links and ids in finished pages, copies of files. It is half of the engine, and left out.
 */
const unasked = [
  "@11ty/dependency-tree",
  "@11ty/dependency-tree-esm",
  "@11ty/posthtml-urls",
  "@11ty/recursive-copy",
  "bcp-47-normalize",
  "entities",
  "iso-639-1",
  "liquidjs",
  "node-retrieve-globals",
  "posthtml",
];
const engine = JSON.parse(readFileSync("node_modules/@11ty/eleventy/package.json", "utf8"));
/** Whether there is a Response: to ask for it loads an HTTP client, and every Node that is supported has one. */
const response = { from: "typeof Response", to: '"function"' };
/** Lines of packages that are wrong once they are bundled, or cost too much. */
const changes = [
  {
    // The engine reads its package.json, two folders above the module that does so. Bundled there is none: it gets its version.
    file: "@11ty/eleventy/src/Util/ImportJsonSync.js",
    from: 'let filePath = normalizeFilePathInEleventyPackage("package.json");',
    to: `return ${JSON.stringify({ version: engine.version })};`,
  },
  {
    // It looks for templates from the working folder on, in all folders above: it gets the one they lie in.
    file: "@11ty/eleventy/src/FileSystemSearch.js",
    from: "dot: true,",
    to: 'dot: true, absolute: true, cwd: globs[0].split("*")[0],',
  },
  { file: "hucre/dist/zip/reader.mjs", ...response },
  { file: "hucre/dist/zip/writer.mjs", ...response },
];

await program(
  "src",
  ["src/cli", "src/intake/write-documents"],
  [templates(), licences("src/licences.txt", "src/compiled.json")],
);
await program(
  "bench",
  [
    "bench/run",
    "bench/walk-csv",
    "bench/report-usage",
    "bench/aggregate-bare",
    "bench/simulation/run",
    "bench/simulation/write",
  ],
  [],
  // A browser and what reads its prints lie where they are installed: only this repository has them.
  ["playwright-core", "@sparticuz/chromium", /^pdfjs-dist/],
);
await program("demonstration", ["demonstration/generate"]);
for (const name of ["aisle", "explore", "page"]) await browserScript(name, "assets");
// Pages that are served have it, and no site.
await browserScript("refresh", "served");

/**
 * @param {string} name
 * @param {string[]} paths Of its modules that are run or imported by their place, without extension.
 * @param {import("rolldown").Plugin[]} plugins
 * @param {(string | RegExp)[]} beside Further packages that are not bundled.
 */
function program(name, paths, plugins = [], beside = []) {
  return build({
    input: Object.fromEntries(paths.map((path) => [path, `${path}.ts`])),
    platform: "node",
    external: [...installed, ...beside, ...unreached],
    plugins: [adapted(), ...plugins],
    // The engine's reader of front matter evaluates JavaScript where a template brings some: none does.
    checks: { eval: false },
    output: {
      dir: "dist",
      sourcemap: true,
      // Shorter text starts sooner: the licences lie in a file of their own, and names of functions stay, for stack traces.
      comments: false,
      minify: { compress: { keepNames: { function: true, class: true } }, mangle: { keepNames: true } },
      codeSplitting: { groups: groups() },
      cleanDir: name === "src",
      entryFileNames: "[name].js",
      // Modules of the bench find their neighbours by their own place, so its chunks lie where its entries do.
      chunkFileNames: name === "src" ? "src/chunks/[name].js" : `${name}/[name].js`,
    },
  });
}

/**
 * What most commands load is bundled into one file for each step, with every module that no earlier step has. Left to itself the
 * bundler makes sixty files, one for each set of commands that share something.
 */
function groups() {
  const steps = [
    { name: "command-line", test: /[\\/]src[\\/]cli\.ts$/ },
    { name: "reading", test: /[\\/]commands[\\/]data[\\/]read-all\.ts$/ },
    { name: "judging", test: /[\\/]commands[\\/]data[\\/]judge-all\.ts$/ },
    { name: "reader-logs", test: /[\\/]reader-log[\\/]read\.ts$/ },
    { name: "journeys", test: /[\\/]journey[\\/](?:read|judge)-journey\.ts$/ },
  ];
  return steps.map((step, i) => ({ ...step, priority: steps.length - i }));
}

/**
 * A classic script, whole in one file: pages opened from a disk load no modules.
 * @param {string} name
 * @param {string} folder
 */
function browserScript(name, folder) {
  return build({
    input: `src/pages/browser/${name}.ts`,
    platform: "browser",
    output: { file: `dist/src/${folder}/${name}.js`, format: "iife" },
  });
}

/**
 * Packages without what they are not asked for, and with `changes`. A line that is to be changed and is not there is an error.
 * @returns {import("rolldown").Plugin}
 */
function adapted() {
  const nothing = "\0nothing";
  return {
    name: "adapted",
    resolveId: (id) => (unasked.includes(id) ? nothing : null),
    load(id) {
      if (id === nothing) return "module.exports = {};";
      const change = changes.find(({ file }) => id.replaceAll("\\", "/").endsWith(`/node_modules/${file}`));
      if (change === undefined) return null;
      const source = readFileSync(id, "utf8");
      if (!source.includes(change.from)) this.error(`${id} has changed: there is no ${change.from} in it.`);
      return source.replaceAll(change.from, change.to);
    },
  };
}

/**
 * Writes two files beside the program: the licences of all bundled packages, which ask to go wherever the code goes, and what
 * was compiled, of which commit and with which versions.
 * @param {string} fileName
 * @param {string} compiledName
 * @returns {import("rolldown").Plugin}
 */
function licences(fileName, compiledName) {
  return {
    name: "licences",
    generateBundle(_, bundle) {
      const modules = Object.values(bundle).flatMap((file) => (file.type === "chunk" ? file.moduleIds : []));
      const folders = modules.map((id) => /^.*[\\/]node_modules[\\/](?:@[^\\/]+[\\/])?[^\\/]+/.exec(id)?.[0]);
      /** @type {Map<string, string[]>} */
      const packagesByText = new Map();
      /** @type {[string, string][]} */
      const versions = [];
      for (const folder of new Set(folders)) {
        if (folder === undefined) continue;
        const { name, version, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
        versions.push([name, version]);
        const text = licenceText(folder);
        packagesByText.set(text, [...(packagesByText.get(text) ?? []), `${name} ${version}, ${license}`]);
      }
      const parts = [...packagesByText].map(([text, names]) => `${names.sort().join("\n")}\n\n${text}\n`);
      const bundled = Object.fromEntries(versions.sort(([a], [b]) => (a < b ? -1 : 1)));
      const compiled = { ...sourceCommit(), bundled, installed };
      this.emitFile({ type: "asset", fileName: compiledName, source: JSON.stringify(compiled, null, 2) });
      this.emitFile({ type: "asset", fileName, source: parts.sort().join(`\n${"-".repeat(80)}\n\n`) });
    },
  };
}

/** The commit that the sources are of; null where they are in no repository of their own. */
function sourceCommit() {
  /** @param {string[]} words */
  const git = (...words) =>
    execFileSync("git", words, { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] }).trim();
  try {
    if (git("rev-parse", "--show-prefix") !== "") return { commit: null, changed: false };
    return {
      commit: git("rev-parse", "HEAD"),
      changed: git("status", "--porcelain", "--untracked-files=no") !== "",
    };
  } catch {
    return { commit: null, changed: false };
  }
}

/** @param {string} folder Of a package. */
function licenceText(folder) {
  const files = readdirSync(folder).filter((file) => /^(licen[cs]e|notice|copying)/i.test(file));
  return files
    .sort()
    .map((file) => readFileSync(join(folder, file), "utf8").trim())
    .join("\n\n");
}
