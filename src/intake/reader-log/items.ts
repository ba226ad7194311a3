import { readerLogRowsTooMany } from "../problems/reader-log.ts";
import { type LogFile, logText } from "./files.ts";
import { type Asked, type Item, membersOf } from "./forms/item.ts";
import { askedOf, type Columns, ColumnsMissing, missingOf, namesOf, UnfitLog } from "./layout.ts";
import { limits } from "./source/survey.ts";

/** The items of a log in a form of its own, in portions. Throws where it cannot be read, or where its reads lack a column that is asked for. */
export async function* itemsOf(file: LogFile, mostRows = limits.rows): AsyncGenerator<Item[]> {
  const columns = askedOf(file.spec);
  const names = namesOf(columns);
  const asked: Asked = { rows: file.spec.rows ?? [], names };
  const found = new Set<string>();
  const keys = new Set<string>();
  let rows = 0;
  for await (const items of file.form!.items(logText(file), asked)) {
    rows += items.length;
    if (rows > mostRows) throw new UnfitLog(readerLogRowsTooMany.counted({ most: mostRows }));
    if (found.size < names.length) {
      for (const item of items) {
        if (!isRead(item, columns)) continue;
        for (const name of item.found.keys()) found.add(name);
        if (keys.size < mostKeys) for (const [key] of membersOf(item.text) ?? []) keys.add(key);
      }
    }
    yield items;
  }
  const missing = keys.size === 0 ? [] : missingOf(columns, (name) => found.has(String(name)));
  if (missing.length > 0) throw new ColumnsMissing(missing, [...keys]);
}

/** Keys that are shown where one is missing. */
const mostKeys = 100;

function isRead({ found }: Item, { only }: Columns): boolean {
  return only.every(({ column, values }) => {
    const value = found.get(String(column));
    return value !== undefined && values.includes(value.startsWith('"') ? String(JSON.parse(value)) : value);
  });
}
