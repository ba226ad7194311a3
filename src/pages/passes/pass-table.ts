import type { PassRow } from "./pass-rows.ts";

/** Passes as a table: what is alike on all of them is said once above it, so that a row says what is its own. */
export interface PassTable {
  /** Conditions, notes and files of every row, in this order; none where there are fewer than two rows. */
  alike: string[];
  rows: PassRow[];
  columns: { conditions: boolean; notes: boolean };
  /** In a row without a condition of its own. */
  noCondition: string;
}

const lists = ["conditions", "notes", "files"] as const;

export function passTable(all: PassRow[]): PassTable {
  const alike = Object.fromEntries(lists.map((list) => [list, onEvery(all, list)])) as Record<
    (typeof lists)[number],
    string[]
  >;
  const rows = all.map((row): PassRow => {
    const own = lists.map((list) => [list, row[list].filter((text) => !alike[list].includes(text))]);
    return { ...row, ...Object.fromEntries(own) };
  });
  const unstated = all.length > 1 && all.every(({ conditions }) => conditions.length === 0);
  return {
    alike: [
      ...(unstated ? ["no condition stated"] : alike.conditions),
      ...alike.notes.map((note) => note.replace(/\.$/, "")),
      ...alike.files,
    ],
    rows,
    columns: {
      conditions: all.length < 2 || rows.some(({ conditions }) => conditions.length > 0),
      notes: rows.some(
        ({ voidReason, notes, files }) => voidReason !== "" || notes.length + files.length > 0,
      ),
    },
    noCondition: alike.conditions.length > 0 ? "as above" : "not stated",
  };
}

function onEvery(rows: PassRow[], list: (typeof lists)[number]): string[] {
  const [first, ...others] = rows;
  if (first === undefined || others.length === 0) return [];
  return first[list].filter((text) => others.every((row) => row[list].includes(text)));
}
