import type { Asked, Item } from "./item.ts";

/** A text in pieces, each with the number of its first line. */
type Stretches = AsyncIterable<{ firstLine: number; text: string }>;

/** The text of a log, from its beginning as often as it is asked for. */
export interface LogText {
  /** In pieces that end anywhere: a document may be one line. */
  pieces(): AsyncIterable<string>;
  /** In pieces that end where lines do. */
  stretches(): Stretches;
}

/** What the beginning of a log shows. */
export interface LogHead {
  /** Its first lines that are not blank and no comments; the last may be cut off. */
  lines: readonly string[];
  /** Whether its entry says where lists of reads are. */
  hasRows: boolean;
}

/** A way in which readers write logs that are neither tables nor one JSON object a line. Each item becomes such an object. */
export interface Form {
  id: string;
  /** What a log of the form is called. */
  title: string;
  /** Whether its lines are items or messages; a document need not have lines. */
  hasLines: boolean;
  /** Whether a log is of this form. */
  recognise(head: LogHead): boolean;
  /** The items in their order. Throws a `FormFault` where nothing behind a fault can be read. */
  items(log: LogText, asked: Asked): AsyncGenerator<Item[]>;
}
