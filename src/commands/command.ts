import type { InputChoice } from "../pages/parts/archive.ts";

/** Where a command speaks: results to standard output, everything else to standard error. */
export interface Terminal {
  out(text: string): void;
  err(text: string): void;
  /** Shows how far a command has come in place of what was shown before; null wipes it away. */
  progress(text: string | null): void;
  /** Whether somebody is watching standard error: only then is progress shown. */
  watched: boolean;
  /** Resolves when the person at the terminal asks for the end; listens no longer once `until` is aborted. */
  interrupted(until: AbortSignal): Promise<unknown>;
}

/** What a command ends with; the first that applies. */
export const ExitStatus = {
  fine: 0,
  notMet: 1,
  /** Input refused or wrong usage: nothing was written. */
  refused: 2,
  /** Something is undecided or untested. */
  open: 3,
  /** A fault of the tool. */
  fault: 70,
} as const;

export type Exit = (typeof ExitStatus)[keyof typeof ExitStatus];

/** Words that make no sense as a command; the message says what would. */
export class WrongUsage extends Error {}

interface Option {
  type: "string" | "boolean";
  multiple?: boolean;
  /** What stands for its value in help. */
  placeholder?: string;
  summary: string;
}

/** Every option that a command may take. */
export const options = {
  data: { type: "string", placeholder: "DIR", summary: "folder with one folder a facility (data)" },
  out: { type: "string", placeholder: "DIR", summary: "folder of the site (site)" },
  only: {
    type: "string",
    multiple: true,
    placeholder: "ID",
    summary: "this facility only, and nothing else in the site; may be given more than once",
  },
  from: {
    type: "string",
    multiple: true,
    placeholder: "FILE",
    summary: "start from these files: pass logs, manifests, readers' logs; several may follow",
  },
  inputs: {
    type: "string",
    placeholder: "WHICH",
    summary: "input files in the site: all, none, or small (without readers' logs where all pass 50 MB)",
  },
  json: { type: "boolean", summary: "print the result for other programs" },
  junit: {
    type: "string",
    placeholder: "FILE",
    summary: "write the findings as JUnit XML too, for a build server",
  },
  port: { type: "string", placeholder: "N", summary: "where serve listens on this machine (8321)" },
} as const satisfies Record<string, Option>;

export type OptionName = keyof typeof options;

/** Which facilities a command is about. */
export interface Source {
  data: string;
  /** Ids; empty means all. */
  only: string[];
}

/** What stood on the command line, defaults filled in. */
export interface Words {
  source: Source;
  out: string;
  /** Which input files go into the site; null where it is not said. */
  inputs: InputChoice | null;
  json: boolean;
  /** The file that the findings go into as JUnit XML; null where none is named. */
  junit: string | null;
  port: string;
  /** The one word after the command; empty for a command that takes none. */
  operand: string;
  /** Files to start from. */
  from: string[];
}

/**
 * One command, whole: its words and what it does. All cards are loaded to read one command line, so a card imports what
 * its work needs only once it runs.
 */
export interface Command {
  name: string;
  /** Its line in help. */
  summary: string;
  options: OptionName[];
  /** The one word that must follow, and what to say where it does not; null where none may. */
  operand: { placeholder: string; advice: string } | null;
  /** Command lines with what each is for: help shows them first. */
  examples: { words: string; purpose: string }[];
  /** What it ends with, for its help; what every command may end with is added. */
  exits: Partial<Record<0 | 1 | 3 | 4, string>>;
  run(words: Words, terminal: Terminal): Promise<Exit>;
}
