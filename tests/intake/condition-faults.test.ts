import { describeFaults, listed, oneLog, row } from "./fault.ts";
import { criterion, log, soundLog, soundYaml } from "./folder.ts";

describeFaults("conditions and what criteria need", [
  {
    claim: "a condition is stated once",
    files: {
      "manifests/load.csv": log("tag,orientation", "T1,flat"),
      ...oneLog(`${listed},orientation`, "as-left,P1,dock-1,load,,none,edge-on"),
    },
    code: "condition-stated-twice",
    line: 2,
    at: "edge-on",
    says: /manifests\/load\.csv states it as well \("flat"\)/,
  },
  {
    claim: "a value falls into a band",
    files: { "passes/a.csv": soundLog.replace(",1,flat", ",3.5,flat") },
    code: "value-outside-bands",
    line: 2,
    at: "3.5",
    says: /"0 to 1", "1 to 2", "2 to 3"/,
  },
  {
    claim: "a banded condition is a number",
    files: { "passes/a.csv": soundLog.replace(",1,flat", ",fast,flat") },
    code: "condition-not-a-number",
    line: 2,
    at: "fast",
    says: /number alone/,
  },
  {
    claim: "a condition that a criterion groups by is filled in",
    files: {
      "facility.yaml": `${criterion("measure: tag-read-rate, at_least: 0.9, for_each: [orientation]")}${soundYaml}`,
      "passes/a.csv": soundLog.replace(",1,flat", ",1,"),
    },
    code: "condition-blank",
    line: 2,
    at: ",T1",
    says: /criterion "c1" selects or groups by it/,
  },
  {
    claim: "a condition that a criterion groups by is a column of the log",
    files: {
      "facility.yaml": `${criterion("measure: tag-read-rate, at_least: 0.9, for_each: [orientation]")}${soundYaml}`,
      ...row("T1,yes,yes,,,,"),
    },
    code: "condition-column-missing",
    line: 1,
    at: null,
    found: /"orientation"/,
    says: /Add the column/,
  },
  {
    claim: "reads that are ranked have a strength",
    files: {
      "facility.yaml": `${criterion("measure: rssi-quantile, quantile: 0.05, at_least: -65")}${soundYaml}`,
      ...row("T1,yes,yes,,,,"),
    },
    code: "rssi-blank",
    line: 2,
    at: ",,,",
    says: /ranks by it/,
  },
  {
    claim: "agreement needs what the read point concluded",
    files: {
      "facility.yaml": `${criterion("measure: agreement-rate, at_least: 0.9, observed: seen, expected: meant")}${soundYaml}`,
      ...oneLog("round,pass,read_point,tag,read,meant", "as-left,P1,dock-1,T1,yes,in"),
    },
    code: "agreement-column-missing",
    line: 1,
    at: null,
    found: /"seen"/,
    says: /concluded/,
  },
]);
