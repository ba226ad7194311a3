import { writeFileSync } from "node:fs";
import { dayEffects } from "./change-table.ts";
import { highestShares } from "./sign-off-table.ts";
import { atEveryPass, rules } from "./wrong-sign-offs.ts";

// Run in the repository after a change of an interval: node dist/bench/simulation/write.js
// A rule that is looked at after every pass signs off so seldom that it takes more walks to tell how often.
const atTheEnd = rules.filter((rule) => rule !== atEveryPass);
const wrongSignOffs = [...highestShares(atTheEnd, 4000, 1), ...highestShares([atEveryPass], 20_000, 1)];
writeFileSync("src/intervals/simulated.json", `${JSON.stringify({ wrongSignOffs }, null, 2)}\n`);
writeFileSync(
  "src/analysis/comparison/simulated.json",
  `${JSON.stringify({ dayEffects: dayEffects(4000, 3001) }, null, 2)}\n`,
);
