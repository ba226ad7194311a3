import { writeFileSync } from "node:fs";
import { simulate } from "./simulate.ts";

// Run in the repository after a change of an interval: node dist/bench/simulation/write.js
// It prints the tables as they come. A number takes fewer or more walks than 4000 of each setting.
const walks = Number(process.argv[2] ?? 4000);
const { dayEffects, ...found } = simulate(walks, (line) => process.stdout.write(`${line}\n`));
writeFileSync("src/intervals/simulated.json", `${JSON.stringify(found, null, 2)}\n`);
writeFileSync("src/analysis/comparison/simulated.json", `${JSON.stringify({ dayEffects }, null, 2)}\n`);
