import { writeSync } from "node:fs";

/** Imported before a program: when it ends, its peak memory and processor time go to descriptor 3. */
process.on("exit", () => {
  const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
  writeSync(3, JSON.stringify({ peakKilobytes: maxRSS, processorUs: userCPUTime + systemCPUTime }));
});
