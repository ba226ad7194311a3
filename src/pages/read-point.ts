import { idleReadRate } from "../measures/idle-read-rate.ts";
import { tagReadRate as tagReadRateCard } from "../measures/tag-read-rate.ts";
import type { ReadPointResult, Result, RoundResult } from "../model/result.ts";
import { sinceTheRoundBefore } from "./changes/since.ts";
import { findingFigures } from "./finding-rows.ts";
import { heardView } from "./heard/heard-view.ts";
import { facilityPage, type Link, type Page } from "./page.ts";
import { type PassRow, passRow } from "./passes/pass-row.ts";
import { type FacilityPaths, facilityPaths, passAnchors, relativeLink } from "./paths.ts";
import { conditionFigure } from "./read-point/condition-figure.ts";
import { conditionRates } from "./read-point/condition-rates.ts";
import { equipmentAndSettings } from "./read-point/equipment-and-settings.ts";
import { findingEntries } from "./read-point/finding-entries.ts";
import { missedTagRows } from "./read-point/missed-tag-rows.ts";
import { passByPass } from "./read-point/pass-chart.ts";
import { type PassWays, passWays } from "./read-point/pass-links.ts";
import { passLists } from "./read-point/pass-lists.ts";
import { signal } from "./read-point/signal.ts";
import { walkedGrids } from "./read-point/walked-grids.ts";
import { roundTitle } from "./rounds/round-rows.ts";
import { stateMark } from "./state-mark.ts";
import { unstatedConditions } from "./stated-conditions.ts";
import type { Figure } from "./tables/read-point-tables.ts";
import type { Table } from "./tables/table.ts";
import { type FacilityTables, tablesOf } from "./tables/tables.ts";
import { dateOrWords } from "./words/dates.ts";
import { passCount, rateSentence, remarkSentence } from "./words/findings.ts";
import { findingsSentence, readPointSentence } from "./words/verdicts.ts";
import { walkedSentence } from "./words/walks.ts";

/** What all read point pages of one facility share. */
interface Shared {
  result: Result;
  paths: FacilityPaths;
  tables: FacilityTables;
  ways: PassWays;
  anchorOf: ReturnType<typeof passAnchors>;
}

/** A page a read point: its verdict, then everything that the round judged showed there. */
export function readPointPages(result: Result): Page[] {
  const shared: Shared = {
    result,
    paths: facilityPaths(result),
    tables: tablesOf(result),
    ways: passWays(result),
    anchorOf: passAnchors(result),
  };
  return result.readPoints.map((readPoint) => readPointPage(shared, readPoint));
}

function readPointPage(shared: Shared, readPoint: ReadPointResult): Page {
  const { result, paths, tables } = shared;
  const path = paths.readPoints.get(readPoint.id) as string;
  const made = tables.readPoints.get(readPoint.id) ?? new Map<Figure, Table>();
  const downloadsOf = (figure: Figure): Link[] => {
    const table = made.get(figure);
    if (table === undefined) return [];
    return [{ label: table.file, href: relativeLink(path, `${tables.folder}/${table.file}`) }];
  };
  const findings = result.findings.filter((finding) => finding.readPoint === readPoint.id);
  const round = readPoint.rounds.find(({ id }) => id === readPoint.signOffRound) as RoundResult;
  return facilityPage(result, "read-point", path, readPoint.name, {
    kind: readPoint.kind ?? "",
    mark: stateMark(readPoint.state),
    verdict: readPointSentence(readPoint),
    lead: findingsSentence(findings),
    remarks: readPoint.remarks
      .filter(({ code }) => code !== "no-criterion")
      .map((remark) => remarkSentence(remark, result.rounds)),
    round: judgedRound(result, readPoint),
    planned: plannedHere(result, readPoint.id, path),
    since: sinceTheRoundBefore(result, readPoint, path),
    findings: findingEntries(result, findings),
    figures: findingFigures(result, findings, { path, id: "findings", named: "criterion" }),
    findingDownloads: downloadsOf("findings"),
    ...roundFields(shared, readPoint, round, path, downloadsOf),
    otherRounds: readPoint.rounds
      .filter((other) => other !== round)
      .map((other) => ({
        title: roundTitle(result, other.id),
        href: shared.ways.round(path, other, readPoint),
        passes: passCount(other),
        sentence: otherRoundSentence(other),
      })),
    roundsHref: relativeLink(path, paths.rounds),
    passesHref: relativeLink(path, paths.passes),
    methodHref: relativeLink(path, paths.method),
    equipment: equipmentAndSettings(result, readPoint),
  });
}

function roundFields(
  shared: Shared,
  readPoint: ReadPointResult,
  round: RoundResult,
  path: string,
  downloadsOf: (figure: Figure) => Link[],
): Record<string, unknown> {
  const { result, ways, anchorOf } = shared;
  const rates = conditionRates(result, round);
  const rows = round.passList.map(
    (pass): PassRow => passRow(pass, anchorOf(round.id, readPoint.id, pass.id), result.conditions),
  );
  const lists = passLists(round, rows, (pass) => ways.pass(path, round.id, readPoint.id, pass));
  return {
    conditions: rates.length === 0 ? null : conditionFigure(rates, downloadsOf("conditions")),
    unstated: unstatedConditions(result, round),
    grids: walkedGrids(result, round),
    gridDownloads: downloadsOf("grids"),
    signal: signal(result, readPoint.id, round, downloadsOf("rssi")),
    antennaDownloads: downloadsOf("antennas"),
    heard: heardView(round, downloadsOf),
    missed: missedTagRows(round, (pass) => ({ label: pass, href: lists.hrefOf(pass) })),
    missedDownloads: downloadsOf("missed-tags"),
    chart: passByPass(round, result.conditions, ({ id }) => lists.hrefOf(id)),
    passes: lists,
    passDownloads: downloadsOf("passes"),
    strayDownloads: downloadsOf("strays"),
    voidDownloads: downloadsOf("voids"),
  };
}

/** What a round that is not judged showed: its read rate, and what was heard between its passes where its reader logged that. */
function otherRoundSentence({ passes, tagReadRate, heard }: RoundResult): string {
  if (passes === 0) return "";
  const idle = heard === null || heard.idle === null ? [] : [rateSentence(idleReadRate, heard.idle.rate)];
  return [rateSentence(tagReadRateCard, tagReadRate), ...idle].join(" ");
}

/** How far the walk planned for a read point has come, and the way to its plan; null where none is planned. */
function plannedHere(result: Result, id: string, path: string): { sentence: string; page: Link } | null {
  const route = result.plan?.walks.find((entry) => entry.readPoint === id);
  if (route === undefined) return null;
  return {
    sentence: walkedSentence(route.cells),
    page: { label: "How much to walk", href: `${relativeLink(path, facilityPaths(result).plan)}#walked` },
  };
}

function judgedRound(result: Result, readPoint: ReadPointResult): string {
  const round = result.rounds.find(({ id }) => id === readPoint.signOffRound);
  const title = round?.title ?? readPoint.signOffRound;
  return round?.date ? `${title}, ${dateOrWords(round.date, "")}` : title;
}
