import { z } from "zod";
import { radioSettingsSchema } from "./radio/radio-settings.ts";
import type { Attachment } from "./record/picture.ts";
import type { ClockComparison, Correction, StatedRevision } from "./record/record.ts";

/** What a facility and a journey over facilities have in common: who signs the report, and how it is judged. */
export interface Judged {
  client: string | null;
  report: Report | null;
  preparedBy: Party | null;
  witnessedBy: Party[];
  /** Whether initials and numbers stand for the names of people, and numbers for badges or carriers, in all that is made of the inputs. */
  pseudonyms: boolean;
  /** Two-sided confidence of every interval, strictly between 0.5 and 1. */
  confidence: number;
  /** The id of its card. */
  interval: string;
  /** Floor of the correlation between presentations of one pass or run, or of one tag; 0 to below 1. */
  missCorrelation: number;
  /** The smallest change of a rate between rounds that anybody would act on; strictly between 0 and 1. */
  smallestChangeThatMatters: number;
  /** In the order of the file: earliest first. */
  rounds: Round[];
  /** The id of the round that is judged, unless a read point names its own. */
  signOffRound: string;
}

/** One client facility as its facility.yaml describes it: checked, defaults filled in, every reference resolved. */
export interface Facility extends Judged {
  /** The folder's name. */
  id: string;
  name: string;
  address: string | null;
  /** IANA name, for instance Europe/Dublin; null where the facility states none (then every time needs an offset). */
  timeZone: string | null;
  /** When the read points are to be tested again. */
  retest: Retest | null;
  /** The ids of the read points that the sheet is for, in the order of the read points; null where it is for all. */
  signOff: string[] | null;
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
  /** In dates of pass logs that do not begin with the year; null where the facility leaves it to the dates. */
  dateOrder: DateOrder | null;
  /** Whether a pass may stand in a log kept by hand and in a timed one: the reader's log judges, the other is compared with it. */
  compareWithReader: boolean;
  /** The sheets to read of each workbook, by its path; its first sheet where it is not named. */
  sheets: Record<string, string[]>;
  /** The column of manifests or logs that names the models of tags on trial; null where none are compared. */
  compareTags: string | null;
  /** What is to be walked; null where nothing is planned. */
  plan: Plan | null;
  /** In the order of the file: earliest first. */
  revisions: StatedRevision[];
  corrections: Correction[];
  /** Photographs and drawings; those that facility.yaml does not list come last, without a caption. */
  attachments: Attachment[];
}

/** Which of two numbers before the year is the day. */
export type DateOrder = "day-first" | "month-first";

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

/** One entry of `reader_logs` in facility.yaml: which files, in which dialect, of which read point. */
export interface ReaderLogSpec {
  /** Paths relative to the facility's folder, with `/`; `*` stands for any run of characters inside a name. */
  files: string[];
  /** One read point for the whole file, or a column whose values name it. */
  readPoint:
    | { kind: "fixed"; readPoint: string }
    | { kind: "column"; column: ColumnName; values: Record<string, string> };
  columns: {
    /** When the tag was read; only the time of day where `date` names a column. */
    time: ColumnName;
    /** The day, where it stands in a column of its own. */
    date: ColumnName | null;
    /** When a row's tag was read for the last time; `time` is then the first time. Null where the log has no such column, or the entry says none. */
    lastTime: ColumnName | null;
    /** The first that is filled holds the code. */
    epc: ColumnName[];
    antenna: ColumnName | null;
    rssi: ColumnName | null;
    /** How many reads a row stands for; one where left out. */
    count: ColumnName | null;
  };
  /** Where a file or a line holds lists of reads, the keys that lead to a list from the outside; null where each is one read or a list of them. */
  rows: string[] | null;
  /** What a row has to hold to be a read, all of it; others are other events. */
  only: { column: ColumnName; values: string[] }[];
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
  /** Who compared the reader's clock with the pass sheet's, when and how. */
  clockComparisons: ClockComparison[];
  /** Whether the entry says that the log has no last time, whatever its columns are called. */
  noLastTime: boolean;
  epcForm: EpcForm;
  /** Whether somebody made sure of the codes: that none of the manifests' was read is then a finding. */
  codesChecked: boolean;
}

/** A column's name, or its number from 1 where the file has no header. */
export type ColumnName = string | number;

/**
 * How a code is written: plain hexadecimal, with the PC word before it, with the CRC behind it too, base64, the characters of a code in
 * hexadecimal, a decimal number, or hexadecimal with the last byte first.
 */
export const epcForms = [
  "hex",
  "pc-epc",
  "pc-epc-crc",
  "base64",
  "ascii-hex",
  "decimal",
  "hex-reversed",
] as const;
export type EpcForm = (typeof epcForms)[number];

/*
 * What the result quotes of facility.yaml, as zod schemas: the types are made of them, and so is the schema of result.json.
 */

const day = z.string().nullable();

export const reportSchema = z.object({
  number: z.string(),
  revision: z.string(),
  issued: z.string().describe("Issue date, YYYY-MM-DD: stated, never the clock."),
});
export type Report = z.infer<typeof reportSchema>;

/** A report as people name it: `BCH-014, revision B`. */
export function reportName({ number, revision }: Pick<Report, "number" | "revision">): string {
  return `${number}, revision ${revision}`;
}

export const partySchema = z.object({
  name: z.string(),
  organisation: z.string().nullable(),
  role: z.string().nullable(),
});
export type Party = z.infer<typeof partySchema>;

export const retestSchema = z.object({ on: z.string().describe("YYYY-MM-DD."), why: z.string().nullable() });
type Retest = z.infer<typeof retestSchema>;

export const roundSchema = z.object({
  id: z.string(),
  title: z.string(),
  date: day.describe("YYYY-MM-DD."),
  changes: z.string().nullable().describe("What was changed before this round, in words."),
  settings: z
    .record(z.string(), z.record(z.string(), z.string()))
    .describe("By read point: setting and value as they were written."),
  radio: z
    .record(z.string(), radioSettingsSchema)
    .exactOptional()
    .describe("By read point; only where facility.yaml states it."),
});
export type Round = z.infer<typeof roundSchema>;

export const conditionSchema = z
  .object({
    column: z.string(),
    label: z.string(),
    unit: z.string().nullable(),
    bands: z.array(z.number()).nullable().describe("Rising edges; null where the column is read as text."),
  })
  .describe("A column that says how a pass was made, or how a tag sat in it.");
export type Condition = z.infer<typeof conditionSchema>;

const whereClauseSchema = z
  .discriminatedUnion("kind", [
    z.object({
      column: z.string(),
      kind: z.literal("range"),
      from: z.number().nullable(),
      to: z.number().nullable(),
    }),
    z.object({ column: z.string(), kind: z.literal("values"), values: z.array(z.string()) }),
  ])
  .describe(
    "Which rows a criterion takes: an inclusive range of numbers, or a list of values or names of bands.",
  );
export type WhereClause = z.infer<typeof whereClauseSchema>;

export const senseSchema = z.enum(["at-least", "at-most"]);
export type Sense = z.infer<typeof senseSchema>;

export const criterionSchema = z
  .looseObject({
    id: z.string(),
    title: z.string(),
    measure: z.string().describe("The id of a measure."),
    limit: z
      .number()
      .describe("In the unit of the measure: a rate strictly between 0 and 1, dBm, tags a minute."),
    sense: senseSchema,
    readPoints: z.array(z.string()).describe("Ids; every read point where the file names none."),
    where: z.array(whereClauseSchema),
    forEach: z.array(z.string()).describe("Columns whose every value must hold on its own."),
    minimumPasses: z.number().int(),
  })
  .describe(
    "What is asked. Measures add keys of their own; null where a criterion's measure asks no such thing.",
  );
export type Criterion = z.infer<typeof criterionSchema>;

export const concessionSchema = z.object({
  criterion: z.string(),
  readPoint: z.string(),
  grantedBy: z.string(),
  on: day.describe("YYYY-MM-DD."),
  until: day.describe("Last day it holds, YYYY-MM-DD; null where no end is stated."),
  reason: z.string().nullable(),
});
export type Concession = z.infer<typeof concessionSchema>;

export const openPointSchema = z.object({
  id: z.string(),
  readPoint: z.string().nullable(),
  text: z.string(),
  owner: z.string().nullable(),
  due: day.describe("YYYY-MM-DD."),
  closed: day.describe("The day it was put right, YYYY-MM-DD; null while it is open."),
});
export type OpenPoint = z.infer<typeof openPointSchema>;

export const floorPlanSchema = z
  .object({
    widthMetres: z.number(),
    depthMetres: z.number(),
    image: z
      .string()
      .exactOptional()
      .describe("A picture of the ground, relative to the facility's folder; its shape gives the depth."),
    areas: z.array(
      z.object({
        name: z.string(),
        x: z.number(),
        y: z.number(),
        width: z.number(),
        height: z.number(),
      }),
    ),
  })
  .describe("What the read points stand on: outlines drawn behind them, all in percent of the plan.");
export type FloorPlan = z.infer<typeof floorPlanSchema>;
