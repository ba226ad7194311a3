import type { Party, Report } from "../model/facility.ts";
import { journeyFile } from "../model/journey/journey-files.ts";
import type { JourneyResult } from "../model/journey/journey-result.ts";
import type { InputFile } from "../model/record/input-file.ts";
import type { Result } from "../model/result/result.ts";
import { facilityTables } from "../pages/facility-pages.ts";
import { journeyTables } from "../pages/journey/journey-pages.ts";
import { holdNames, journeyInputs } from "../pages/parts/archive.ts";
import type { CsvTable } from "../pages/parts/csv.ts";
import { inDataFolder } from "../site/copy-inputs.ts";
import { type SiteOptions, writeSite } from "../site/write-site.ts";

/** What a seal is of: a facility, or a journey over several. */
export interface Evidence {
  id: string;
  name: string;
  /** `the acceptance tests of the wash plant`. */
  subject: string;
  client: string | null;
  report: Report | null;
  /** The file that states the report. */
  statedIn: string;
  preparedBy: Party | null;
  toolVersion: string;
  result: Result | JourneyResult;
  /** The files that the verdict used, by where they lie. */
  inputs: { from: string; files: InputFile[] }[];
  /** Whether those name people that the pages do not. */
  holdsNames: boolean;
  tables(): CsvTable[];
  writeSite(to: string, options: Pick<SiteOptions, "inputs">): Promise<unknown>;
}

export function isJourney(result: Result | JourneyResult): result is JourneyResult {
  return !("facility" in result);
}

/** @param data the data folder */
export function facilityEvidence(result: Result, data: string): Evidence {
  const { facility, report, preparedBy, tool } = result;
  const { id, name, client } = facility;
  const inputsOf = inDataFolder(data);
  const { own, journeys } = inputsOf(id);
  return {
    id,
    name,
    subject: `the acceptance tests of ${name}`,
    client,
    report,
    statedIn: `facility.yaml of ${id}`,
    preparedBy,
    toolVersion: tool.version,
    result,
    inputs: [
      { from: own, files: result.inputs },
      { from: journeys, files: journeyInputs(result) },
    ],
    holdsNames: holdNames(result),
    tables: () => facilityTables(result),
    writeSite: (to, options) => writeSite([result], to, { ...options, inputsOf, isSealed: true }),
  };
}

/** A journey is sealed with what its facilities were judged on: it stands beside what their own walks promise. */
export function journeyEvidence(result: JourneyResult, data: string): Evidence {
  const { id, title, client, report, preparedBy, tool, facilities } = result;
  const files = new Map<string, InputFile>();
  for (const file of [...result.inputs, ...facilities.flatMap(({ inputs }) => inputs)])
    files.set(file.path, file);
  return {
    id,
    name: title,
    subject: `the acceptance of the journey "${title}"`,
    client,
    report,
    statedIn: journeyFile(id),
    preparedBy,
    toolVersion: tool.version,
    result,
    inputs: [{ from: data, files: [...files.values()] }],
    holdsNames: result.pseudonyms !== undefined || facilities.some(({ pseudonyms }) => pseudonyms),
    tables: () => journeyTables(result),
    writeSite: (to, options) =>
      writeSite([], to, {
        ...options,
        isSealed: true,
        journeys: { legs: [], results: () => [result], inputsFrom: data },
      }),
  };
}
