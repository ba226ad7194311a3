import { reportName } from "../../model/facility.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import { dateOrWords } from "../words/dates.ts";
import { type Archive, markStyle, markText } from "./archive.ts";
import type { CsvTable, TableFiles } from "./csv.ts";
import { type Names, namesOf } from "./names.ts";
import { type FacilityPaths, facilityPaths, planLetter, relativeLink, rootOf } from "./paths.ts";
import type { SiteWorkbook } from "./workbook.ts";

/** One page of the site: which template, where to, and everything it says, finished. */
export interface Page<View extends object = object, Template extends string = string> {
  template: Template;
  /** From the site's root, with `/`. */
  path: string;
  view: PageHead & View;
}

/** A file of the site that is not a page. */
export interface SiteFile {
  path: string;
  text: string;
}

export interface Link {
  label: string;
  /** Relative, ending in a file name. */
  href: string;
}

interface NavigationLink extends Link {
  current: boolean;
}

/** The head of every page of a facility, or of a journey over facilities. */
interface FacilityHead {
  name: string;
  client: string;
  /** `SMP-001, revision B`. */
  report: string;
  issued: string;
  /** The round judged; empty where there is but one and it needs no name. */
  round: string;
}

/** What the layout needs of every page. */
interface PageHead {
  title: string;
  /** From the page to the site's root: empty, or `../` repeated. */
  root: string;
  /** What the head is of, as the navigation is called. */
  about: "facility" | "journey";
  facility: FacilityHead | null;
  navigation: NavigationLink[];
  readPointNavigation: (NavigationLink & { letter: string })[];
  /** Relative; empty on the page of all facilities. */
  inputsHref: string;
  methodHref: string;
  /** The evidence mark in groups; empty where it is not known. */
  evidenceMark: string;
  /** The style sheet that prints it on every page. */
  markStyleHref: string;
}

/** What all pages of one facility are made from. */
export interface FacilityContext {
  result: Result;
  archive: Archive;
  names: Names;
  paths: FacilityPaths;
}

/** What pages of a facility, and of a journey, have in common. */
interface Context {
  archive: Archive;
  paths: Pick<FacilityPaths, "table" | "inputs" | "method" | "markStyle">;
}

/** Where a page stands, and how it leads to others. */
export interface Here {
  path: string;
  /** Every table of the facility, whichever page it belongs to. */
  tables: CsvTable[];
  href(path: string): string;
  link(label: string, path: string): Link;
  /** To a table by its file's name without extension. */
  tableLink(name: string): Link;
}

/** The same, as one of the pages sees it. */
export type PageContext = FacilityContext & Here;

/** A page that a facility has, before its view is made. */
interface PlannedPage<Subject> {
  path: string;
  title: string;
  /** What the page is about: a read point, a pair of rounds. */
  subject: Subject;
  /** Tables that belong to the page. */
  tables?: CsvTable[];
  /** Other files that belong to it. */
  files?: SiteFile[];
  workbooks?: SiteWorkbook[];
  /** Whether the navigation leads to it, among several pages of a kind; by default it leads to the first. */
  isEntry?: boolean;
}

interface PageDefinition<Template extends string, View extends object, Subject, Of extends Context> {
  /** The name of its template in templates/pages. */
  template: Template;
  /** Its label in the navigation of the facility; left out for pages that are reached otherwise. */
  navigation?: string;
  /** Every page of the kind that a facility has. */
  pages(facility: Of): PlannedPage<Subject>[];
  view(here: Of & Here, subject: Subject): View;
}

/** A kind of page, as the list of them knows it. */
export interface PageKind<Template extends string = string, Of extends Context = FacilityContext> {
  template: Template;
  plan(facility: Of): PlannedKind<Template>;
}

/** The pages of one kind that a facility has. */
interface PlannedKind<Template extends string> {
  /** Null where the navigation leads to none of them. */
  entry: { label: string; path: string } | null;
  tables: CsvTable[];
  files: SiteFile[];
  workbooks: SiteWorkbook[];
  pages(head: HeadOf, tables: CsvTable[]): Page<object, Template>[];
}

type HeadOf = (path: string, title: string) => PageHead;

/** A page is its view, its template and a line in the list of kinds. */
export function definePage<
  const Template extends string,
  View extends object,
  Subject,
  Of extends Context = FacilityContext,
>(definition: PageDefinition<Template, View, Subject, Of>): PageKind<Template, Of> {
  const { template, navigation } = definition;
  return {
    template,
    plan: (facility) => {
      const planned = definition.pages(facility);
      const entry = planned.find(({ isEntry }) => isEntry) ?? planned[0];
      return {
        entry:
          navigation === undefined || entry === undefined ? null : { label: navigation, path: entry.path },
        tables: planned.flatMap(({ tables }) => tables ?? []),
        files: planned.flatMap(({ files }) => files ?? []),
        workbooks: planned.flatMap(({ workbooks }) => workbooks ?? []),
        pages: (headOf, tables) =>
          planned.map(({ path, title, subject }): Page<View, Template> => {
            const here = pageContext(facility, path, tables);
            return { template, path, view: { ...definition.view(here, subject), ...headOf(path, title) } };
          }),
      };
    },
  };
}

export function facilityContext(result: Result, archive: Archive): FacilityContext {
  return { result, archive, names: namesOf(result), paths: facilityPaths(result) };
}

/** The names of the tables of one read point. */
export function readPointFiles(
  { paths }: FacilityContext,
  { id, name }: Pick<ReadPointResult, "id" | "name">,
): TableFiles {
  return (file, holds) => ({
    name: `${paths.readPointStem(id)}-${file}`,
    holds: `${name}: ${holds}`,
    readPoint: id,
  });
}

function pageContext<Of extends Context>(facility: Of, path: string, tables: CsvTable[]): Of & Here {
  const href = (to: string) => relativeLink(path, to);
  return {
    ...facility,
    path,
    tables,
    href,
    link: (label, to) => ({ label, href: href(to) }),
    tableLink: (name) => ({ label: `${name}.csv`, href: href(facility.paths.table(name)) }),
  };
}

/** Whose pages have a head: a facility, or a journey over facilities. */
interface HeadSubject {
  about: PageHead["about"];
  name: string;
  client: string | null;
  report: Result["report"];
  round: string;
  /** Read points with pages of their own, in their order. */
  readPoints: readonly { name: string; path: string }[];
}

/** The heads of the pages, given what the navigation leads to. */
function pageHeads(
  { archive, paths }: Context,
  { about, name, client, report, round, readPoints }: HeadSubject,
  navigation: readonly { label: string; path: string }[],
): HeadOf {
  const facility: FacilityHead = {
    name,
    client: client ?? "",
    report: report === null ? "no report number" : reportName(report),
    issued: report === null ? "no issue date" : dateOrWords(report.issued, "no issue date"),
    round,
  };
  return (path, title) => {
    const link = (label: string, to: string): NavigationLink => ({
      label,
      href: relativeLink(path, to),
      current: to === path,
    });
    return {
      title,
      root: rootOf(path),
      about,
      facility,
      navigation: navigation.map((entry) => link(entry.label, entry.path)),
      readPointNavigation: readPoints.map((point, index) => ({
        ...link(point.name, point.path),
        letter: planLetter(index),
      })),
      inputsHref: relativeLink(path, paths.inputs),
      methodHref: relativeLink(path, paths.method),
      evidenceMark: markText(archive.mark),
      markStyleHref: relativeLink(path, paths.markStyle),
    };
  };
}

/** All pages of some kinds, with the files that belong to them. */
export function pagesOf<Template extends string, Of extends Context>(
  pageKinds: readonly PageKind<Template, Of>[],
  context: Of,
  subject: HeadSubject,
): { pages: Page<object, Template>[]; files: SiteFile[]; workbooks: SiteWorkbook[] } {
  const { archive, paths } = context;
  const kinds = pageKinds.map((kind) => kind.plan(context));
  const tables = kinds.flatMap((kind) => kind.tables);
  const navigation = kinds.flatMap(({ entry }) => (entry === null ? [] : [entry]));
  const headOf = pageHeads(context, subject, navigation);
  return {
    pages: kinds.flatMap((kind) => kind.pages(headOf, tables)),
    files: [
      ...tables.map((table) => ({ path: paths.table(table.name), text: table.text() })),
      ...kinds.flatMap((kind) => kind.files),
      { path: paths.markStyle, text: markStyle(archive.mark) },
    ],
    workbooks: kinds.flatMap((kind) => kind.workbooks),
  };
}
