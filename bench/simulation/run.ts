import { changeTable, dayTable, gainTable } from "./change-table.ts";
import { turnTable } from "./one-more-miss.ts";
import { signOffTable } from "./sign-off-table.ts";

// Fewer or more walks a line: node dist/bench/simulation/run.js 20000
const walks = Number(process.argv[2] ?? 4000);
for (const line of signOffTable(walks, 1)) process.stdout.write(`${line}\n`);
for (const line of changeTable(walks, 1001)) process.stdout.write(`${line}\n`);
for (const line of dayTable(walks, 3001)) process.stdout.write(`${line}\n`);
for (const line of gainTable(walks, 4001)) process.stdout.write(`${line}\n`);
for (const line of turnTable()) process.stdout.write(`${line}\n`);
