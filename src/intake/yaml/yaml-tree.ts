import {
  type Alias,
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  type LineCounter,
  type Node,
  type Scalar,
} from "yaml";

export type Path = readonly (string | number)[];

export interface Place {
  line: number;
  column: number;
}

interface Spot {
  value: Place;
  key: Place;
  /** How a scalar was typed; null for lists and maps. */
  source: string | null;
  /** Whether the scalar is plain, without quotes. */
  plain: boolean;
  blank: boolean;
}

/** A YAML document as plain values, with the place in the file that each of them comes from. */
export interface YamlTree {
  value: unknown;
  /** The place of a value; of the nearest one above it where it is missing. */
  valueAt(path: Path): Place;
  /** The place of the key that leads to a value. */
  keyAt(path: Path): Place;
  /** How a scalar was typed; null where it is missing, a list or a map. */
  sourceAt(path: Path): string | null;
  isPlain(path: Path): boolean;
  /** Whether the key is there with nothing behind it. */
  isBlank(path: Path): boolean;
}

/** What could not be walked; the message says what to do. */
export class YamlRefusal extends Error {
  readonly place: Place;
  readonly found: string;
  constructor(place: Place, found: string, advice: string) {
    super(advice);
    this.place = place;
    this.found = found;
  }
}

/** Far more than a facility needs; a document that grows beyond it through aliases is a trap or a mistake. */
const writeOut = "Write the values out where they stand, without aliases.";
const mostNodes = 200_000;
const deepest = 20;

/**
 * Walks a document.
 *
 * @param isText whether the scalars at a path are wanted as they were typed (a serial number 0012345 stays so)
 */
export function yamlTree(document: Document, lines: LineCounter, isText: (path: Path) => boolean): YamlTree {
  const spots = new Map<string, Spot>();
  let nodes = 0;

  const placeOf = (offset: number): Place => {
    const { line, col } = lines.linePos(offset);
    return { line: Math.max(line, 1), column: Math.max(col, 1) };
  };

  // Looking for an anchor walks the whole document: once for each alias, not once for each time it is passed.
  const targets = new Map<Alias, Node | null>();
  const targetOf = (alias: Alias): Node | null => {
    const known = targets.get(alias);
    if (known !== undefined) return known;
    const target = (alias.resolve(document) ?? null) as Node | null;
    targets.set(alias, target);
    return target;
  };

  const walk = (given: unknown, path: Path, key: Place): unknown => {
    let node = given as Node | null;
    const here = node?.range ? placeOf(node.range[0]) : key;
    nodes += 1;
    if (nodes > mostNodes || path.length > deepest) {
      throw new YamlRefusal(here, "more nested or repeated entries than a facility can have", writeOut);
    }
    if (isAlias(node)) {
      const name = node.source;
      node = targetOf(node);
      if (node === null) throw new YamlRefusal(here, `*${name}`, writeOut);
    }
    const spot: Spot = { value: here, key, source: null, plain: false, blank: false };
    spots.set(keyOf(path), spot);
    if (isMap(node)) {
      const entries: [string, unknown][] = [];
      for (const pair of node.items) {
        const name = pair.key as Scalar | null;
        const keyPlace = name?.range ? placeOf(name.range[0]) : here;
        if (!isScalar(name))
          throw new YamlRefusal(keyPlace, "a key that is a list or a map", "Make the key a text.");
        const word = typeof name.value === "string" ? name.value : (name.source ?? "");
        // The one name that plain values of this language cannot carry.
        if (word === "__proto__")
          throw new YamlRefusal(keyPlace, "the key __proto__", "Give the key another name.");
        entries.push([word, walk(pair.value, [...path, word], keyPlace)]);
      }
      return Object.fromEntries(entries);
    }
    if (isSeq(node)) return node.items.map((item, i) => walk(item, [...path, i], here));
    if (!isScalar(node) || node.value === null) {
      spot.blank = true;
      return null;
    }
    spot.plain = node.type === "PLAIN";
    spot.source = node.source ?? String(node.value);
    if (spot.plain && isText(path)) return spot.source;
    return node.value;
  };

  const value = walk(document.contents, [], { line: 1, column: 1 });
  const nearestSpot = (path: Path): Spot => {
    for (let length = path.length; length > 0; length -= 1) {
      const spot = spots.get(keyOf(path.slice(0, length)));
      if (spot !== undefined) return spot;
    }
    return spots.get(keyOf([]))!;
  };
  return {
    value,
    // A blank value has no place of its own worth pointing at.
    valueAt: (path) => {
      const spot = nearestSpot(path);
      return spot.blank ? spot.key : spot.value;
    },
    keyAt: (path) => (spots.has(keyOf(path)) ? spots.get(keyOf(path))!.key : nearestSpot(path).value),
    sourceAt: (path) => spots.get(keyOf(path))?.source ?? null,
    isPlain: (path) => spots.get(keyOf(path))?.plain ?? false,
    isBlank: (path) => spots.get(keyOf(path))?.blank ?? false,
  };
}

function keyOf(path: Path): string {
  return JSON.stringify(path);
}
