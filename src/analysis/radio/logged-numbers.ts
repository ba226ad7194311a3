import { decimalOf } from "../../model/decimal.ts";
import type { Condition } from "../../model/facility.ts";
import type { WalkedFacility } from "../../model/rows.ts";

/** A condition column that holds numbers of one kind, and its number by row. */
interface LoggedNumbers {
  column: string;
  /** Null where the row states none, or none above nought. */
  of(row: number): number | null;
}

/** The declared column of speeds: `speed_m_s`, or the first with the unit m/s. */
export function loggedSpeeds(walked: WalkedFacility): LoggedNumbers | null {
  return numbersOf(
    walked,
    ({ column }) => column === "speed_m_s",
    ({ unit }) => unit === "m/s",
  );
}

/** The declared column of distances from the antenna: `distance_m`, or the first in m whose name begins with distance. */
export function loggedDistances(walked: WalkedFacility): LoggedNumbers | null {
  return numbersOf(
    walked,
    ({ column }) => column === "distance_m",
    ({ column, unit }) => unit === "m" && column.startsWith("distance"),
  );
}

type Test = (condition: Condition) => boolean;

function numbersOf({ facility, log }: WalkedFacility, byName: Test, byUnit: Test): LoggedNumbers | null {
  const condition = facility.conditions.find(byName) ?? facility.conditions.find(byUnit);
  const texts = condition === undefined ? undefined : log.rows.columns.get(condition.column);
  if (condition === undefined || texts === undefined) return null;
  const numbers = texts.values.map((text) => {
    const value = decimalOf(text);
    return value > 0 ? value : null;
  });
  return {
    column: condition.column,
    of: (row) => (texts.index[row] === -1 ? null : numbers[texts.index[row]!]!),
  };
}
