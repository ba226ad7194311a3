import { type EpcForm, epcForms } from "../model/facility.ts";
import { canonicalCode } from "./canonical-code.ts";
import { codeUri } from "./code-uri.ts";

/** A code as a log writes it, and the form in which it was read; null where it has not been read. */
export interface LoggedCode {
  text: string;
  form: EpcForm | null;
}

/** Another way to read codes under which some of them are among known ones, with one of these. */
export type NearestReading =
  /** The log is written in another form. */
  | { kind: "form"; form: EpcForm; matches: number; written: string; known: string }
  /** The known codes are written in another form. */
  | { kind: "known-form"; form: EpcForm; matches: number; written: string; known: string }
  /** One side writes the URI of what the other side writes in hexadecimal. */
  | { kind: "uri"; matches: number; written: string; known: string };

/**
 * The reading under which most codes of a log that are not known would be; null where none of them is known under any.
 *
 * Tries each form on the codes as the log writes them, each form on the known ones, and the URIs of both sides. Of readings
 * that fit equally many, the first in this order.
 *
 * Worked example: with 3034257BF40C0E40000F4245 known, 45420F00400E0CF47B253430 is `hex-reversed`.
 */
export function nearestReading(
  written: readonly LoggedCode[],
  known: readonly string[],
): NearestReading | null {
  const knownBy = (name: (text: string) => string | null) =>
    new Map(known.flatMap((text): [string, string][] => entryOf(name(text), text)));
  const readings: NearestReading[] = [];
  const add = <T extends object>(
    kind: T,
    names: ReadonlyMap<string, string>,
    name: (each: LoggedCode) => string | null,
  ) => {
    const found = written.flatMap((each) => entryOf(name(each), each.text)).filter(([id]) => names.has(id));
    const [first] = found;
    if (first === undefined) return;
    const match = { matches: found.length, written: first[1], known: names.get(first[0])! };
    readings.push({ ...kind, ...match } as unknown as NearestReading);
  };
  const asHex = knownBy((text) => codeOf(text, "hex"));
  for (const form of epcForms) {
    add({ kind: "form", form }, asHex, (each) => (each.form === form ? null : codeOf(each.text, form)));
  }
  for (const form of epcForms) {
    if (form === "hex") continue;
    const asForm = knownBy((text) => codeOf(text, form));
    add({ kind: "known-form", form }, asForm, (each) => codeOf(each.text, each.form ?? "hex"));
  }
  const uris = knownBy(uriOf);
  add({ kind: "uri" }, uris, ({ text }) => uriOf(text));
  return readings.reduce<NearestReading | null>(
    (best, each) => (best === null || each.matches > best.matches ? each : best),
    null,
  );
}

function entryOf<T>(name: string | null, value: T): [string, T][] {
  return name === null ? [] : [[name, value]];
}

function codeOf(text: string, form: EpcForm): string | null {
  const read = canonicalCode(text, form);
  return read.kind === "refused" ? null : read.code;
}

/** The pure identity URI of a code, or the text itself where it is one; null where there is none. */
function uriOf(text: string): string | null {
  const uri = /^\s*urn:epc:(?:id|raw):/i.test(text) ? text.trim() : codeUri(text);
  return uri === null ? null : uri.toLowerCase();
}
