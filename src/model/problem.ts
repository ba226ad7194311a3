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
