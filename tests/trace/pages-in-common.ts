import type { JudgedFinding } from "./judged-findings.ts";
import { dbm, flanked, longDate, percent, spelled, spoken } from "./printed.ts";
import type { Shed } from "./shed.ts";

export const isSignal = ({ measure }: JudgedFinding) => measure === "rssi-quantile";
const isHigh = (finding: JudgedFinding) => finding.claim === "at least" && !isSignal(finding);
const isLow = ({ claim }: JudgedFinding) => claim === "at most";

/** Lower, value and upper of a finding as a row prints them. */
export function figures(finding: JudgedFinding): string {
  const { lower, value, upper } = finding.interval;
  if (isSignal(finding)) return `${dbm(lower)} ${dbm(value)} ${dbm(upper)}`;
  return flanked(finding.interval, finding.claim);
}

/** The limit of a finding as it is printed, with its unit. */
export function limit(finding: JudgedFinding): string {
  return isSignal(finding) ? `${dbm(finding.limit, 0)} dBm` : `${finding.limit * 100} %`;
}

/** `9 of 12 tags read: 75.0 % (17.4 to 97.6)` without the nouns. */
export const rateInWords = ({ count, interval, claim }: JudgedFinding) =>
  `${count.k} of ${count.n} … ${spoken(interval, claim)}`;

/** What would settle a finding, as running text says it, after how often so many faults come up at the limit. */
export function settling({ toSettle }: JudgedFinding): string {
  const { further, passes, chance } = toSettle;
  const often = chance === null ? "" : `in ${Math.round(chance * 100)} of 100 walks … `;
  return `${often}${spelled(further)} further … would settle it${passes === null ? "" : `: about ${passes} more passes`}`;
}

/** A finding's title with the value it is for, in the order of a heading with its title first. */
export const titleFirst = ({ title, group }: JudgedFinding) =>
  group === null ? title : `${title} … ${group}`;

/** The same with the value first, as pages do that list several read points. */
export const groupFirst = ({ title, group }: JudgedFinding) =>
  group === null ? title : `${group} · ${title}`;

/** Report, dates and the sentences that stand on every page with pictures. */
export function onEveryPage({ facts }: Shed): string[] {
  const [, judged] = facts.rounds;
  const issued = longDate(facts.report.issued);
  return [
    // The footer says it once more, with a comma.
    `${facts.report.number}, revision ${facts.report.revision} … issued ${issued} … round judged: ${judged!.title}, ${longDate(judged!.date)}`,
    `${facts.report.number}, revision ${facts.report.revision}, issued ${issued}`,
  ];
}

/** All findings of a picture, which are undecided in the shed. */
function all(count: number): string {
  if (count === 1) return "Its one finding is undecided";
  return count === 2 ? "Both findings are undecided" : `All ${spelled(count)} findings are undecided`;
}

/** Below the first finding of a criterion the next ones are named by their group alone. */
const oncePerCriterion = (one: JudgedFinding) =>
  one.group === "facing" ? `Tag orientation: ${one.group}` : titleFirst(one);

/** What the pictures of findings say besides the findings: how many there are, and the limits drawn. */
export function picturesOfFindings({ facts, findings }: Shed, note: typeof titleFirst = () => ""): string[] {
  const pictures = [isHigh, isLow, isSignal].flatMap((kind) => {
    const shown = findings.filter(kind);
    const limits = [...new Set(shown.map(limit))].sort();
    const rows = shown.map((one) =>
      [`${oncePerCriterion(one)} … ${one.count.k} of ${one.count.n} … ${figures(one)}`, note(one)]
        .filter((part) => part !== "")
        .join(" … "),
    );
    return [
      all(shown.length),
      // The narrow form has no room for the heading of the limits.
      ...(kind === isSignal ? [`${limits[0]} required … undecided`] : [`${limits.join(" ")} limits`]),
      ...(kind === isHigh ? [`${all(shown.length)}. ${limits.join(" ")} … undecided`] : []),
      ...rows,
      ...(kind === isSignal ? [`${rows[0]} … ${limits[0]} required`] : []),
    ];
  });
  return [`at ${facts.confidence * 100} % confidence`, ...pictures];
}

/** Rate and bounds of the tags read in some rows, rounded down as every figure that should be high. */
export const bare = (rate: number) => percent(rate, "at least");

/** What the states promise, as the sheet says it. */
export function briefPromises(shed: Shed): string[] {
  const { length } = shed.findings;
  const [together, single, ofRounds, ofCorrelations] = promises(shed) as [string, string, string, string];
  const in100 = (sentence: string) => /[\d.]+ of 100/.exec(sentence)![0];
  const rounds = spelled(shed.facts.rounds.length);
  return [
    `all ${length} be met in at most ${in100(together)} such walks; if all ${length} just miss it independently, at least one is met in up to ${in100(single)}`,
    `in each of ${rounds} rounds … in up to ${in100(ofRounds)} cases`,
    ofCorrelations,
  ];
}

/** What the states promise: chances of the confidence alone. All findings are undecided, and judged alike by a stricter rule. */
export function promises({ facts, findings }: Shed): string[] {
  const luck = (1 - facts.confidence) / 2;
  const ofAny = (many: number) => Math.ceil(100 * (1 - (1 - luck) ** many));
  const one = Number((100 * luck).toFixed(6));
  const rounds = facts.rounds.length;
  return [
    `all ${findings.length} findings together … all are met in at most ${one} of 100 such walks`,
    `of ${findings.length} findings that truly just miss their limit, at least one is met in up to ${ofAny(findings.length)} of 100 walks if they are independent`,
    `${spelled(rounds)} rounds were walked … in each of ${spelled(rounds)} is met in at least one of them in up to ${ofAny(rounds)} of 100 cases`,
    "more alike than the assumed 0.02, every finding would have the same state at 0.1 and 0.5",
  ];
}
