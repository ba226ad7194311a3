import { counted } from "../../model/number-words.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import type { Result } from "../../model/result/result.ts";

/** Which input files a site holds: all, all but the logs of readers and the pictures that fill disks, or none. */
export const inputChoices = ["all", "small", "none"] as const;
export type InputChoice = (typeof inputChoices)[number];

/** What all inputs of a facility may come to before the readers' logs are left out. */
const smallBytes = 50e6;

/** The same, or all of them in the folder `inputs` beside the site, as in a seal. */
export type InputsKept = InputChoice | "beside";

/** How a site keeps the evidence of a facility. */
export interface Archive {
  /** SHA-256 of the archived result; empty where it is not known. */
  mark: string;
  inputs: InputsKept;
  /** Whether the site is part of a seal, which says how all of it is checked. */
  isSealed?: boolean;
  /** The legs of journeys in the same site; left out where there are none. */
  journeys?: readonly JourneyLeg[];
}

/** A read point as the leg of a journey in the same site. */
export interface JourneyLeg {
  /** The journey's id. */
  journey: string;
  title: string;
  leg: string;
  facility: string;
  readPoint: string;
}

/** What is not known of a site that is not written. */
export const noArchive: Archive = { mark: "", inputs: "none" };

/** What was asked for; where nothing was, the files that name people stay out of a site that does not. */
export function inputChoice(
  result: Pick<Result, "pseudonyms" | "journeys">,
  asked: InputChoice | null,
): InputChoice {
  return asked ?? (holdNames(result) ? "none" : "small");
}

/** Whether the files that a result was made from name people that its pages do not. */
export function holdNames({ pseudonyms, journeys = [] }: Pick<Result, "pseudonyms" | "journeys">): boolean {
  return pseudonyms !== undefined || journeys.some((journey) => journey.pseudonyms);
}

/** The files of journeys that a facility's result was made with, each once; relative to the data folder. */
export function journeyInputs({ journeys = [] }: Pick<Result, "journeys">): InputFile[] {
  return journeys.flatMap(({ inputs }) => inputs);
}

/** The input files that the site holds, or that lie beside it, in their order. */
export function keptInputs({ inputs }: Pick<Result, "inputs">, choice: InputsKept): InputFile[] {
  if (choice === "none") return [];
  if (choice === "beside") return inputs;
  const isSmall = inputs.reduce((sum, { bytes }) => sum + bytes, 0) <= smallBytes;
  return choice === "all" || isSmall ? inputs : inputs.filter((input) => !isLarge(input));
}

/** Logs of readers and pictures fill disks; of pictures the site has copies. */
function isLarge({ reader, picture }: InputFile): boolean {
  return reader !== undefined || picture !== undefined;
}

/** The others. */
export function inputsLeftOut(result: Pick<Result, "inputs">, choice: InputsKept): InputFile[] {
  const kept = new Set(keptInputs(result, choice));
  return result.inputs.filter((input) => !kept.has(input));
}

/** Enough of a SHA-256 to be compared by eye: 32 digits in groups of four. */
export function markText(sha256: string): string {
  return sha256.slice(0, 32).replace(/(.{4})(?=.)/g, "$1 ");
}

/** Style sheets cannot read a page, so each facility and each journey has one with its mark: it costs no line of any page. */
export function markStyle(mark: string): string {
  if (mark === "") return "";
  return `@page {
  @bottom-left {
    content: "Evidence mark ${markText(mark)}";
    font:
      9pt "Source Sans 3",
      Arial,
      sans-serif;
    color: #56616f;
    white-space: nowrap;
  }
}
`;
}

/** Who knows the names that were replaced; empty where none was. */
export function pseudonymSentence({ pseudonyms }: Pick<Result, "pseudonyms">): string {
  if (pseudonyms === undefined) return "";
  const holder = pseudonyms.listHeldBy ?? "Whoever keeps facility.yaml and the logs";
  return `Initials stand for the names of people and numbers for their badges: ${holder} holds the list, in facility.yaml and the logs.`;
}

/** How many files left out the sheet names; all of them are on the inputs page. */
const mostNamed = 2;

/** What the site lacks of the evidence, with the hashes of the files; empty where it lacks nothing. */
export function leftOutSentence(result: Pick<Result, "inputs">, choice: InputsKept): string {
  const missing = inputsLeftOut(result, choice);
  if (missing.length === 0) return "";
  const hasNone = missing.length === result.inputs.length;
  if (hasNone)
    return "The input files are not in this site: keep them elsewhere. result.json has the SHA-256 of each.";
  const named = missing.slice(0, mostNamed).map(({ path, sha256 }) => `${path} (${markText(sha256)})`);
  const more = missing.length - named.length;
  const rest =
    more === 0 ? "" : `, and ${counted(more, "more", "more")}; result.json has the SHA-256 of each`;
  return `Not in this site, and to be kept elsewhere: ${named.join(", ")}${rest}.`;
}
