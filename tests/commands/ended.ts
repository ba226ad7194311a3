import { runCommandLine } from "../../src/commands/command-line.ts";

export interface Ended {
  status: number;
  out: string;
  err: string;
}

/** Runs a command line in this process, on a terminal that keeps what was said. */
export async function ended(...words: string[]): Promise<Ended> {
  const said = { out: "", err: "" };
  const status = await runCommandLine(words, {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    progress: () => {},
    watched: false,
    interrupted: () => Promise.resolve(),
  });
  return { status, ...said };
}
