import type { Concession, Facility, OpenPoint, Party } from "../model/facility.ts";
import { byCodePoint } from "../model/order.ts";
import type { FacilityInput, Pass, PassLog } from "../model/pass-log.ts";
import { isPlaceholder } from "../model/placeholders.ts";

/** Columns that say who carried the tags, by their name. */
const badgeColumn = /(?:^|_)(?:badge|carrier|person|driver|operator|worker|staff|employee|porter)s?(?:_|$)/i;

/** Several people in one cell. */
const betweenNames = /\s*(?:[;,&/+]|\band\b)\s*/;

/**
 * The same input with initials for the names of people and numbers for their badges. Equal names and badges stay equal and
 * different ones different, so that no figure changes. Full names are replaced in the free texts too; what else those tell of
 * a person stays as it was written.
 */
export function pseudonymised(input: FacilityInput): FacilityInput {
  const { facility, log, plannedLoad } = input;
  const names = initials(namesIn(facility, log));
  const badges = numbers(badgesIn(log));
  const free = textReplacer(names);
  const person = (text: string) => (isPlaceholder(text) ? text : free(text));
  const badge = (text: string) => badges.get(badgeKey(text)) ?? text;
  const replacerOf = (column: string) => (badgeColumn.test(column) ? badge : free);
  const party = (one: Party): Party => ({ ...one, name: person(one.name) });
  const { columns } = log.rows;
  return {
    ...input,
    facility: {
      ...facility,
      preparedBy: facility.preparedBy === null ? null : party(facility.preparedBy),
      witnessedBy: facility.witnessedBy.map(party),
      retest: everyText(facility.retest, free),
      rounds: everyText(facility.rounds, free),
      concessions: everyText(facility.concessions, free),
      openPoints: everyText(facility.openPoints, free),
      revisions: everyText(facility.revisions, free),
      corrections: everyText(facility.corrections, free),
      attachments: everyText(facility.attachments, free),
      readerLogs: facility.readerLogs.map((log) => ({
        ...log,
        clockComparisons: everyText(log.clockComparisons, free),
      })),
      criteria: facility.criteria.map((criterion) => ({
        ...criterion,
        title: free(criterion.title),
        where: criterion.where.map((clause) =>
          clause.kind === "values"
            ? { ...clause, values: clause.values.map(replacerOf(clause.column)) }
            : clause,
        ),
      })),
      plan:
        facility.plan === null
          ? null
          : {
              ...facility.plan,
              each: facility.plan.each.map(({ column, values }) => ({
                column,
                values: values.map(replacerOf(column)),
              })),
            },
    },
    log: {
      ...log,
      tags: log.tags.map(badge),
      passes: log.passes.map((pass) => withoutNames(pass, free, replacerOf)),
      rows: {
        ...log.rows,
        columns: new Map(
          [...columns].map(([name, { values, index }]) => [
            name,
            { values: values.map(replacerOf(name)), index },
          ]),
        ),
      },
    },
    plannedLoad:
      plannedLoad === null
        ? null
        : {
            ...plannedLoad,
            columns: Object.fromEntries(
              Object.entries(plannedLoad.columns).map(([column, values]) => [
                column,
                values.map((value) => (value === null ? null : replacerOf(column)(value))),
              ]),
            ),
          },
    problems: input.problems.map((problem) =>
      everyText(problem, (text) => free(badges.size === 0 ? text : withoutBadges(text, badges))),
    ),
  };
}

function withoutNames(
  pass: Pass,
  free: (text: string) => string,
  replacerOf: (column: string) => (text: string) => string,
): Pass {
  const { walkedBy, notes, voidReason, extras } = pass;
  const sorted = (texts: string[]) => [...new Set(texts)].sort(byCodePoint);
  return {
    ...pass,
    walkedBy: sorted(walkedBy.map(free)),
    notes: sorted(notes.map(free)),
    voidReason: voidReason === null ? null : free(voidReason),
    extras: extras.map(({ column, values }) => ({ column, values: sorted(values.map(replacerOf(column))) })),
  };
}

/** Everybody who is named in a place for names. An open point may be owned by a firm that is named elsewhere. */
function namesIn(
  { client, preparedBy, witnessedBy, concessions, openPoints, ...rest }: Facility,
  log: PassLog,
): string[] {
  const parties = [...(preparedBy === null ? [] : [preparedBy]), ...witnessedBy];
  const firms = [client, ...parties.map(({ organisation }) => organisation)];
  const granted = concessions.map(({ grantedBy }: Concession) => grantedBy.split(",")[0]!);
  const owners = openPoints.flatMap(({ owner }: OpenPoint) => (owner === null ? [] : [owner.split(",")[0]!]));
  const walkers = log.passes.flatMap(({ walkedBy }) => walkedBy.flatMap((text) => text.split(betweenNames)));
  const recorded = [
    ...rest.revisions.flatMap(({ by }) => (by === null ? [] : [by])),
    ...rest.corrections.map(({ by }) => by),
    ...rest.readerLogs.flatMap(({ clockComparisons }) => clockComparisons.map(({ by }) => by)),
  ].flatMap((text) => text.split(betweenNames).map((name) => name.split(",")[0]!));
  const all = [...parties.map(({ name }) => name), ...granted, ...owners, ...walkers, ...recorded].map(
    (name) => name.trim(),
  );
  const people = all.filter((name) => name !== "" && !firms.includes(name) && !isPlaceholder(name));
  return [...new Set(people)].sort(byCodePoint);
}

/** `Una Drisk` is U.D., and the next with these initials U.D. 2. */
export function initials(names: string[]): Map<string, string> {
  const taken = new Map<string, number>();
  return new Map(
    names.map((name) => {
      const words = name.match(/[\p{L}\p{N}]+/gu) ?? ["?"];
      const letters = words.map((word) => `${[...word][0]!.toUpperCase()}.`).join("");
      const number = (taken.get(letters) ?? 0) + 1;
      taken.set(letters, number);
      return [name, number === 1 ? letters : `${letters} ${number}`];
    }),
  );
}

/** The same code may be written in small letters, or in groups. */
export function badgeKey(text: string): string {
  return text.replace(/[\s-]/g, "").toUpperCase();
}

function badgesIn(log: PassLog): string[] {
  const logged = [...log.rows.columns].flatMap(([name, { values }]) =>
    badgeColumn.test(name) ? values : [],
  );
  const extras = log.passes.flatMap((pass) =>
    pass.extras.flatMap(({ column, values }) => (badgeColumn.test(column) ? values : [])),
  );
  return [...new Set([...logged, ...extras].map(badgeKey))].filter((key) => key !== "").sort(byCodePoint);
}

/** `badge 1`, `badge 2` and so on, in the order given. */
export function numbers(badges: string[]): Map<string, string> {
  return new Map(badges.map((key, index) => [key, `badge ${index + 1}`]));
}

/** Codes that a problem quotes, as they were typed. */
export function withoutBadges(text: string, badges: Map<string, string>): string {
  return text.replace(/[\p{L}\p{N}]{4,}/gu, (word) => badges.get(badgeKey(word)) ?? word);
}

/** Replaces full names wherever they stand as whole words, the longest first. */
export function textReplacer(names: Map<string, string>): (text: string) => string {
  if (names.size === 0) return (text) => text;
  const byName = new Map([...names].map(([name, short]) => [name.toLowerCase(), short]));
  const longestFirst = [...names.keys()].sort((a, b) => b.length - a.length);
  const escaped = longestFirst.map((name) => name.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  const pattern = new RegExp(`(?<![\\p{L}\\p{N}])(?:${escaped.join("|")})(?![\\p{L}\\p{N}])`, "giu");
  return (text) => text.replace(pattern, (name) => byName.get(name.toLowerCase()) ?? name);
}

/** A copy in which every text is replaced, however deep; keys stay. */
export function everyText<Value>(value: Value, replace: (text: string) => string): Value {
  const copy = (one: unknown): unknown => {
    if (typeof one === "string") return replace(one);
    if (Array.isArray(one)) return one.map(copy);
    if (typeof one !== "object" || one === null) return one;
    return Object.fromEntries(
      Object.entries(one).map(([key, inner]) => [key, isName(key) ? inner : copy(inner)]),
    );
  };
  return copy(value) as Value;
}

/** What names something else of the facility is no free text. */
const isName = (key: string) =>
  [
    "id",
    "readPoint",
    "criterion",
    "facility",
    "file",
    "sheet",
    "code",
    "severity",
    "openPoint",
    "revision",
    "mark",
    "result",
  ].includes(key);
