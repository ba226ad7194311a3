/** One client facility as its facility.yaml describes it: checked, defaults filled in, every reference resolved. */
export interface Facility {
  /** The folder's name. */
  id: string;
  name: string;
  client: string | null;
  address: string | null;
  /** IANA name, for instance Europe/Dublin; null where the facility states none (then every time needs an offset). */
  timeZone: string | null;
  report: Report | null;
  preparedBy: Party | null;
  witnessedBy: Party[];
  /** Two-sided confidence of every interval, strictly between 0.5 and 1. */
  confidence: number;
  /** The id of its card. */
  interval: string;
  /** Floor of the correlation between presentations of one pass, or of one tag; 0 to below 1. */
  missCorrelation: number;
  /** The smallest change of the read rate between rounds that anybody would act on; strictly between 0 and 1. */
  smallestChangeThatMatters: number;
  /** In the order of the file: earliest first. */
  rounds: Round[];
  /** The id of the round that is judged, unless a read point names its own. */
  signOffRound: string;
  readPoints: ReadPoint[];
  conditions: Condition[];
  criteria: Criterion[];
  concessions: Concession[];
  openPoints: OpenPoint[];
  floorPlan: FloorPlan | null;
  /** Logs that the readers wrote themselves, from which timed passes are made. */
  readerLogs: ReaderLogSpec[];
  /** How far before its start and after its end a timed pass still counts as under way. */
  passWindow: { beforeS: number; afterS: number };
  /** What is to be walked; null where nothing is planned. */
  plan: Plan | null;
}

/** How the next walk is meant to be made, and what the read points are believed to do. */
export interface Plan {
  /** Of the random order that the passes are walked in. */
  seed: number;
  tagsPerPass: number;
  /** The load that every pass carries, by the name of its manifest; null where the plan names none. */
  manifest: string | null;
  /** Whether the same tags go through in every pass. */
  sameTags: boolean;
  /** The share of tags that a well-tuned read point is believed to read; strictly between 0 and 1. */
  expectedRate: number;
  /** Condition columns and the values each is walked at; every combination is walked. */
  each: { column: string; values: string[] }[];
  /** Ids, in the order of facility.yaml. */
  readPoints: string[];
}

export interface Report {
  number: string;
  revision: string;
  /** Issue date, YYYY-MM-DD: data, never the clock. */
  issued: string;
}

export interface Party {
  name: string;
  organisation: string | null;
  role: string | null;
}

export interface Round {
  id: string;
  title: string;
  /** YYYY-MM-DD. */
  date: string | null;
  /** What was changed before this round, in words. */
  changes: string | null;
  /** By read point id: setting and value as they were written. */
  settings: Record<string, Record<string, string>>;
}

export interface ReadPoint {
  id: string;
  name: string;
  kind: string | null;
  /** Percent of the floor plan: x from the left, y from the top, 0 to 100. */
  at: { x: number; y: number } | null;
  equipment: Record<string, string>;
  /** The round its findings are of: its own where it names one, else the facility's. */
  signOffRound: string;
}

/** A column that says how a pass was made, or how a tag sat in it. */
export interface Condition {
  column: string;
  label: string;
  unit: string | null;
  /** Rising edges; null where the column is read as text. */
  bands: number[] | null;
}

export type Sense = "at-least" | "at-most";

/** Which rows a criterion takes: an inclusive range of numbers, or a list of values (or of band names). */
export type WhereClause =
  | { column: string; kind: "range"; from: number | null; to: number | null }
  | { column: string; kind: "values"; values: string[] };

export interface Criterion {
  id: string;
  title: string;
  /** The id of a measure. */
  measure: string;
  /** In the unit of the measure: a rate strictly between 0 and 1, dBm, tags a minute. */
  limit: number;
  sense: Sense;
  /** Ids; every read point where the file names none. */
  readPoints: string[];
  where: WhereClause[];
  /** Columns whose every value must hold on its own. */
  forEach: string[];
  minimumPasses: number;
  /** What measures ask besides, by their own keys; null where the criterion's measure asks no such thing. */
  [parameter: string]: unknown;
}

export interface Concession {
  criterion: string;
  readPoint: string;
  grantedBy: string;
  /** YYYY-MM-DD. */
  on: string | null;
  /** Last day it holds, YYYY-MM-DD; null where no end is stated. */
  until: string | null;
  reason: string | null;
}

export interface OpenPoint {
  id: string;
  readPoint: string | null;
  text: string;
  owner: string | null;
  /** YYYY-MM-DD. */
  due: string | null;
  /** The day it was put right, YYYY-MM-DD; null while it is open. */
  closed: string | null;
}

/** What the read points stand on: outlines drawn behind them, all in percent of the plan. */
export interface FloorPlan {
  /** Width divided by depth of the drawing. */
  widthMetres: number;
  depthMetres: number;
  areas: { name: string; x: number; y: number; width: number; height: number }[];
}

/** One entry of `reader_logs` in facility.yaml: which files, in which dialect, of which read point. */
export interface ReaderLogSpec {
  /** Paths relative to the facility's folder, with `/`; `*` stands for any run of characters inside a name. */
  files: string[];
  /** One read point for the whole file, or a column whose values name it. */
  readPoint:
    | { kind: "fixed"; readPoint: string }
    | { kind: "column"; column: ColumnName; values: Record<string, string> };
  columns: {
    time: ColumnName;
    epc: ColumnName;
    antenna: ColumnName | null;
    rssi: ColumnName | null;
    /** How many reads a row stands for; one where left out. */
    count: ColumnName | null;
  };
  time: {
    unit: "iso" | "s" | "ms" | "us" | "ns";
    /** IANA name, for times that state no offset; null means UTC where the unit is a count, the facility's zone where it is text. */
    zone: string | null;
    /** strftime pattern for odd texts, null for ISO 8601. */
    format: string | null;
  };
  rssiUnit: "dBm" | "cdBm";
  /** Null for a comma (a tab in .tsv). */
  delimiter: string | null;
  decimal: "." | ",";
  header: "yes" | "no" | "commented";
  /** Seconds added to the reader's clock to give the pass sheet's. */
  clockOffsetS: number;
  epcForm: EpcForm;
}

/** A column's name, or its number from 1 where the file has no header. */
type ColumnName = string | number;

/** How a code is written: plain hexadecimal, with the PC word before it, with the CRC behind it too, or base64. */
export type EpcForm = "hex" | "pc-epc" | "pc-epc-crc" | "base64";
