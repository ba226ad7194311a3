import type { InputChoice } from "../pages/parts/archive.ts";
import type { Source, Terminal } from "./lines/terminal.ts";

/** What a command ends with; the first that applies. */
export const ExitStatus = {
  fine: 0,
  notMet: 1,
  /** Input refused or wrong usage: nothing was written. */
  refused: 2,
  /** Something is undecided or untested. */
  open: 3,
  /** A seal, or another bag, does not hold. */
  broken: 4,
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
  out: { type: "string", placeholder: "DIR", summary: "folder to write to (site; seal: archive)" },
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
    summary:
      "input files in the site or seal: all, none, or for a site small (without readers' logs where all pass 50 MB)",
  },
  zip: { type: "boolean", summary: "the same as a zip beside the folder, stored and not compressed" },
  key: {
    type: "string",
    placeholder: "FILE",
    summary: "private key for SSH, or the public one of a key in an agent",
  },
  as: {
    type: "string",
    placeholder: "NAME",
    summary: "who signs, such as an address: the name of the signature's file",
  },
  "allowed-signers": {
    type: "string",
    placeholder: "FILE",
    summary: "only these keys may sign: a list in the form of ssh-keygen",
  },
  "bag-only": { type: "boolean", summary: "check the bag, of whatever kind, and judge nothing again" },
  json: { type: "boolean", summary: "print the result for other programs" },
  junit: {
    type: "string",
    placeholder: "FILE",
    summary: "write the findings as JUnit XML too, for a build server",
  },
  port: { type: "string", placeholder: "N", summary: "where serve listens on this machine (8321)" },
} as const satisfies Record<string, Option>;

export type OptionName = keyof typeof options;

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
  zip: boolean;
  /** Empty where it is not said, like the two below. */
  key: string;
  as: string;
  allowedSigners: string;
  bagOnly: boolean;
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
  /**
   * The one word that must follow, and what to say where it does not; null where none may. With `kinds`, one of these words stands before
   * it.
   */
  operand: { placeholder: string; advice: string; kinds?: readonly string[] } | null;
  /** Where it writes to without --out; left out for site. */
  out?: string;
  /** Command lines with what each is for: help shows them first. */
  examples: { words: string; purpose: string }[];
  /** What it ends with, for its help; what every command may end with is added. */
  exits: Partial<Record<0 | 1 | 3 | 4, string>>;
  run(words: Words, terminal: Terminal): Promise<Exit>;
}
