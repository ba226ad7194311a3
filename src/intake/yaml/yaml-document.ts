import { LineCounter, parseDocument } from "yaml";
import type { ProblemList } from "../problem-list.ts";
import { quoted } from "../quotation.ts";
import { type Path, YamlRefusal, type YamlTree, yamlTree } from "./yaml-tree.ts";

/** Values that are kept as they were typed: settings, equipment, and the values a criterion selects. */
function isText(path: Path): boolean {
  if (path[0] === "read_points" && path[2] === "equipment") return true;
  if (path[0] === "rounds" && path[2] === "settings") return true;
  if (path[0] === "criteria" && path[2] === "where") {
    return path.length === 4 || typeof path[4] === "number";
  }
  return false;
}

/** Parses YAML; null, with the reasons in the list, where it cannot be. */
export function readYaml(source: string, file: string, problems: ProblemList): YamlTree | null {
  const lines = new LineCounter();
  const document = parseDocument(source, {
    version: "1.2",
    schema: "core",
    lineCounter: lines,
    prettyErrors: false,
    uniqueKeys: true,
  });
  for (const fault of [...document.errors, ...document.warnings]) {
    const { line, col } = lines.linePos(fault.pos[0]);
    const at = { line: Math.max(line, 1), column: Math.max(col, 1) };
    const text = source.split(/\r\n|\n|\r/)[at.line - 1] ?? "";
    if (fault.code === "DUPLICATE_KEY") {
      problems.add(file, at, {
        severity: "error",
        code: "yaml-duplicate-key",
        found: quoted(text.trim()),
        expected: "each key once",
        advice: "The same key stands twice in one place: remove one of the two.",
      });
      continue;
    }
    problems.add(file, at, {
      severity: "error",
      code: "yaml-syntax",
      found: quoted(text.trim()),
      expected: "YAML",
      advice: `${plainReason(fault.message)} Check indentation, colons and quotes here and in the line before.`,
    });
  }
  if (problems.hasErrors) return null;
  try {
    return yamlTree(document, lines, isText);
  } catch (error) {
    if (!(error instanceof YamlRefusal)) throw error;
    problems.add(file, error.place, {
      severity: "error",
      code: "yaml-structure",
      found: error.found,
      expected: "keys with texts, numbers, lists and maps",
      advice: error.message,
    });
    return null;
  }
}

function plainReason(message: string): string {
  const line = message.split("\n")[0] ?? "";
  return /[.!?]$/.test(line) ? line : `${line}.`;
}
