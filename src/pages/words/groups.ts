import type { Condition } from "../../model/facility.ts";

/** A condition's value with its unit: `1 to 2 m/s`, `edge-on`. */
export function valueText(value: string, condition: Condition | undefined): string {
  return condition?.unit ? `${value}\u00a0${condition.unit}` : value;
}

/** A condition's label; the column's own name where nothing declares it. */
export function columnLabel(column: string, conditions: Condition[]): string {
  return conditions.find((condition) => condition.column === column)?.label ?? column;
}

/** `Tag orientation: edge-on; Speed: 1 to 2 m/s`; empty without a group. */
export function groupText(group: Record<string, string> | null, conditions: Condition[]): string {
  return Object.entries(group ?? {})
    .map(([column, value]) => {
      const condition = conditions.find((entry) => entry.column === column);
      return `${columnLabel(column, conditions)}: ${valueText(value, condition)}`;
    })
    .join("; ");
}
