import { spawn, spawnSync } from "node:child_process";

export interface Run {
  seconds: number;
  peakMegabytes: number;
  /** Of all threads: less at the mercy of what else the machine does. */
  processorSeconds: number;
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
  const seconds = (performance.now() - began) / 1000;
  const { peakKilobytes, processorUs } = JSON.parse(report) as Record<string, number>;
  return { seconds, peakMegabytes: peakKilobytes! / 1024, processorSeconds: processorUs! / 1e6 };
}

/** Runs any program once and says how long it took and what it printed. */
export function timedCommand(command: string, words: string[]): { seconds: number; answer: string } {
  const began = performance.now();
  const { status, stdout, stderr } = spawnSync(command, words, { encoding: "utf8" });
  if (status !== 0) throw new Error(`${command}: ${status}: ${stderr}`);
  return { seconds: (performance.now() - began) / 1000, answer: stdout.trim() };
}

/** Several programs in turn, round after round, so that a machine that slows down slows them all; medians of each. */
export async function medianRuns(rounds: number, programs: (() => Promise<Run>)[]): Promise<Run[]> {
  const runs: Run[][] = programs.map(() => []);
  for (let round = 0; round < rounds; round += 1) {
    for (const [index, program] of programs.entries()) runs[index]!.push(await program());
  }
  return runs.map((own) => ({
    seconds: middle(own.map((run) => run.seconds)),
    processorSeconds: middle(own.map((run) => run.processorSeconds)),
    peakMegabytes: Math.max(...own.map((run) => run.peakMegabytes)),
  }));
}

function middle(values: number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}
