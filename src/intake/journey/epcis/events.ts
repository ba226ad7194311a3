import { byCodePoint } from "../../../model/order.ts";
import { type Times, utcTime } from "../../csv/times.ts";
import type { FullText } from "../../problems/card/problem.ts";
import { epcisEventRefused } from "../../problems/epcis.ts";
import { logBytes, logText } from "../../reader-log/files.ts";
import type { Item } from "../../reader-log/forms/item.ts";
import { JsonItems } from "../../reader-log/forms/json-items.ts";

/** The bytes of a document, and what is known of them. */
export interface DocumentFile {
  /** Where it is on this machine. */
  place: string;
  zipped: boolean;
  /** Whether it is a document with its events inside, and not events alone. */
  isDocument: boolean;
}

/** What only a document has. */
export const documentMark = '"epcisBody"';

/** Where documents have their events, in the order in which they are looked for there. */
const eventLists = [
  ["epcisBody", "eventList"],
  ["epcisBody", "queryResults", "resultsBody", "eventList"],
];

/** The events of a document as JSON, in their order, some thousand at a time. Throws a `FormFault` where it is no JSON. */
export async function* eventTexts(file: DocumentFile): AsyncGenerator<Item[]> {
  for (const rows of file.isDocument ? eventLists : [[]]) {
    const json = new JsonItems({ rows, names: null });
    let found = 0;
    for await (const piece of logText(file).pieces()) {
      const items = json.read(piece);
      found += items.length;
      yield items;
    }
    const last = json.end();
    yield last;
    if (found + last.length > 0) return;
  }
}

/** Which of some texts in ASCII stand anywhere in a file. */
export async function textsIn(
  file: Pick<DocumentFile, "place" | "zipped">,
  texts: readonly string[],
): Promise<Set<string>> {
  const found = new Set<string>();
  const overlap = Math.max(...texts.map((text) => text.length)) - 1;
  let end: Buffer = Buffer.alloc(0);
  for await (const piece of logBytes(file)) {
    const seam = Buffer.concat([end, piece.subarray(0, overlap)]);
    for (const text of texts)
      if (!found.has(text) && (seam.includes(text) || piece.includes(text))) found.add(text);
    if (found.size === texts.length) break;
    end = Buffer.concat([end, piece.subarray(-overlap)]).subarray(-overlap);
  }
  return found;
}

/** An event that says where things were observed. */
export interface ObservedEvent {
  kind: "observed";
  /** Whether it says that codes have ended, which can be recorded where no tag is heard. */
  isDeletion: boolean;
  /** Microseconds since 1970. */
  epochUs: number;
  /** When it was recorded; null where it does not say. */
  knownAtUs: number | null;
  /** The URI of its read point; null where it has none. */
  readPoint: string | null;
  /** As they are written: of an aggregation, the parent and the children. */
  epcs: string[];
  /** How many quantities of classes of things it lists. */
  quantities: number;
  /** What names the event, so that it can be withdrawn: its eventID, or all that it says where it has none. */
  name(): string;
  isDeclaredInError: boolean;
}

/** What an event says; or why it cannot be read. */
export type Event = ObservedEvent | { kind: "other"; type: string } | { kind: "refused"; problem: FullText };

interface EpcMembers {
  parent: string | null;
  epcs: string;
  quantities: string;
}

/** The types of events that say where things were observed, and the members that list these. */
const observations: ReadonlyMap<string, EpcMembers> = new Map([
  ["ObjectEvent", { parent: null, epcs: "epcList", quantities: "quantityList" }],
  ["AggregationEvent", { parent: "parentID", epcs: "childEPCs", quantities: "childQuantityList" }],
]);

/** Why a member cannot be read. */
class MemberFault extends Error {
  readonly problem: FullText;

  constructor(name: string, found: unknown, expected: string) {
    super(name);
    const text = typeof found === "string" ? found : (JSON.stringify(found) ?? "");
    this.problem = epcisEventRefused.member({ name, found: text, expected });
  }
}

/** Reads an event of a document. */
export function eventOf({ shown }: Item, times: Times): Event {
  let json: unknown;
  try {
    json = JSON.parse(shown);
  } catch {
    return { kind: "refused", problem: epcisEventRefused.noEvent(shown) };
  }
  if (typeof json !== "object" || json === null || !("type" in json) || typeof json.type !== "string")
    return { kind: "refused", problem: epcisEventRefused.noEvent(shown) };
  const members = observations.get(json.type);
  if (members === undefined) return { kind: "other", type: json.type };
  try {
    return observedEvent(json as Record<string, unknown>, json.type, { members, times });
  } catch (fault) {
    if (!(fault instanceof MemberFault)) throw fault;
    return { kind: "refused", problem: fault.problem };
  }
}

function observedEvent(
  event: Record<string, unknown>,
  type: string,
  { members, times }: { members: EpcMembers; times: Times },
): ObservedEvent {
  const { action, eventID, errorDeclaration } = event;
  const epcs = epcsOf(event, members);
  const epochUs = timeOf(event, "eventTime", times);
  if (epochUs === null) throw new MemberFault("eventTime", undefined, expectedTime);
  const readPoint = readPointOf(event);
  return {
    kind: "observed",
    isDeletion: type === "ObjectEvent" && action === "DELETE",
    epochUs,
    knownAtUs: timeOf(event, "recordTime", times),
    readPoint,
    epcs,
    quantities: listOf(event, members.quantities, "a list").length,
    name: () =>
      typeof eventID === "string"
        ? eventID
        : JSON.stringify([type, action, epochUs, readPoint, [...epcs].sort(byCodePoint)]),
    isDeclaredInError: errorDeclaration !== undefined && errorDeclaration !== null,
  };
}

function epcsOf(event: Record<string, unknown>, { parent: parentName, epcs: name }: EpcMembers): string[] {
  const expected = "a list of URIs";
  const epcs = listOf(event, name, expected).map((epc) => {
    if (typeof epc !== "string") throw new MemberFault(name, epc, expected);
    return epc;
  });
  const parent = parentName === null ? null : (event[parentName] ?? null);
  if (parent === null) return epcs;
  if (typeof parent !== "string") throw new MemberFault(parentName!, parent, "a URI");
  return [parent, ...epcs];
}

/** An empty list where the member is missing. */
function listOf(event: Record<string, unknown>, name: string, expected: string): unknown[] {
  const list = event[name] ?? [];
  if (!Array.isArray(list)) throw new MemberFault(name, list, expected);
  return list;
}

const expectedTime = "a time with its offset, such as 2026-06-18T08:30:00.000+01:00";

/** Null where the event has no such time. */
function timeOf(event: Record<string, unknown>, name: string, times: Times): number | null {
  const written = event[name] ?? null;
  if (written === null) return null;
  const time = typeof written === "string" ? (utcTime(written) ?? times.read(written)) : null;
  if (time === null || !("epochUs" in time)) throw new MemberFault(name, written, expectedTime);
  return time.epochUs;
}

function readPointOf({ readPoint = null }: Record<string, unknown>): string | null {
  if (readPoint === null) return null;
  const id = typeof readPoint === "object" && "id" in readPoint ? readPoint.id : null;
  if (typeof id !== "string") throw new MemberFault("readPoint", readPoint, '{ "id": URI }');
  return id;
}
