/**
 * Something in the inputs that a person should know about.
 *
 * An `error` forbids a verdict; a `warning` is listed on the inputs page. `file` is relative to the facility's
 * folder, with `/`; `line` and `column` count from 1 and are null where the place cannot be pinned down.
 */
export interface Problem {
  severity: "error" | "warning";
  /** A stable kebab-case name of the kind of problem. */
  code: string;
  /** The facility (its folder's name); null where no facility is concerned. */
  facility: string | null;
  file: string | null;
  /** Only in a workbook: the name of the sheet. The line is then its row. */
  sheet?: string | undefined;
  line: number | null;
  column: number | null;
  /** What was found, quoted and cut to a readable length. */
  found: string;
  /** What was expected in its place. */
  expected: string;
  /** What to do about it. */
  advice: string;
  /** Only where it stands for the rest of its cause: how many more there are, which are not listed one by one. */
  count?: number | undefined;
}

/** Problems that have one cause: one mistake, made in one place or carried through fifty rows and ten files. */
export interface Cause {
  /** Those listed, in their order; never empty. */
  problems: Problem[];
  /** How often it occurs: those listed, and those that were only counted. */
  count: number;
}

const quotedText = /"[^"]*"/g;
const digits = /\d+/g;
const suggestion = /^Did you mean ".*?"\?/;
const counted = / and \d+ more of the same kind$/;

/** What a problem that counts the rest of its cause says was found. */
export function foundMore(found: string, more: number): string {
  return `${found} and ${more} more of the same kind`;
}

/**
 * A key that problems of one cause share: they are of one kind in one facility and say the same, apart from quoted
 * values and figures. What is suggested in place of a value counts: two misspelt names are two mistakes.
 */
export function causeKey(
  problem: Pick<Problem, "severity" | "code" | "facility" | "found" | "expected" | "advice" | "count">,
): string {
  const { severity, code, facility, expected, advice } = problem;
  const found = problem.count === undefined ? problem.found : problem.found.replace(counted, "");
  const suggested = suggestion.exec(advice)?.[0] ?? "";
  const said = [found, expected, advice].map((text) => text.replace(quotedText, '""').replace(digits, "0"));
  return [facility, severity, code, suggested, ...said].join("\u0000");
}

/** The causes of problems, in the order in which each is met first. */
export function causesOf(problems: readonly Problem[]): Cause[] {
  const causes = new Map<string, Cause>();
  for (const problem of problems) {
    const key = causeKey(problem);
    const cause = causes.get(key) ?? { problems: [], count: 0 };
    causes.set(key, cause);
    cause.count += problem.count ?? 1;
    if (problem.count === undefined) cause.problems.push(problem);
  }
  return [...causes.values()].filter((cause) => cause.problems.length > 0);
}
