/** A moment by the device's clock. */
export interface Stamp {
  ms: number;
  /** RFC 3339, with the device's offset from UTC. */
  text: string;
}

/** What is known of a pass when it starts. */
export interface StartedPass {
  readPoint: string;
  round: string;
  pass: string;
  /** Which pass of the plan it is; null for an extra one. */
  planned: string | null;
  conditions: Record<string, string>;
  manifest: string | null;
  tagsPerPass: number;
  /** As the route has them. */
  columns: string[];
  needed: string[];
  varied: string[];
}

/** A pass that runs, or that was stopped and is not saved yet. */
export interface CurrentPass extends StartedPass {
  startedAt: Stamp;
  /** Null while it runs. */
  endedAt: Stamp | null;
  clockWentBack?: boolean;
}

export interface LoggedPass extends CurrentPass, Recorded {
  endedAt: Stamp;
}

/** What is typed about a pass. */
export interface Fields {
  /** Codes, where the plan names the load. */
  missed: string[];
  /** Where it does not. */
  missedCount: number;
  presented: number;
  strays: "nobody" | "none" | "heard";
  strayCodes: string;
  strayCount: number;
  conditions: Record<string, string>;
  isVoid: boolean;
  voidReason: string;
  note: string;
  walkedBy: string;
}

/** What is logged of it. */
export interface Recorded {
  /** Null where tags are only counted. */
  missed: string[] | null;
  missedCount: number;
  presented: number;
  /** Null where nobody looked. */
  strays: { codes: string[]; count: number } | null;
  conditions: Record<string, string>;
  voidReason: string;
  note: string;
  walkedBy: string;
}
