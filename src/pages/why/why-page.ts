import type { Diagnosis, Suggestion } from "../../model/diagnosis/diagnosis.ts";
import type { Why } from "../../model/diagnosis/why.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { CsvTable } from "../parts/csv.ts";
import { filesOfSection, type Section, type SectionView, sectionView } from "../parts/figure.ts";
import {
  definePage,
  type FacilityContext,
  type Link,
  type PageContext,
  readPointFiles,
} from "../parts/page.ts";
import { type StateMark, stateMark } from "../parts/state-mark.ts";
import { type PassLinks, passLinks } from "../passes/pass-sheets.ts";
import { evidenceText } from "../words/evidence.ts";
import { antennas } from "./antennas.ts";
import { drivers } from "./drivers.ts";
import { loggedSettings } from "./logged-settings.ts";
import { type MapView, mapFile, mapView } from "./miss-map.ts";
import { pattern } from "./pattern.ts";
import { powerSection } from "./power.ts";
import { radioSignal } from "./radio-signal.ts";
import { reach } from "./reach.ts";
import { signalInHand } from "./signal-in-hand.ts";
import { idleTags, strays } from "./strays.ts";
import { tagTrials } from "./tag-trials.ts";
import { timeToAnswer } from "./time-to-answer.ts";
import type { WhyContext } from "./why-context.ts";

interface WhyView {
  heading: string;
  mark: StateMark;
  sentence: string;
  round: string;
  readPoint: Link;
  suggestions: { sentence: string; evidence: string; link: Link | null }[];
  map: MapView | null;
  sections: SectionView[];
  others: Link[];
}

interface Subject {
  readPoint: ReadPointResult;
  why: Why;
  diagnosis: Diagnosis | null;
  sections: Section[];
  mapCells: CsvTable | null;
  links: PassLinks;
}

/** One page per read point whose logs say something of why it missed. */
export const whyPage = definePage({
  template: "why",
  navigation: "Why it missed",
  pages: (facility) => {
    const links = passLinks(facility);
    const told = readPointsOf(facility);
    const worst = Math.max(...told.map(({ readPoint }) => missesOf(readPoint)));
    return told.map(({ readPoint, why }) => {
      const subject = subjectOf(facility, { readPoint, why, links });
      return {
        path: facility.paths.why(readPoint.id),
        title: headingOf(readPoint),
        subject,
        tables: [
          ...(subject.mapCells ? [subject.mapCells] : []),
          ...subject.sections.flatMap(filesOfSection),
        ],
        isEntry: missesOf(readPoint) === worst,
      };
    });
  },
  view,
});

function saysSomething({ why, diagnosis, power }: ReadPointResult): boolean {
  if (why === null) return false;
  const { map, signal, antennas, strays, idleTags, settings, tagTrials, radioSignal, timeToAnswer, reach } =
    why;
  const lists = [antennas, strays?.tags, idleTags?.tags, settings, tagTrials?.models];
  return (
    diagnosis !== null ||
    power !== undefined ||
    [radioSignal, timeToAnswer, reach].some((part) => part !== undefined) ||
    map !== null ||
    (signal?.all.n ?? 0) > 0 ||
    lists.some((list) => (list?.length ?? 0) > 0)
  );
}

/** Those that have such a page. */
function readPointsOf({ result }: FacilityContext): { readPoint: ReadPointResult; why: Why }[] {
  return result.readPoints.flatMap((readPoint) =>
    readPoint.why === null ? [] : [{ readPoint, why: readPoint.why }],
  );
}

/** Where a read point's page leads to; null where it has none. */
export function whyLink(
  here: PageContext,
  readPoint: ReadPointResult,
): { sentence: string; page: Link } | null {
  if (!saysSomething(readPoint)) return null;
  const { id, diagnosis } = readPoint;
  return {
    sentence: diagnosis?.sentence ?? "",
    page: here.link(diagnosis === null ? "What the logs show besides" : "Why it missed", here.paths.why(id)),
  };
}

function missesOf({ why }: ReadPointResult): number {
  return (why?.map?.cells ?? []).reduce((sum, row) => sum + row.split("m").length - 1, 0);
}

function headingOf({ name, diagnosis }: ReadPointResult): string {
  return diagnosis === null ? `What the logs show of ${name}` : `Why it missed: ${name}`;
}

function subjectOf(
  facility: FacilityContext,
  { readPoint, why, links }: Pick<Subject, "readPoint" | "why" | "links">,
): Subject {
  const { diagnosis } = readPoint;
  const { names, result } = facility;
  const files = readPointFiles(facility, readPoint);
  const context: WhyContext = { names, files, confidence: result.basis.confidence };
  const sections = [
    pattern(why, { shares: diagnosis?.missShares ?? null, misses: missesOf(readPoint) }, context),
    drivers(why.drivers, context),
    tagTrials(why.tagTrials, context),
    antennas(why.antennas, context),
    signalInHand(why.signal, context),
    strays(why.strays, context),
    idleTags(why.idleTags, context),
    loggedSettings(why.settings, context),
    powerSection(readPoint.power, { ...context, round: why.round, share: why.power?.share }),
    radioSignal(why.radioSignal, context),
    timeToAnswer(why.timeToAnswer, context),
    reach(why.reach, context),
  ].filter((section) => section !== null);
  return {
    readPoint,
    why,
    diagnosis,
    sections,
    mapCells: why.map === null ? null : mapFile(why.map, files),
    links,
  };
}

function view(here: PageContext, subject: Subject): WhyView {
  const { readPoint, why, diagnosis, sections, mapCells, links } = subject;
  const hrefOfPass = (pass: string) =>
    links.pass(here.path, { round: why.round, readPoint: readPoint.id, pass });
  return {
    heading: headingOf(readPoint),
    mark: stateMark(readPoint.state),
    sentence: diagnosis?.sentence ?? "Nothing was missed.",
    round: here.names.datedRound(why.round),
    readPoint: here.link(readPoint.name, here.paths.readPoint(readPoint.id)),
    suggestions: (diagnosis?.suggestions ?? []).map((suggestion) => ({
      sentence: suggestion.sentence,
      evidence: evidenceText(suggestion),
      link: linkOf(suggestion, subject, hrefOfPass),
    })),
    map:
      why.map === null || mapCells === null
        ? null
        : mapView(why.map, here, { file: mapCells, hrefOfPass, standingOut: why.standingOut }),
    sections: sections.map((section) => sectionView(section, here)),
    others: readPointsOf(here)
      .filter((other) => other.readPoint.id !== readPoint.id)
      .map((other) => here.link(other.readPoint.name, here.paths.why(other.readPoint.id))),
  };
}

/** The section that shows what each kind of suggestion rests on. */
const sectionOf: Record<Suggestion["kind"], string> = {
  tag: "pattern",
  pass: "pattern",
  "run-of-passes": "pattern",
  condition: "drivers",
  antenna: "antennas",
  "tag-model": "tag-trials",
  "stray-source": "strays",
  setting: "settings",
  power: "power",
  "radio-setting": "radio-signal",
  "time-to-answer": "time-to-answer",
  reach: "reach",
};

function linkOf(
  { kind, subject: { pass } }: Suggestion,
  { sections }: Subject,
  hrefOfPass: (pass: string) => string,
): Link | null {
  if (kind === "pass" && pass !== undefined) return { label: `Pass ${pass}`, href: hrefOfPass(pass) };
  const section = sections.find(({ id }) => id === sectionOf[kind]);
  return section === undefined ? null : { label: section.title, href: `#${section.id}` };
}
