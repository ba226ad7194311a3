import { UnreadableLog } from "./log-description.ts";

/** A parquet file as rows of texts. */
export interface ParquetRows {
  names: string[];
  /** The first rows. */
  sample(limit: number): Promise<string[][]>;
  walk(onRow: (fields: string[]) => void): Promise<void>;
  close(): void;
}

/** Opens a parquet file; the database behind it is loaded only here. */
export async function parquetRows(path: string): Promise<ParquetRows> {
  const { DuckDBInstance } = await import("@duckdb/node-api");
  const instance = await DuckDBInstance.create(":memory:", {
    autoinstall_known_extensions: "false",
    autoload_known_extensions: "false",
    threads: "2",
  });
  const connection = await instance.connect();
  const allowed = path.replaceAll("'", "''");
  for (const setting of [
    "TimeZone = 'UTC'",
    `allowed_paths = ['${allowed}']`,
    "enable_external_access = false",
  ]) {
    await connection.run(`set ${setting}`);
  }
  const close = () => {
    connection.closeSync();
    instance.closeSync();
  };
  try {
    const described = await connection.runAndReadAll("describe select * from read_parquet($1)", [path]);
    const columns = described.getRows().map((row) => ({ name: String(row[0]), type: String(row[1]) }));
    const texts = columns.map(({ name, type }) => {
      const quoted = `"${name.replaceAll('"', '""')}"`;
      return type === "BLOB" ? `coalesce(hex(${quoted}), '')` : `coalesce(${quoted}::varchar, '')`;
    });
    const query = `select ${texts.join(", ")} from read_parquet($1)`;
    return {
      names: columns.map(({ name }) => name),
      sample: async (limit) =>
        (await connection.runAndReadAll(`${query} limit ${limit}`, [path])).getRows() as string[][],
      walk: async (onRow) => {
        const result = await connection.stream(query, [path]);
        for (let chunk = await result.fetchChunk(); chunk !== null && chunk.rowCount > 0; ) {
          for (const row of chunk.getRows()) onRow(row as string[]);
          chunk = await result.fetchChunk();
        }
      },
      close,
    };
  } catch (fault) {
    close();
    throw unreadable(fault);
  }
}

/** The database's own words name its functions; the first line is enough for a person. */
export function unreadable(fault: unknown): UnreadableLog {
  if (fault instanceof UnreadableLog) return fault;
  const words = fault instanceof Error ? (fault.message.split("\n")[0] ?? "") : String(fault);
  return new UnreadableLog(
    `It begins like a parquet file but cannot be read as one (${words.slice(0, 160)}).`,
  );
}
