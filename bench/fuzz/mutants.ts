import { gzipSync } from "node:zlib";
import type { Draw } from "./draw.ts";
import type { Files } from "./facilities.ts";

/** One change to a facility's folder. */
export interface Mutant {
  /** What was done, in words. */
  what: string;
  files: Files;
  /** Whether an invalid cell was planted, which has to be refused or remarked on. */
  planted: boolean;
  /** Links to make, by path: where they lead. */
  links: ReadonlyMap<string, string>;
}

type Change = (draw: Draw, files: Files) => Partial<Mutant> & { what: string };

/** Changes to one file. */
function inFile(kind: RegExp, what: string, change: (bytes: Buffer, draw: Draw) => Buffer): Change {
  return (draw, files) => {
    const path = draw.of([...files.keys()].filter((name) => kind.test(name)));
    return { what: `${what} in ${path}`, files: new Map([...files, [path, change(files.get(path)!, draw)]]) };
  };
}

const anyFile = /./;
const table = /^(passes|manifests|reads)\//;
const yaml = /^facility\.yaml$/;

function spliced(bytes: Buffer, { at, removed }: { at: number; removed: number }, added: Buffer): Buffer {
  return Buffer.concat([bytes.subarray(0, at), added, bytes.subarray(at + removed)]);
}

const bytes: Change[] = [
  inFile(anyFile, "a bit flipped", (old, draw) => {
    const at = draw.below(old.length);
    return spliced(old, { at, removed: 1 }, Buffer.from([old[at]! ^ (1 << draw.below(8))]));
  }),
  inFile(anyFile, "random bytes put in", (old, draw) => {
    const added = Buffer.from(Array.from({ length: 1 + draw.below(8) }, () => draw.below(256)));
    return spliced(old, { at: draw.below(old.length), removed: 0 }, added);
  }),
  inFile(anyFile, "bytes removed", (old, draw) =>
    spliced(old, { at: draw.below(old.length), removed: 1 + draw.below(40) }, Buffer.alloc(0)),
  ),
  inFile(anyFile, "a stretch repeated", (old, draw) => {
    const at = draw.below(old.length);
    return spliced(old, { at, removed: 0 }, old.subarray(at, at + 1 + draw.below(300)));
  }),
  inFile(anyFile, "cut off", (old, draw) => old.subarray(0, draw.below(old.length))),
  inFile(anyFile, "a mark put in", (old, draw) =>
    spliced(
      old,
      { at: draw.below(old.length), removed: 0 },
      Buffer.from(draw.of(['"', "'", ",", ";", "\n", "\r", "\t", "\0", "\u001b[31m", "\u202e", "=1+1"])),
    ),
  ),
];

/** Changes to the lines of a table. */
function lines(what: string, change: (rows: string[], draw: Draw) => string[]): Change {
  return inFile(table, what, (old, draw) => Buffer.from(change(old.toString().split("\n"), draw).join("\n")));
}

const markOf = (row: string) => (row.includes(";") ? ";" : ",");
const at = (rows: string[], draw: Draw) => 1 + draw.below(Math.max(1, rows.length - 2));

/** Changes to the cells of one row. */
function cells(what: string, change: (row: string[], draw: Draw) => string[]): Change {
  return lines(what, (rows, draw) => {
    const i = draw.below(Math.max(1, rows.length - 1));
    const mark = markOf(rows[i]!);
    return rows.with(i, change(rows[i]!.split(mark), draw).join(mark));
  });
}

const structure: Change[] = [
  lines("a row removed", (rows, draw) => rows.toSpliced(at(rows, draw), 1)),
  lines("a row repeated", (rows, draw) => {
    const i = at(rows, draw);
    return rows.toSpliced(i, 0, rows[i]!);
  }),
  lines("the header repeated", (rows, draw) => rows.toSpliced(at(rows, draw), 0, rows[0]!)),
  lines("the header removed", (rows) => rows.slice(1)),
  lines("a title above the header", (rows) => ["Walks of the week", ...rows]),
  lines("blank rows", (rows, draw) => rows.toSpliced(at(rows, draw), 0, "", ",,,", "  ")),
  lines("rows in another order", (rows) => [rows[0]!, ...rows.slice(1).reverse()]),
  lines("other separators in one row", (rows, draw) => {
    const i = at(rows, draw);
    return rows.with(i, rows[i]!.replaceAll(",", draw.of([";", "\t", "|"])));
  }),
  lines("a row of many cells", (rows, draw) => {
    const i = at(rows, draw);
    return rows.with(i, rows[i] + ",x".repeat(draw.of([1, 50, 3000, 30_000])));
  }),
  lines("a row of one long cell", (rows, draw) =>
    rows.with(at(rows, draw), "x".repeat(draw.of([2000, 300_000]))),
  ),
  lines("an open quote", (rows, draw) => {
    const i = at(rows, draw);
    return rows.with(i, `"${rows[i]}`);
  }),
  cells("a cell removed", (row, draw) => row.toSpliced(draw.below(row.length), 1)),
  cells("a cell added", (row, draw) => row.toSpliced(draw.below(row.length), 0, "extra")),
  cells("two cells swapped", (row, draw) => {
    const [a, b] = [draw.below(row.length), draw.below(row.length)];
    return row.with(a, row[b]!).with(b, row[a]!);
  }),
  cells("a cell in quotes", (row, draw) => {
    const i = draw.below(row.length);
    return row.with(i, `"${row[i]}"`);
  }),
  cells("an odd cell", (row, draw) =>
    row.with(
      draw.below(row.length),
      draw.of([
        "",
        " ",
        "-",
        "n/a",
        "NaN",
        "1e999",
        "=cmd|x",
        "'; DROP TABLE rows",
        "\u0660",
        "P\uff101",
        "𝟙",
        "../../etc",
        "{{7*7}}",
        "<b>",
      ]),
    ),
  ),
];

/** By column: texts that say nothing there, whatever the facility. */
const invalid: Record<string, readonly string[]> = {
  round: ["nonesuch", "AS-LEFT-2"],
  read_point: ["nowhere"],
  pass: [""],
  started_at: ["yesterday", "2026-13-45 10:00:00", "45000.5"],
  ended_at: ["noon", "2026-02-30 10:00:00"],
  speed_m_s: ["fast", "99", "1 m/s"],
  presented: ["perhaps", ""],
  read: ["perhaps", "", "2"],
  tag: ["3.08E+23", "3,08E+23"],
  rssi_dbm: ["strong", "-500", "12"],
  reads: ["1.5", "-1", "many"],
  tags_presented: ["", "-1", "1.5", "ten"],
  tags_read: ["999999", "", "x"],
  stray_tags: ["?"],
  missed_tags: ["NOSUCHTAG", "?", "3", "A,B"],
  manifest: ["nonesuch", ""],
  void_reason: ["no", "0"],
  FirstSeenTimestampUTC: ["soon", "", "-5"],
  EPC: ["XYZ!", ""],
  PeakRSSI: ["strong", "999"],
  TagSeenCount: ["many", "1.5", "-3"],
};

const planted: Change = (draw, files) => {
  const places = [...files].flatMap(([path, text]) => {
    if (!table.test(path)) return [];
    const header = text.toString("utf8", 0, text.indexOf("\n"));
    const names = header.trim().split(markOf(header));
    return names.flatMap((name, field) => (Object.hasOwn(invalid, name) ? [{ path, name, field }] : []));
  });
  const { path, name, field } = draw.of(places);
  const rows = files.get(path)!.toString().split("\n");
  const i = at(rows, draw);
  const mark = markOf(rows[0]!);
  const row = rows[i]!.split(mark);
  const value = draw.of(invalid[name]!);
  // Where a tag was not read, no level and no count is asked for; a level there is wrong all the same.
  const isUnread = ["rssi_dbm", "reads"].includes(name) && !row.includes("yes");
  const cell = isUnread ? "-60" : value;
  const text = cell.includes(mark) ? `"${cell}"` : cell;
  const changed = rows.with(i, row.with(field, text).join(mark)).join("\n");
  return {
    what: `${name} = ${JSON.stringify(cell)} in ${path}:${i + 1}`,
    files: new Map([...files, [path, Buffer.from(changed)]]),
    planted: true,
  };
};

function yamlLines(what: string, change: (rows: string[], i: number, draw: Draw) => string[]): Change {
  return inFile(yaml, what, (old, draw) => {
    const rows = old.toString().split("\n");
    return Buffer.from(change(rows, draw.below(rows.length), draw).join("\n"));
  });
}

const oddValues = [
  "",
  "null",
  "[]",
  "{}",
  "-1",
  "1e400",
  "yes",
  "99 %",
  "a: b",
  "*x",
  "&x [*x]",
  "!!binary x",
  "0x1F",
  "'",
  '"',
  "[[[[",
  "2026-02-31",
  "__proto__",
  "\u0007",
  "x".repeat(5000),
];

const yamlChanges: Change[] = [
  yamlLines("a line removed", (rows, i) => rows.toSpliced(i, 1)),
  yamlLines("a line repeated", (rows, i) => rows.toSpliced(i, 0, rows[i]!)),
  yamlLines("two lines swapped", (rows, i, draw) => {
    const other = draw.below(rows.length);
    return rows.with(i, rows[other]!).with(other, rows[i]!);
  }),
  yamlLines("a line indented", (rows, i, draw) => rows.with(i, draw.of([" ", "  ", "\t"]) + rows[i])),
  yamlLines("a line moved left", (rows, i) => rows.with(i, rows[i]!.replace(/^ {1,2}/, ""))),
  yamlLines("an odd value", (rows, i, draw) =>
    rows.with(
      i,
      rows[i]!.replace(/:.*$/s, () => `: ${draw.of(oddValues)}`),
    ),
  ),
  yamlLines("an odd value in braces", (rows, i, draw) =>
    rows.with(
      i,
      rows[i]!.replace(/(:\s*)[^,:{}]+(?=[,}])/, (_, colon: string) => colon + draw.of(oddValues)),
    ),
  ),
  yamlLines("a key misspelt", (rows, i, draw) =>
    rows.with(
      i,
      rows[i]!.replace(
        /([a-z_])([a-z_]+):/,
        (_, a: string, b: string) => `${draw.of([b + a, a + a + b, b])}:`,
      ),
    ),
  ),
  yamlLines("deep nesting", (rows, i, draw) => rows.with(i, `deep: ${"[".repeat(draw.of([30, 20_000]))}`)),
];

function allOf(what: string, kind: RegExp, change: (old: Buffer) => Buffer): Change {
  return inFile(kind, what, change);
}

const encodings: Change[] = [
  allOf("UTF-16", anyFile, (old) => Buffer.from(`\ufeff${old.toString()}`, "utf16le")),
  allOf("a byte order mark", anyFile, (old) => Buffer.concat([Buffer.from("\ufeff"), old])),
  allOf("Latin 1", anyFile, (old) => Buffer.from(old.toString().replace(/[aeiou]/, "é"), "latin1")),
  allOf("line ends of Windows", anyFile, (old) => Buffer.from(old.toString().replaceAll("\n", "\r\n"))),
  allOf("line ends of old machines", table, (old) => Buffer.from(old.toString().replaceAll("\n", "\r"))),
  allOf("NUL bytes", anyFile, (old) => Buffer.from(old.toString().replace("\n", "\n\0"))),
  allOf("packed", anyFile, (old) => gzipSync(old)),
  allOf("nothing", anyFile, () => Buffer.alloc(0)),
];

const oddNames = [
  "a b.csv",
  "a\u001b[31m.csv",
  "a\nb.csv",
  "[x]*.csv",
  "CON.csv",
  ".hidden.csv",
  "é.csv",
  `${"n".repeat(200)}.csv`,
  "x.CSV",
  "x.txt",
  "x.xlsx",
  "x.csv.gz",
];

const folder: Change[] = [
  (draw, files) => {
    const path = draw.of([...files.keys()]);
    return { what: `${path} removed`, files: new Map([...files].filter(([name]) => name !== path)) };
  },
  (draw, files) => {
    const path = draw.of([...files.keys()].filter((name) => table.test(name)));
    const name = `${path.split("/")[0]}/${draw.of(oddNames)}`;
    const others = [...files].filter(([each]) => each !== path);
    return {
      what: `${path} renamed ${JSON.stringify(name)}`,
      files: new Map([...others, [name, files.get(path)!]]),
    };
  },
  (draw, files) => {
    const path = draw.of([...files.keys()].filter((name) => table.test(name)));
    const name = path.replace(/(\.\w+)+$/, " (1)$&");
    return { what: `${path} copied to ${name}`, files: new Map([...files, [name, files.get(path)!]]) };
  },
  (draw, files) => {
    const path = draw.of([...files.keys()]);
    const others = [...files].filter(([name]) => name !== path);
    return {
      what: `a folder in the place of ${path}`,
      files: new Map([...others, [`${path}/x.csv`, Buffer.from("x\n")]]),
    };
  },
  (draw, files) => {
    const [from, to] = [
      draw.of([...files.keys()].filter((name) => table.test(name))),
      draw.of(["passes", "manifests", "reads", "."]),
    ];
    return {
      what: `${from} put into ${to}`,
      files: new Map([...files, [`${to}/moved.csv`, files.get(from)!]]),
    };
  },
  (draw) => {
    const path = draw.of(["passes/link.csv", "manifests/link.csv", "reads/link.csv", "passes/again"]);
    const to = draw.of(["/etc/hostname", "nowhere", ".", "..", "../facility.yaml"]);
    return { what: `${path}, a link to ${to}`, links: new Map([[path, to]]) };
  },
];

export const classes: Record<string, readonly Change[]> = {
  bytes,
  structure,
  cells: [planted],
  yaml: yamlChanges,
  encoding: encodings,
  folder,
};

/** One change of a kind that the draw picks. */
export function mutantOf(draw: Draw, files: Files): Mutant & { kind: string } {
  const kind = draw.of(Object.keys(classes));
  const change = draw.of(classes[kind]!);
  return { files, planted: false, links: new Map(), ...change(draw, files), kind };
}
