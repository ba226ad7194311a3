import { decimalOf } from "./decimal.ts";
import type { Condition, WhereClause } from "./facility.ts";
import { byCodePoint } from "./order.ts";
import { Registry } from "./registry.ts";

/**
 * A kind of condition: how the values that are logged in a column become the names under which they are reported. Only this
 * file knows what kinds there are; adding one is a card here.
 */
export interface ConditionKind {
  readonly id: string;
  /** The values of a condition that is declared as one of this kind; null for one of another kind. */
  of(declared: Declared): ConditionValues | null;
}

/** What a condition says of its values, in facility.yaml and in the result. */
type Declared = { readonly [Key in "bands"]?: Condition[Key] | undefined };

/** What can be said of the values of one condition. */
export interface ConditionValues {
  /** The names that the declaration itself fixes, in order; null where only the logs show which there are. */
  readonly names: readonly string[] | null;
  /** Whether only a number can be logged. */
  readonly numeric: boolean;
  /** The name of a value that was logged, or of a name itself; null for a text that is neither. */
  nameOf(text: string): string | null;
  /** Whether a text names several values, so that it can be planned but not logged. */
  isRange(text: string): boolean;
  /** Compares two names. */
  order(a: string, b: string): number;
  /** Whether a clause takes a value; of a name, whether it takes all of its values. */
  allows(clause: WhereClause, text: string): boolean;
  /** Whether a clause takes any value of a name. */
  reaches(clause: WhereClause, name: string): boolean;
}

/** Texts that stand for themselves. */
const named: ConditionKind = {
  id: "named",
  of: () => namedValues,
};

const namedValues: ConditionValues = {
  names: null,
  numeric: false,
  nameOf: (text) => text,
  isRange: () => false,
  order: byCodePoint,
  allows: allowsText,
  reaches: allowsText,
};

function allowsText(clause: WhereClause, text: string): boolean {
  return clause.kind === "values" ? clause.values.includes(text) : isWithin(clause, decimalOf(text));
}

/**
 * Numbers cut into bands by rising edges; a band is called by its edges, `1 to 2`. The first band holds both its edges, later
 * ones exclude the lower: every number between the outermost edges has exactly one band.
 */
const banded: ConditionKind = {
  id: "banded",
  of: ({ bands }) => (bands == null ? null : bandedValues(bands)),
};

function bandedValues(edges: readonly number[]): ConditionValues {
  const names = edges.slice(1).map((high, i) => `${edges[i]} to ${high}`);
  const bandOf = (value: number): number =>
    value >= edges[0]! ? edges.findIndex((high, i) => i > 0 && value <= high) - 1 : -1;
  const known = new Map<string, string | null>(names.map((name) => [name, name]));
  const nameOf = (text: string) => {
    let name = known.get(text);
    if (name === undefined) {
      name = names[bandOf(decimalOf(text))] ?? null;
      known.set(text, name);
    }
    return name;
  };
  return {
    names,
    numeric: true,
    nameOf,
    isRange: (text) => names.includes(text),
    order: (a, b) => names.indexOf(a) - names.indexOf(b),
    allows(clause, text) {
      const band = names.indexOf(text);
      if (clause.kind === "range") {
        return band === -1
          ? isWithin(clause, decimalOf(text))
          : isWithin(clause, edges[band]!) && isWithin(clause, edges[band + 1]!);
      }
      const value = decimalOf(text);
      return clause.values.some((one) => one === nameOf(text) || decimalOf(one) === value);
    },
    reaches(clause, name) {
      if (clause.kind === "values") return clause.values.some((one) => nameOf(one) === name);
      const band = names.indexOf(name);
      const { from, to } = clause;
      if (from !== null && from > edges[band + 1]!) return false;
      if (to === null) return true;
      return band === 0 ? to >= edges[0]! : to > edges[band]!;
    },
  };
}

function isWithin({ from, to }: { from: number | null; to: number | null }, value: number): boolean {
  return value >= (from ?? Number.NEGATIVE_INFINITY) && value <= (to ?? Number.POSITIVE_INFINITY);
}

/** The first one is the fallback: what no other kind claims is named. */
export const conditionKinds = new Registry<ConditionKind>([named, banded]);

/** They are asked for the names of the same texts again and again. */
const valuesKnown = new WeakMap<Declared, ConditionValues>();

/** The values of a declared condition. */
export function valuesOf(condition: Declared): ConditionValues {
  let values = valuesKnown.get(condition);
  if (values === undefined) {
    values = conditionKinds
      .all()
      .map((kind) => kind.of(condition))
      .findLast((claim) => claim !== null)!;
    valuesKnown.set(condition, values);
  }
  return values;
}

/** The values of a column; one that a criterion merely names and nobody declares holds texts. */
export function columnValues(conditions: readonly Condition[], column: string): ConditionValues {
  const condition = conditions.find((one) => one.column === column);
  return condition === undefined ? namedValues : valuesOf(condition);
}

/** The values of a column that clauses list, else those that its condition declares and they leave; null where only a walk shows them. */
export function statedNames(
  where: readonly WhereClause[],
  column: string,
  conditions: readonly Condition[],
): string[] | null {
  const clauses = where.filter((clause) => clause.column === column);
  const listed = clauses.find((clause) => clause.kind === "values");
  if (listed !== undefined) return listed.values;
  const values = columnValues(conditions, column);
  return values.names?.filter((name) => clauses.every((clause) => values.reaches(clause, name))) ?? null;
}

/** Columns and their values, or the names of these. */
export type Combination = Record<string, string>;

/** The same for the same values, in whatever order the columns stand; null is a blank. */
export function combinationKey(combination: Record<string, string | null>): string {
  const columns = Object.keys(combination).sort(byCodePoint);
  return JSON.stringify(columns.map((column) => [column, combination[column]]));
}

/** Every combination of some columns' values, the last column varying fastest; an empty one where there is no column. */
export function crossed(columns: readonly { column: string; values: readonly string[] }[]): Combination[] {
  return columns.reduce<Combination[]>(
    (combinations, { column, values }) =>
      combinations.flatMap((combination) => values.map((value) => ({ ...combination, [column]: value }))),
    [{}],
  );
}

/** A planned combination by the names of its values. */
export function namesOf(combination: Combination, conditions: readonly Condition[]): Combination {
  return Object.fromEntries(
    Object.entries(combination).map(([column, value]) => [
      column,
      columnValues(conditions, column).nameOf(value) ?? value,
    ]),
  );
}

/** The clauses that a criterion's `where` and one of its groups come to together. */
export function clausesOf(where: readonly WhereClause[], group: Combination | null): WhereClause[] {
  const own = Object.entries(group ?? {});
  return [...where, ...own.map(([column, value]) => ({ column, kind: "values" as const, values: [value] }))];
}

/** Whether clauses take a combination; one that leaves a column open is taken whatever is asked of that column. */
export function takes(
  clauses: readonly WhereClause[],
  combination: Combination,
  conditions: readonly Condition[],
): boolean {
  return clauses.every((clause) => {
    const value = combination[clause.column];
    return value === undefined || columnValues(conditions, clause.column).allows(clause, value);
  });
}

/** Whether what was walked, by the names of its values, includes every value of a combination. */
export function includes(walked: Record<string, readonly string[]>, combination: Combination): boolean {
  return Object.entries(combination).every(([column, name]) => walked[column]?.includes(name) ?? false);
}
