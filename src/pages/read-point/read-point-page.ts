import { idleReadRate } from "../../measures/idle-read-rate.ts";
import { tagReadRate as tagReads } from "../../measures/tag-read-rate.ts";
import { sentenceStart } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { RoundResult } from "../../model/result/round.ts";
import { type Since, sinceTheRoundBefore } from "../changes/read-point-changes.ts";
import { journeyFolder } from "../journey/journey-context.ts";
import type { CsvTable } from "../parts/csv.ts";
import { type Figure, type FigureView, fileOf, filesOfSection, type Section } from "../parts/figure.ts";
import { type FindingPicture, findingsFile, readPointPictures } from "../parts/finding-figures.ts";
import { judgedRound } from "../parts/names.ts";
import {
  definePage,
  type FacilityContext,
  type Link,
  type PageContext,
  readPointFiles,
} from "../parts/page.ts";
import { passAnchors } from "../parts/paths.ts";
import { type StateMark, stateMark } from "../parts/state-mark.ts";
import { passColumns, passRow, placedPasses } from "../passes/pass-rows.ts";
import { type PassLinks, passLinks } from "../passes/pass-sheets.ts";
import { type ReaderLogView, readerLogParts, readerLogView } from "../reader-log/reader-log.ts";
import { type PictureRow, pictureRow, shownPictures } from "../record/pictures.ts";
import { type RoundFacts, roundFacts, type SettingRow, settingsOf } from "../rounds/settings.ts";
import { whyLink } from "../why/why-page.ts";
import { passCount, rateSentence, remarkSentence } from "../words/findings.ts";
import { settingLabel } from "../words/labels.ts";
import { findingsSentence, readPointSentence } from "../words/verdicts.ts";
import { settlingAndPlan, walkedSentence } from "../words/walks.ts";
import { type GridView, gridsFile, gridViews } from "./condition-grids.ts";
import { conditionFigure, unstatedConditions } from "./conditions.ts";
import { type Explore, explore } from "./explore.ts";
import { type FindingEntry, findingEntries, pictureNotes } from "./findings.ts";
import { type MissedTags, missedTagRows, missedTagsFile } from "./missed-tags.ts";
import { type PassLists, passLists, straysFile, voidsFile } from "./pass-lists.ts";
import { type RadioFigures, type RadioView, radioFigures, radioView } from "./radio.ts";
import { antennasFile, rssiLimits, type SignalView, signalFigure, signalView } from "./signal.ts";

export interface ReadPointView {
  kind: string;
  mark: StateMark;
  verdict: string;
  why: { sentence: string; page: Link } | null;
  lead: string;
  remarks: string[];
  round: string;
  planned: { sentence: string; page: Link; beside: string } | null;
  /** Journeys that the read point is a leg of. */
  journeys: (Link & { leg: string })[];
  since: Since | null;
  pictures: FindingPicture[];
  findings: FindingEntry[];
  findingDownloads: Link[];
  conditions: FigureView | null;
  /** Why there is neither a grid nor a rate by condition. */
  walkedWithout: string;
  /** `Not recorded: signal strength, antennas.` What the logs and the facility do not hold, in one line; empty where nothing lacks. */
  notRecorded: string;
  grids: GridView[];
  gridDownloads: Link[];
  signal: SignalView;
  antennaDownloads: Link[];
  readerLog: ReaderLogView | null;
  missed: MissedTags;
  missedDownloads: Link[];
  explore: Explore;
  passes: PassLists;
  passesHref: string;
  passDownloads: Link[];
  strayDownloads: Link[];
  voidDownloads: Link[];
  otherRounds: { title: string; href: string; passes: string; sentence: string }[];
  roundsHref: string;
  photographs: PictureRow;
  equipment: { label: string; value: string }[];
  rounds: RoundFacts[];
  settings: SettingRow[];
  radio: RadioView | null;
}

/** A read point with the round it is judged on, and the evidence for it. */
interface Subject {
  readPoint: ReadPointResult;
  round: RoundResult;
  findings: Finding[];
  evidence: Evidence;
  links: PassLinks;
  anchorOf: ReturnType<typeof passAnchors>;
}

/** One page per read point: its verdict, then the evidence of the judged round. */
export const readPointPage = definePage({
  template: "read-point",
  pages: (facility) => {
    const { result, paths } = facility;
    const links = passLinks(facility);
    const anchorOf = passAnchors(result);
    return result.readPoints.map((readPoint) => {
      const round = judgedRound(readPoint) as RoundResult;
      const findings = result.findings.filter((finding) => finding.readPoint === readPoint.id);
      const evidence = evidenceOf(facility, { readPoint, round, findings });
      const subject: Subject = { readPoint, round, findings, evidence, links, anchorOf };
      return {
        path: paths.readPoint(readPoint.id),
        title: readPoint.name,
        subject,
        tables: filesOf(evidence),
      };
    });
  },
  view: (here, subject): ReadPointView => ({
    ...verdictPart(here, subject),
    ...evidencePart(here, subject),
    ...roundsPart(here, subject),
  }),
});

/** Figures with their files, and files of rows that the page shows in its own way. */
interface Evidence {
  findings: CsvTable;
  conditions: Figure<FigureView> | null;
  grids: CsvTable;
  signal: Figure<FigureView> | null;
  antennas: CsvTable;
  readerLog: Section[];
  missedTags: CsvTable;
  passes: CsvTable;
  strays: CsvTable;
  voids: CsvTable;
  radio: RadioFigures | null;
}

function evidenceOf(
  facility: FacilityContext,
  { readPoint, round, findings }: Pick<Subject, "readPoint" | "round" | "findings">,
): Evidence {
  const { result, names } = facility;
  const files = readPointFiles(facility, readPoint);
  const passes = placedPasses(readPoint, round);
  return {
    findings: findingsFile(facility, findings, files("findings", "its findings.")),
    conditions: conditionFigure(round, names, files),
    grids: gridsFile(round, names, files),
    signal: signalFigure(round, rssiLimits(result, readPoint.id), files),
    antennas: antennasFile(round, files),
    readerLog: readerLogParts(round, files),
    missedTags: missedTagsFile(round, files),
    passes: fileOf(
      files("passes", "passes of the round judged, in the order walked."),
      passColumns(result, passes),
      passes,
    ),
    strays: straysFile(passes, files),
    voids: voidsFile(passes, files),
    radio: radioFigures(readPoint, names, files),
  };
}

/** A file without rows is not written; the page has a sentence instead. */
function filesOf(evidence: Evidence): CsvTable[] {
  const files = [
    evidence.findings,
    evidence.conditions?.file,
    evidence.grids,
    evidence.signal?.file,
    evidence.antennas,
    ...evidence.readerLog.flatMap(filesOfSection),
    evidence.missedTags,
    evidence.passes,
    evidence.strays,
    evidence.voids,
    evidence.radio?.settings.file,
    evidence.radio?.exposure?.file,
  ];
  return files.filter((file) => file != null).filter(({ rows }) => rows > 0);
}

function downloads({ name, rows }: CsvTable, here: PageContext): Link[] {
  return rows > 0 ? [here.tableLink(name)] : [];
}

function verdictPart(here: PageContext, { readPoint, findings, evidence }: Subject) {
  const { rounds } = here.result;
  return {
    kind: readPoint.kind ?? "",
    mark: stateMark(readPoint.state),
    verdict: readPointSentence(readPoint),
    why: whyLink(here, readPoint),
    lead: findingsSentence(findings),
    remarks: readPoint.remarks
      .filter(({ code }) => code !== "no-criterion")
      .map((remark) => remarkSentence(remark, rounds)),
    round: here.names.datedRound(readPoint.signOffRound),
    planned: plannedHere(readPoint.id, here),
    journeys: (here.archive.journeys ?? [])
      .filter((leg) => leg.readPoint === readPoint.id)
      .map(({ journey, title, leg }) => ({
        ...here.link(title, `${journeyFolder(journey)}/index.html`),
        leg: sentenceStart(leg),
      })),
    since: sinceTheRoundBefore(here, readPoint),
    findings: findingEntries(here, findings),
    pictures: readPointPictures(here, findings, pictureNotes),
    findingDownloads: downloads(evidence.findings, here),
  };
}

function evidencePart(here: PageContext, { readPoint, round, evidence, links, anchorOf }: Subject) {
  const { names } = here;
  const { conditions } = here.result;
  const placeOf = (pass: string) => ({ round: round.id, readPoint: readPoint.id, pass });
  const rows = round.passList.map((pass) => passRow(pass, anchorOf(placeOf(pass.id)), conditions));
  const lists = passLists(round, rows, (pass) => links.pass(here.path, placeOf(pass)));
  return {
    conditions: evidence.conditions?.view(here) ?? null,
    walkedWithout: walkedWithout(round),
    notRecorded: notRecorded(here, readPoint, round),
    grids: gridViews(round, names),
    gridDownloads: downloads(evidence.grids, here),
    signal: signalView(round, evidence.signal?.view(here) ?? null),
    antennaDownloads: downloads(evidence.antennas, here),
    readerLog: readerLogView(round, evidence.readerLog, here),
    missed: missedTagRows(round, (pass) => ({ label: pass, href: lists.hrefOf(pass) })),
    missedDownloads: downloads(evidence.missedTags, here),
    explore: explore(round, conditions, ({ id }) => lists.hrefOf(id)),
    passes: lists,
    passesHref: here.href(here.paths.passes),
    passDownloads: downloads(evidence.passes, here),
    strayDownloads: downloads(evidence.strays, here),
    voidDownloads: downloads(evidence.voids, here),
  };
}

function walkedWithout({ passes, byCondition }: RoundResult): string {
  if (passes === 0) return "No valid pass was walked in this round.";
  return byCondition.length === 0
    ? "No condition is declared for this facility, so the read rate is not split by condition."
    : "The logs of this round state no condition, so the read rate is not split by condition.";
}

function notRecorded(
  { result, names }: FacilityContext,
  { equipment }: ReadPointResult,
  round: RoundResult,
): string {
  const settings = result.rounds.some(({ settings }) => Object.keys(settings).length > 0);
  const unstated = unstatedConditions(round, names);
  const lacking = [
    ...(round.rssi === null ? ["signal strength"] : []),
    ...(round.antennas.length === 0 ? ["antennas"] : []),
    ...(round.passes > 0 && round.strayPassRate.n === 0 ? ["strays"] : []),
    ...(unstated === "" ? [] : [unstated]),
    ...(Object.keys(equipment).length === 0 ? ["equipment"] : []),
    ...(settings ? [] : ["settings"]),
  ];
  return lacking.length === 0 ? "" : `Not recorded: ${lacking.join(", ")}.`;
}

function roundsPart(here: PageContext, { readPoint, round, links, evidence }: Subject) {
  return {
    otherRounds: readPoint.rounds
      .filter((other) => other !== round)
      .map((other) => ({
        title: here.names.round(other.id),
        href: links.round(here.path, other, readPoint),
        passes: passCount(other),
        sentence: otherRoundSentence(other),
      })),
    roundsHref: here.href(here.paths.rounds),
    photographs: pictureRow(shownPictures(here, (one) => one.readPoint === readPoint.id)),
    equipment: Object.entries(readPoint.equipment).map(([key, value]) => ({
      label: settingLabel(key),
      value,
    })),
    rounds: roundFacts(here.result, readPoint.signOffRound),
    settings: settingsOf(here.result, readPoint),
    radio: evidence.radio === null ? null : radioView(readPoint, evidence.radio, here),
  };
}

/** The read rate of a round that is not judged, and its idle reads where a reader logged them. */
function otherRoundSentence({ passes, tagReadRate, heard }: RoundResult): string {
  if (passes === 0) return "";
  const idle = heard === null || heard.idle === null ? [] : [rateSentence(idleReadRate, heard.idle.rate)];
  return [rateSentence(tagReads, tagReadRate), ...idle].join(" ");
}

/** The progress of a read point's planned walk, with a link to the plan; null where none is planned. */
function plannedHere(id: string, { result, paths, href }: PageContext): ReadPointView["planned"] {
  const route = result.plan?.walks.find(({ readPoint }) => readPoint === id);
  if (route === undefined) return null;
  return {
    sentence: walkedSentence(route.cells),
    page: { label: "How much to walk", href: `${href(paths.plan)}#walked` },
    beside: result.findings.some(({ readPoint, toSettle }) => readPoint === id && toSettle !== null)
      ? settlingAndPlan
      : "",
  };
}
