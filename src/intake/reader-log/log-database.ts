import { type DuckDBConnection, DuckDBInstance, type DuckDBValue } from "@duckdb/node-api";
import { literal } from "./sql-text.ts";

/** The widest key that is counted by position instead of by hashing, in bits. */
const widestDirectKey = 22;

/** An in-memory database that may open the named files and nothing else: no network, no extensions, no other files. */
export class LogDatabase {
  readonly #instance: DuckDBInstance;
  readonly #connection: DuckDBConnection;

  private constructor(instance: DuckDBInstance, connection: DuckDBConnection) {
    this.#instance = instance;
    this.#connection = connection;
  }

  /** @param threads null for as many as the machine has */
  static async open(paths: readonly string[], threads: number | null): Promise<LogDatabase> {
    const instance = await DuckDBInstance.create(":memory:", {
      autoinstall_known_extensions: "false",
      autoload_known_extensions: "false",
      ...(threads === null ? {} : { threads: String(threads) }),
    });
    const database = new LogDatabase(instance, await instance.connect());
    for (const setting of [
      "TimeZone = 'UTC'",
      // Nothing that leaves is in the order of rows, but logs are written in the order of time, which spares a search for repeats.
      "preserve_insertion_order = true",
      // What is joined to the reads is always small; guesses at the size of a text file put the reads on the wrong side.
      "disabled_optimizers = 'join_order,build_side_probe_side'",
      "temp_directory = ''",
      // A database that is thrown away needs no tidying, which would rewrite the reads after each small change.
      "checkpoint_threshold = '1TB'",
      `allowed_paths = [${paths.map(literal).join(", ")}]`,
      "allowed_configs = ['perfect_ht_threshold']",
      "enable_external_access = false",
      "lock_configuration = true",
    ])
      await database.run(`SET ${setting}`);
    return database;
  }

  /** Runs a statement; the number of rows it changed. */
  async run(sql: string, values: Record<string, DuckDBValue> = {}): Promise<number> {
    return (await this.#connection.run(sql, values)).rowsChanged;
  }

  async rows<T extends Record<string, unknown>>(
    sql: string,
    values: Record<string, DuckDBValue> = {},
  ): Promise<T[]> {
    return (await this.#connection.runAndReadAll(sql, values)).getRowObjectsJS() as T[];
  }

  /** Column by column, for results of many rows. */
  async columns(sql: string, values: Record<string, DuckDBValue> = {}): Promise<unknown[][]> {
    return (await this.#connection.runAndReadAll(sql, values)).getColumnsJS() as unknown[][];
  }

  /** Counts by position while `use` runs: fast where keys are small whole numbers, wasteful elsewhere. */
  async countingDirectly<T>(use: () => Promise<T>, bits: number = widestDirectKey): Promise<T> {
    await this.run(`SET perfect_ht_threshold = ${bits}`);
    try {
      return await use();
    } finally {
      await this.run("SET perfect_ht_threshold = 12");
    }
  }

  /** Fills a table with rows made here. */
  async fill(table: string, rows: readonly (string | number | null)[][]): Promise<void> {
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

  close(): void {
    this.#connection.closeSync();
    this.#instance.closeSync();
  }
}
