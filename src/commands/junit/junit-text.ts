import type { JourneyResult } from "../../model/journey/journey-result.ts";
import { nonEmpty } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import { placedFinding } from "../../pages/journey/findings.ts";
import { criterionOf, namesOf } from "../../pages/parts/names.ts";
import { element, escapeText } from "../../pages/pictures/svg.ts";
import {
  concessionSentence,
  findingSentence,
  remarkSentence,
  settleSentence,
} from "../../pages/words/findings.ts";
import { stateWord } from "../../pages/words/verdicts.ts";

/*
 * The findings in the XML that test runners report in and build servers read. No standard defines it: the elements and
 * attributes are those that its readers have in common (common practice, no source).
 */

type Outcome = "passed" | "failure" | "error";

interface TestCase {
  name: string;
  outcome: Outcome;
  /** The word for what it came to. */
  type: string;
  /** What was found; under it, what else belongs to it. */
  message: string;
  below: string[];
}

interface Suite {
  name: string;
  /** What groups the cases: facility and read point. */
  className: string;
  cases: TestCase[];
}

/**
 * One suite a read point. A finding that is met has passed, one that is not met is a failure, and an undecided or untested
 * one an error. A read point without findings, and a facility without read points, is an error as well: nothing is shown.
 */
export function junitText(results: readonly Result[], journeys: readonly JourneyResult[] = []): string {
  const suites = [...results.flatMap(suitesOf), ...journeys.map(journeySuite)];
  const content = suites.map(suiteText).join("");
  const root = { name: "proofwalk", ...counts(suites.flatMap(({ cases }) => cases)) };
  return `<?xml version="1.0" encoding="UTF-8"?>\n${element("testsuites", root, `\n${content}`)}\n`;
}

function suitesOf(result: Result): Suite[] {
  const { facility, readPoints } = result;
  if (readPoints.length === 0)
    return [
      {
        name: facility.name,
        className: facility.id,
        cases: [untested("read points", "No read point is declared.")],
      },
    ];
  return readPoints.map((readPoint) => {
    const findings = result.findings.filter((finding) => finding.readPoint === readPoint.id);
    return {
      name: `${facility.name}: ${readPoint.name}`,
      className: `${facility.id}.${readPoint.id}`,
      cases:
        findings.length === 0
          ? [withoutFinding(readPoint, result)]
          : findings.map((one) => testCase(one, result)),
    };
  });
}

/** A journey is a suite of its own, its legs in the place of read points. */
function journeySuite({ id, title, findings, criteria }: JourneyResult): Suite {
  const cases = findings.map((finding): TestCase => {
    const criterion = criteria.find((one) => one.id === finding.criterion)!;
    const leg = finding.group?.leg;
    const placed = placedFinding(finding);
    return {
      name: `${criterion.id}${leg === undefined ? "" : ` (${leg})`}: ${criterion.title}`,
      outcome: outcomes[finding.state],
      type: stateWord(finding.state),
      message: findingSentence(placed, criterion),
      below: nonEmpty([settleSentence(placed)]),
    };
  });
  return {
    name: title,
    className: `journeys.${id}`,
    cases: cases.length === 0 ? [untested("criteria", "Nothing is asked of the journey.")] : cases,
  };
}

function withoutFinding({ remarks }: ReadPointResult, { rounds }: Result): TestCase {
  return untested("criteria", remarks.map((remark) => remarkSentence(remark, rounds)).join(" "));
}

function untested(name: string, message: string): TestCase {
  return { name, outcome: "error", type: stateWord("untested"), message, below: [] };
}

const outcomes = { met: "passed", "not-met": "failure", undecided: "error", untested: "error" } as const;

function testCase(finding: Finding, result: Result): TestCase {
  const criterion = criterionOf(result, finding.criterion);
  const names = namesOf(result);
  const group = names.group(finding.group);
  return {
    // The id comes first: titles may be alike, and readers of the file tell cases apart by their names.
    name: `${finding.criterion}${group === "" ? "" : ` (${group})`}: ${names.criterion(finding.criterion)}`,
    outcome: outcomes[finding.state],
    type: stateWord(finding.state),
    message: findingSentence(finding, criterion),
    below: nonEmpty([
      settleSentence(finding),
      finding.concession === null ? "" : concessionSentence(finding.concession),
      ...finding.remarks.map((remark) => remarkSentence(remark, result.rounds)),
    ]),
  };
}

function suiteText({ name, className, cases }: Suite): string {
  const content = cases.map((one) => `    ${caseText(one, className)}\n`).join("");
  return `  ${element("testsuite", { name: inLine(name), ...counts(cases) }, `\n${content}  `)}\n`;
}

function caseText({ name, outcome, type, message, below }: TestCase, classname: string): string {
  const text = escapeText([message, ...below].join("\n"));
  const content =
    outcome === "passed"
      ? element("system-out", {}, text)
      : element(outcome, { type, message: inLine(message) }, text);
  return element("testcase", { classname, name: inLine(name), time: 0 }, content);
}

/** A walk takes no time of the machine, and the clock has no place in a file that is the same on every run. */
function counts(cases: readonly TestCase[]) {
  const of = (outcome: Outcome) => cases.filter((one) => one.outcome === outcome).length;
  return { tests: cases.length, failures: of("failure"), errors: of("error"), time: 0 };
}

/** What stands in an attribute, in one line: readers make blanks of line breaks there. */
function inLine(text: string): string {
  return text.replace(/\s+/g, " ").trim();
}
