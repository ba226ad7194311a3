import type { Problem } from "../../../model/problem.ts";

/*
 * How to add a problem:
 *
 * 1. Export a card in the file of its theme (folder.ts, yaml.ts, pass-log.ts, reader-log.ts). The code is a public
 *    contract: kebab-case, never renamed. `means` and `advice` are what docs/problems.md prints.
 *    - The words are always the same: `problem({ code, severity, means, expected, advice })`. The card itself is what
 *      a reporter takes: `report.cell(place, tagBlank)`.
 *    - The words depend on facts: `problem({ code, severity, means, advice }, { with: ({ pass }: { pass: string }) =>
 *      ({ expected, advice }) })`, and `report.cell(place, passTwice.with({ pass }))`. Several wordings get several
 *      names. A wording without `advice` takes that of the card; one without `found` leaves it to the reporter, which
 *      then shows what stands at the place.
 * 2. Write a test that names the code and provokes it.
 * 3. Renew the list of problems: node dist/src/intake/write-documents.js
 */

type Severity = Problem["severity"];

/** What is said of a problem wherever it stands. */
export interface ProblemText {
  severity: Severity;
  code: string;
  /** Left out where the reporter shows what stands at the place. */
  found?: string;
  expected: string;
  advice: string;
}

/** The same for places that show nothing by themselves: a file, a record, a line. */
export interface FullText extends ProblemText {
  found: string;
}

/** What is known of every problem of a kind, for the documentation. */
export interface ProblemCard {
  code: string;
  /** `either` where each wording says which of the two it is. */
  severity: Severity | "either";
  /** One sentence: what is wrong. */
  means: string;
  /** What to do about it, in general. */
  advice: string;
}

interface Words {
  found?: string;
  expected: string;
  advice?: string;
}

type Wordings<W extends Words> = Record<string, (facts: never) => W>;
type Said<W> = W extends { found: string } ? FullText : ProblemText;
type Texts<T> = {
  [Name in keyof T]: T[Name] extends (...facts: infer Facts) => infer W
    ? (...facts: Facts) => Said<W>
    : never;
};

/** A kind of problem, with all its words. */
export function problem<const C extends ProblemCard & ProblemText>(card: C): C;
export function problem<T extends Wordings<Words & { severity: Severity }>>(
  card: ProblemCard & { severity: "either" },
  wordings: T,
): ProblemCard & Texts<T>;
export function problem<T extends Wordings<Words>>(
  card: ProblemCard & { severity: Severity },
  wordings: T,
): ProblemCard & Texts<T>;
export function problem(card: ProblemCard, wordings: Wordings<Words> = {}): ProblemCard {
  const texts = Object.entries(wordings).map(([name, words]) => [
    name,
    (facts: never) => ({ severity: card.severity, code: card.code, advice: card.advice, ...words(facts) }),
  ]);
  return { ...card, ...Object.fromEntries(texts) };
}
