import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { expect, test } from "vitest";

const src = resolve(import.meta.dirname, "../src");

/** Every file of src with the files it imports, types too, and those outside of src; by paths from src. */
function importsByFile(): Map<string, Set<string>> {
  const files = readdirSync(src, { recursive: true, encoding: "utf8" }).filter((file) =>
    file.endsWith(".ts"),
  );
  return new Map(
    files.map((file) => {
      const text = readFileSync(join(src, file), "utf8");
      const found = text.matchAll(/(?:\bfrom|\bimport)\s*\(?\s*"(\.[^"]+)"/g);
      const targets = [...found].map(([, path]) => relative(src, resolve(src, dirname(file), path!)));
      return [file, new Set(targets)];
    }),
  );
}

/** The same by folder; a file that lies beside a folder belongs to the folder around both. */
function importsByFolder(files: Map<string, Set<string>>): Map<string, Set<string>> {
  const folders = new Map<string, Set<string>>();
  for (const [file, targets] of files) {
    const folder = dirname(file);
    const others = folders.get(folder) ?? new Set();
    for (const target of targets) if (dirname(target) !== folder) others.add(dirname(target));
    folders.set(folder, others);
  }
  return folders;
}

/** Groups of two and more that all lead back to each other (Tarjan's strongly connected components). */
function circlesOf(graph: Map<string, Set<string>>): string[][] {
  const order = new Map<string, number>();
  const lowest = new Map<string, number>();
  const open: string[] = [];
  const circles: string[][] = [];
  const visit = (node: string): void => {
    order.set(node, order.size);
    lowest.set(node, order.get(node)!);
    open.push(node);
    for (const next of graph.get(node) ?? []) {
      if (!order.has(next)) visit(next);
      if (open.includes(next)) lowest.set(node, Math.min(lowest.get(node)!, lowest.get(next)!));
    }
    if (lowest.get(node) !== order.get(node)) return;
    const circle = open.splice(open.indexOf(node));
    if (circle.length > 1) circles.push(circle.sort());
  };
  for (const node of graph.keys()) if (!order.has(node)) visit(node);
  return circles;
}

test("a circle is found however long it is, and nothing else is one", () => {
  const graph = (edges: Record<string, string[]>) =>
    new Map(Object.entries(edges).map(([from, to]) => [from, new Set(to)]));
  expect(circlesOf(graph({ a: ["b"], b: ["c", "d"], c: ["a"], d: [] }))).toEqual([["a", "b", "c"]]);
  expect(circlesOf(graph({ a: ["b", "c"], b: ["d"], c: ["d"], d: [] }))).toEqual([]);
});

test("no file of src imports what lies outside of it", () => {
  const ways = [...importsByFile()].flatMap(([file, targets]) =>
    [...targets].map((target) => ({ file, target })),
  );
  expect(ways.filter(({ target }) => target.startsWith(".."))).toEqual([]);
});

test("no file imports itself in a circle", () => {
  expect(circlesOf(importsByFile())).toEqual([]);
});

test("no folder imports itself in a circle", () => {
  expect(circlesOf(importsByFolder(importsByFile()))).toEqual([]);
});

test("no folder holds more than fifteen files", () => {
  const folders = readdirSync(src, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ parentPath }) => relative(src, parentPath));
  const crowded = [...new Set(folders)].filter(
    (folder) => folders.filter((one) => one === folder).length > 15,
  );
  expect(crowded).toEqual([]);
});

test("every room has its wall among the lint rules", () => {
  const { overrides } = JSON.parse(readFileSync(resolve(src, "../biome.json"), "utf8")) as {
    overrides: { includes: string[]; linter: { rules: { style: Record<string, unknown> } } }[];
  };
  const walled = overrides
    .filter(({ linter }) => "noRestrictedImports" in linter.rules.style)
    .flatMap(({ includes }) => includes);
  const rooms = readdirSync(src, { withFileTypes: true }).filter((entry) => entry.isDirectory());
  expect(walled.sort()).toEqual(rooms.map(({ name }) => `src/${name}/**`).sort());
});
