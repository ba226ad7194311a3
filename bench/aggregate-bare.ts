import { DuckDBInstance } from "@duckdb/node-api";

/** The database alone: what was heard of each tag at each read point, of the same columns that a judgement needs. */
const instance = await DuckDBInstance.create(":memory:");
const connection = await instance.connect();
const result = await connection.runAndReadAll(
  `SELECT ReaderName, EPC, sum(TagSeenCount), max(PeakRSSI), min(FirstSeenTimestampUTC), max(FirstSeenTimestampUTC)
    FROM read_csv($log, auto_detect = false, header = true, delim = ',', columns = {FirstSeenTimestampUTC: 'BIGINT',
      ReaderName: 'VARCHAR', EPC: 'VARCHAR', AntennaID: 'VARCHAR', PeakRSSI: 'DECIMAL(9,2)', TagSeenCount: 'INTEGER'})
    GROUP BY ReaderName, EPC`,
  { log: process.argv[2]! },
);
process.stdout.write(`${result.currentRowCount}\n`);
