import { readFileSync } from "node:fs";
import { runInThisContext } from "node:vm";
import type { WalkData, WalkRoute } from "../../../src/pages/aisle/walk-data.ts";

const assets = new URL("../../../templates/assets/", import.meta.url);

interface Stamp {
  ms: number;
  text: string;
}

export interface StartedPass {
  readPoint: string;
  round: string;
  pass: string;
  planned: string | null;
  conditions: Record<string, string>;
  manifest: string | null;
  tagsPerPass: number;
  columns: string[];
  needed: string[];
  varied: string[];
  clockWentBack?: boolean;
}

export interface LoggedPass extends StartedPass {
  startedAt: Stamp;
  endedAt: Stamp;
  missed: string[] | null;
  missedCount: number;
  presented: number;
  strays: { codes: string[]; count: number } | null;
  voidReason: string;
  note: string;
  walkedBy: string;
}

export interface Fields {
  missed: string[];
  missedCount: number;
  presented: number;
  strays: "nobody" | "none" | "heard";
  strayCodes: string;
  strayCount: number;
  conditions: Record<string, string>;
  isVoid: boolean;
  voidReason: string;
  note: string;
  walkedBy: string;
}

type Recorded = Pick<
  LoggedPass,
  "missed" | "missedCount" | "presented" | "strays" | "conditions" | "voidReason" | "note" | "walkedBy"
>;

export type Step =
  | { do: "start"; pass: StartedPass; at: Stamp }
  | { do: "stop"; at: Stamp }
  | { do: "save"; record: Recorded; fields: Fields }
  | { do: "change"; index: number; record: Recorded };

export interface State {
  walk: string;
  steps: Step[];
  undone: unknown[];
  draft: { of: "current" | number; fields: Fields } | null;
  changes: number;
  saved: number;
}

interface Standing {
  stage: "ready" | "running" | "stopped";
  current: LoggedPass | null;
  passes: LoggedPass[];
}

type Read =
  | { kind: "empty" | "off" }
  | { kind: "state"; state: State }
  | { kind: "unreadable"; text: string };

interface Store {
  works(): boolean;
  read(): Read;
  write(state: State): "kept" | "elsewhere" | "off";
  changedElsewhere(): boolean;
  setAside(): boolean;
}

/** The parts of the page's script that know nothing of a page. */
export interface AisleParts {
  log: {
    begun(walk: string): State;
    standing(state: State): Standing;
    after(state: State, step: Step): State;
    undo(state: State): State;
    redo(state: State): State;
    isState(value: unknown): value is State;
  };
  route: {
    bandName(edges: number[], text: string): string | null;
    open(data: WalkData, route: WalkRoute, passes: LoggedPass[]): { pass: string; cell: number }[];
    progress(
      data: WalkData,
      route: WalkRoute,
      passes: LoggedPass[],
    ): { planned: number; done: number; cells: { done: number; planned: number | null }[] };
    freeId(data: WalkData, route: WalkRoute, passes: LoggedPass[], planned: string | null): string;
  };
  record: {
    fieldsFor(pass: StartedPass, data: WalkData, walkedBy: string): Fields;
    fieldsOf(pass: LoggedPass): Fields;
    recordOf(pass: StartedPass, fields: Fields): Recorded;
    faults(pass: StartedPass, fields: Fields, data: WalkData): { field: string; text: string }[];
  };
  csv: {
    stampOf(ms: number, minutesAhead: number): Stamp;
    files(data: WalkData, state: State, passes: LoggedPass[]): { name: string; text: string }[];
  };
  store: {
    open(key: string, storage: () => unknown, isState: (value: unknown) => boolean): Store;
  };
  tags: {
    tailLength(codes: string[]): number;
    found(codes: string[], wanted: string): string[];
  };
}

/** Those parts, run from the very files that the page loads, and in the same order. */
export function aisleParts(): AisleParts {
  for (const name of ["log", "route", "record", "csv", "store", "fields", "tags"]) {
    const file = new URL(`aisle-${name}.js`, assets);
    runInThisContext(readFileSync(file, "utf8"), { filename: file.pathname });
  }
  return (globalThis as unknown as { aisleParts: AisleParts }).aisleParts;
}
