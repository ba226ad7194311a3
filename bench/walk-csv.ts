import { createReadStream } from "node:fs";
import { parse } from "csv-parse";

/** csv-parse alone: walks a file into arrays, one a record, and keeps none. */
let records = 0;
const parser = createReadStream(process.argv[2]!).pipe(parse({ bom: true, relax_column_count: true }));
for await (const record of parser) records += record.length > 0 ? 1 : 0;
process.stdout.write(`${records}\n`);
