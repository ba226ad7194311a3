import type { ProblemList } from "../problem-list.ts";
import { listing, quoted } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import { nameOf } from "./schema-faults.ts";
import type { Path, YamlTree } from "./yaml-tree.ts";

/** Says what is wrong with facility.yaml, at the place of the value or key concerned. */
export class YamlReporter {
  readonly tree: YamlTree;
  readonly file: string;
  readonly problems: ProblemList;

  constructor(tree: YamlTree, file: string, problems: ProblemList) {
    this.tree = tree;
    this.file = file;
    this.problems = problems;
  }

  error(path: Path, code: string, expected: string, advice: string, found?: string): void {
    const source = this.tree.sourceAt(path);
    const shown = found ?? (source === null ? nameOf(path) : `${nameOf(path)}: ${quoted(source)}`);
    this.problems.add(this.file, this.tree.valueAt(path), {
      severity: "error",
      code,
      found: shown,
      expected,
      advice,
    });
  }

  /** About the key rather than what it holds. */
  keyError(path: Path, code: string, found: string, expected: string, advice: string): void {
    this.problems.add(this.file, this.tree.keyAt(path), { severity: "error", code, found, expected, advice });
  }

  warning(path: Path, code: string, found: string, expected: string, advice: string): void {
    const at = this.tree.valueAt(path);
    this.problems.add(this.file, at, { severity: "warning", code, found, expected, advice });
  }

  /** Objects to a name that is not among those declared. */
  reference(path: Path, name: string, known: ReadonlySet<string>, what: string, section: string): void {
    if (known.has(name)) return;
    this.error(
      path,
      "reference-unknown",
      knownNames(known, what, section),
      unknownAdvice(name, known, section),
    );
  }

  /** The same where the name is a key. */
  keyReference(path: Path, name: string, known: ReadonlySet<string>, what: string, section: string): void {
    if (known.has(name)) return;
    const expected = knownNames(known, what, section);
    this.keyError(
      path,
      "reference-unknown",
      `the key ${quoted(name)}`,
      expected,
      unknownAdvice(name, known, section),
    );
  }
}

function knownNames(known: ReadonlySet<string>, what: string, section: string): string {
  return known.size === 0 ? `${what} listed under ${section}; none is` : `${what}: ${listing([...known])}`;
}

function unknownAdvice(name: string, known: ReadonlySet<string>, section: string): string {
  return `${didYouMean(name, known)}Correct it, or add it under ${section}.`;
}
