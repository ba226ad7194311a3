import { type Cell, csvText, forSpreadsheets, markedText } from "./csv-text.ts";

/** A column of a table as a file. */
export interface CsvColumn<Row> {
  /** Says the unit where there is one, at its end: `median_rssi_dbm`. */
  header: string;
  value(row: Row): Cell;
  /** Its name on the page, where it is shown there. */
  label?: string;
  /** Set for a column that a client's file names: its name says nothing of a unit. Null where none is stated. */
  unit?: string | null;
}

/** What a column of a file holds, in the words of Table Schema. */
interface TableField {
  name: string;
  title?: string;
  /** `any` for a column without a value. */
  type: "integer" | "number" | "string" | "any";
  unit?: string;
}

/** The name of a table as a file, and its description. */
export interface TableFile {
  /** In the facility's folder of tables, without extension. */
  name: string;
  /** What the rows are, in words, for the list of downloads. */
  holds: string;
  /** The id of the read point it belongs to; left out where it belongs to the facility. */
  readPoint?: string;
}

/** A table as a file of the site. */
export interface CsvTable extends TableFile {
  rows: number;
  text(): string;
  fields(): TableField[];
}

/** Makes the names of the tables of one read point. */
export type TableFiles = (name: string, holds: string) => TableFile;

/** Rows and their columns bound together; the text is only made when it is written. */
export function csvTable<Row>(file: TableFile, columns: CsvColumn<Row>[], rows: Row[]): CsvTable {
  return {
    ...file,
    rows: rows.length,
    text: () => tableText(columns, rows),
    fields: () => fieldsOf(columns, rows),
  };
}

/** Units by the end of a column's name, the longer ends first. */
const unitEnds: [end: string, unit: string][] = [
  ["_tags_a_minute", "tags a minute"],
  ["_fraction", "fraction (1 is 100 %)"],
  ["_share", "fraction (1 is 100 %)"],
  ["_minutes", "min"],
  ["_bytes", "B"],
  ["_w_m2", "W/m2"],
  ["_dbm_eirp", "dBm"],
  ["_dbm", "dBm"],
  ["_db", "dB"],
  ["_ms", "ms"],
  ["_m", "m"],
  ["_s", "s"],
];

function fieldsOf<Row>(columns: CsvColumn<Row>[], rows: Row[]): TableField[] {
  const names = headersOf(columns);
  return columns.map((column, i) => {
    const { header, label } = column;
    const unit =
      column.unit === undefined ? (unitEnds.find(([end]) => header.endsWith(end))?.[1] ?? null) : column.unit;
    const isMeasured = (unit !== null && unit !== "B") || measured.test(header);
    const type = typeOf(
      rows.map((row) => column.value(row)),
      isMeasured,
    );
    return {
      name: names[i]!,
      ...(label === undefined ? {} : { title: label }),
      type,
      ...(unit === null ? {} : { unit }),
    };
  });
}

/** Columns of figures without a unit that are whole only by chance, by the end of their names. */
const measured =
  /(^|_)(value|lower|upper|limit|effective_n|design_effect|ratio|correlation|chance|gain|p|p_adjusted|p_adjusted_holm)$/;

function typeOf(cells: Cell[], isMeasured: boolean): TableField["type"] {
  const filled = cells.filter((cell) => cell !== null);
  if (filled.length === 0) return "any";
  if (!filled.every((cell) => typeof cell === "number")) return "string";
  if (isMeasured) return "number";
  return filled.every((cell) => Number.isInteger(cell)) ? "integer" : "number";
}

/** A table as text, with a header. */
export function tableText<Row>(columns: CsvColumn<Row>[], rows: Row[], style = forSpreadsheets): string {
  const records = rows.map((row) => columns.map((column) => column.value(row)));
  return markedText(csvText([headersOf(columns), ...records], style));
}

/** Columns named by the client's own files may repeat one of ours: the later one gets a number. */
function headersOf<Row>(columns: CsvColumn<Row>[]): string[] {
  const taken = new Set<string>();
  return columns.map(({ header }) => {
    let name = header;
    for (let i = 2; taken.has(name); i += 1) name = `${header} (${i})`;
    taken.add(name);
    return name;
  });
}
