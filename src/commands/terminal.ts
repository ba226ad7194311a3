/** Where a command speaks: results to standard output, everything else to standard error. */
export interface Terminal {
  out(text: string): void;
  err(text: string): void;
  /** Whether somebody is watching standard error: only then is progress shown. */
  watched: boolean;
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
