import { gainTable } from "./change-table.ts";
import { turnTable } from "./one-more-miss.ts";
import { simulate } from "./simulate.ts";

// Fewer or more walks a line: node dist/bench/simulation/run.js 20000
const walks = Number(process.argv[2] ?? 4000);
const say = (line: string) => process.stdout.write(`${line}\n`);
simulate(walks, say);
for (const line of gainTable(walks, 4001)) say(line);
for (const line of turnTable()) say(line);
