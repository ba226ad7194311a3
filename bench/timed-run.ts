import { spawn } from "node:child_process";

export interface Run {
  seconds: number;
  peakMegabytes: number;
}

const usage = new URL("./report-usage.js", import.meta.url).href;

/** Runs a Node program as a whole process and says how long it took and how much memory it held at its peak. */
export async function timedRun(program: URL, words: string[], accepted: number[] = [0]): Promise<Run> {
  const began = performance.now();
  const child = spawn(process.execPath, ["--import", usage, program.pathname, ...words], {
    stdio: ["ignore", "ignore", "pipe", "pipe"],
  });
  let report = "";
  let complaint = "";
  child.stdio[3]!.on("data", (chunk: Buffer) => {
    report += chunk.toString();
  });
  child.stderr!.on("data", (chunk: Buffer) => {
    complaint += chunk.toString();
  });
  const status = await new Promise<number | null>((resolve) => child.on("close", resolve));
  if (status === null || !accepted.includes(status))
    throw new Error(`${program.pathname}: ${status}: ${complaint}`);
  return {
    seconds: (performance.now() - began) / 1000,
    peakMegabytes: JSON.parse(report).peakKilobytes / 1024,
  };
}

/** Several programs in turn, round after round, so that a machine that slows down slows them all; medians of each. */
export async function medianRuns(rounds: number, programs: (() => Promise<Run>)[]): Promise<Run[]> {
  const runs: Run[][] = programs.map(() => []);
  for (let round = 0; round < rounds; round += 1) {
    for (const [index, program] of programs.entries()) runs[index]!.push(await program());
  }
  return runs.map((own) => ({
    seconds: middle(own.map((run) => run.seconds)),
    peakMegabytes: Math.max(...own.map((run) => run.peakMegabytes)),
  }));
}

function middle(values: number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}
