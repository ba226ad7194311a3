/** Why a bag does not hold, or a remark on one that does. */
export interface Fault {
  kind: "missing" | "added" | "changed" | "unreadable" | "format" | "signature" | "timestamp" | "figures";
  /** Null where it is about the bag as a whole. */
  file: string | null;
  /** A sentence that names the file. */
  says: string;
}

export function fault(kind: Fault["kind"], file: string | null, says: string): Fault {
  return { kind, file, says };
}
