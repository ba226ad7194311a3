import { DOUBLE, type DuckDBConnection, DuckDBDataChunk, DuckDBInstance, INTEGER } from "@duckdb/node-api";

/** Texts that a statement is given. With any, it takes three ways into the database where one would do. */
type Parameters = Record<string, string>;

/** Numbers of a column. */
export type NumberColumn = Int32Array | Float64Array;

/** What the library keeps the numbers of a column in. */
interface NumberVector {
  items: NumberColumn;
  flush(): void;
}

/** About twenty thousand rows: smaller tables are read no faster as typed columns. */
export const usualLargeBytes = 1 << 20;

/** As many rows as the database takes at once. */
const rowsOfChunk = 2048;

/** The widest key that is grouped by position instead of by hashing, in bits. */
const widestDirectKey = 22;
const usualDirectKey = 12;

/** What saves time on many rows, and takes longer to plan than a few thousand take to read. */
const dearToPlan = ["statistics_propagation", "compressed_materialization", "common_subplan"];

/** An in-memory database that may open the named files and nothing else: no network, no extensions, no other files. */
export class LogDatabase {
  readonly #instance: DuckDBInstance;
  readonly #connection: DuckDBConnection;

  private constructor(instance: DuckDBInstance, connection: DuckDBConnection) {
    this.#instance = instance;
    this.#connection = connection;
  }

  /** @param threads left out for one where the logs are small, else for as many as the machine has */
  static async open(
    paths: readonly string[],
    { isSmall = false, threads = isSmall ? 1 : null }: { isSmall?: boolean; threads?: number | null } = {},
  ): Promise<LogDatabase> {
    const instance = await DuckDBInstance.create(":memory:", {
      autoinstall_known_extensions: "false",
      autoload_known_extensions: "false",
      ...(threads === null ? {} : { threads: String(threads) }),
    });
    const database = new LogDatabase(instance, await instance.connect());
    const settings = [
      "TimeZone = 'UTC'",
      // No result depends on the order of rows. It is kept because logs are sorted by time, which makes duplicates cheap to find.
      "preserve_insertion_order = true",
      // This release crashes on some ASOF joins that it plans as loops, which it does for fewer than 64 rows.
      "asof_loop_join_threshold = 0",
      // What is joined to the reads is always small; guesses at the size of a text file put the reads on the wrong side.
      `disabled_optimizers = '${["join_order", "build_side_probe_side", ...(isSmall ? dearToPlan : [])].join()}'`,
      "temp_directory = ''",
      // A database that is thrown away needs no tidying, which would rewrite the reads after each small change.
      "checkpoint_threshold = '1TB'",
      `allowed_paths = ${literals(paths)}`,
      "allowed_configs = ['perfect_ht_threshold']",
      "enable_external_access = false",
      "lock_configuration = true",
    ];
    await database.run(settings.map((setting) => `SET ${setting}`).join("; "));
    return database;
  }

  /** Runs a statement, or several without parameters; the number of rows that the last one changed. */
  async run(sql: string, parameters?: Parameters): Promise<number> {
    return (await this.#connection.run(sql, parameters)).rowsChanged;
  }

  async rows<T extends object>(sql: string, parameters?: Parameters): Promise<T[]> {
    return (await this.#connection.runAndReadAll(sql, parameters)).getRowObjectsJS() as T[];
  }

  /** Column by column, for results of many rows. */
  async columns(sql: string): Promise<unknown[][]> {
    return (await this.#connection.runAndReadAll(sql)).getColumnsJS() as unknown[][];
  }

  /** Groups by position while `use` runs: fast where keys are small whole numbers, wasteful elsewhere. */
  async groupingDirectly<T>(use: () => Promise<T>): Promise<T> {
    await this.run(`SET perfect_ht_threshold = ${widestDirectKey}`);
    try {
      return await use();
    } finally {
      await this.run(`SET perfect_ht_threshold = ${usualDirectKey}`);
    }
  }

  /** Fills a table with rows made here. */
  async fill(table: string, rows: readonly (string | number | null)[][]): Promise<void> {
    if (rows.length === 0) return;
    const appender = await this.#connection.createAppender(table);
    for (const row of rows) {
      for (const value of row) {
        if (value === null) appender.appendNull();
        else if (typeof value === "string") appender.appendVarchar(value);
        else appender.appendBigInt(BigInt(value));
      }
      appender.endRow();
    }
    appender.closeSync();
  }

  /** Fills a table of whole numbers (INTEGER) and wide ones (DOUBLE) without nulls, column by column. */
  async fillColumns(table: string, columns: readonly NumberColumn[]): Promise<void> {
    const appender = await this.#connection.createAppender(table);
    const types = columns.map((column) => (column instanceof Int32Array ? INTEGER : DOUBLE));
    const length = columns[0]!.length;
    for (let from = 0; from < length; from += rowsOfChunk) {
      const to = Math.min(from + rowsOfChunk, length);
      const chunk = DuckDBDataChunk.create(types, to - from);
      for (const [index, column] of columns.entries()) {
        const vector = chunk.getColumnVector(index) as unknown as NumberVector;
        vector.items.set(column.subarray(from, to));
        vector.flush();
      }
      appender.appendDataChunk(chunk);
    }
    appender.closeSync();
  }

  /** The rows of a query as columns of numbers without nulls: whole ones (INTEGER) and wide ones (DOUBLE). */
  async numberColumns(
    sql: string,
    names: readonly string[],
  ): Promise<{ length: number; columns: NumberColumn[] }> {
    const pieces: NumberColumn[][] = [];
    let length = 0;
    const result = await this.#connection.stream(sql);
    for (;;) {
      const chunk = await result.fetchChunk();
      if (chunk === null || chunk.rowCount === 0) break;
      const rows = chunk.rowCount;
      // The memory is the database's: a copy outlives it.
      pieces.push(
        names.map((_, index) =>
          (chunk.getColumnVector(index) as unknown as NumberVector).items.slice(0, rows),
        ),
      );
      length += rows;
    }
    const columns = names.map((_, index) => {
      const isWhole = pieces[0]?.[index] instanceof Int32Array;
      const whole = isWhole ? new Int32Array(length) : new Float64Array(length);
      let at = 0;
      for (const piece of pieces) {
        whole.set(piece[index]!, at);
        at += piece[index]!.length;
      }
      return whole;
    });
    return { length, columns };
  }

  /** Ends the statement that runs, as a fault of it. */
  interrupt(): void {
    this.#connection.interrupt();
  }

  close(): void {
    this.#connection.closeSync();
    this.#instance.closeSync();
  }
}

/** A text as a constant of SQL. */
export function literal(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}

/** Texts as a list of SQL, such as the paths of the files to read. */
export function literals(texts: readonly string[]): string {
  return `[${texts.map(literal).join(", ")}]`;
}

/** A name as SQL takes it, whatever is in it. */
export function identifier(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}
