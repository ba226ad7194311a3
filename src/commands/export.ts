import type { Report } from "../model/facility.ts";
import type { JourneyInput } from "../model/journey/journey.ts";
import { toolVersion } from "../site/package/package-folders.ts";
import { type Command, type Exit, ExitStatus, WrongUsage } from "./command.ts";
import { problemLines, refusalAdvice } from "./lines/problem-lines.ts";
import { progressOn, type Source, type Terminal } from "./lines/terminal.ts";

/** Writes the sightings behind a journey in the form of an open standard. */
export const exportSightings: Command = {
  name: "export",
  summary: "writes the sightings behind a journey as an EPCIS document",
  options: ["data"],
  operand: {
    placeholder: "epcis ID",
    kinds: ["epcis"],
    advice:
      "export needs the form and the journey, by the name of its YAML file: proofwalk export epcis crates",
  },
  examples: [
    { words: "export epcis crates > crates.json", purpose: "the sightings behind a journey, as EPCIS 2.0" },
  ],
  exits: { 0: "written, whatever the verdict" },
  run: ({ source, operand }, terminal) => exportJourney(operand, source, terminal),
};

async function exportJourney(id: string, { data }: Source, terminal: Terminal): Promise<Exit> {
  const { listJourneys } = await import("../intake/data-folder.ts");
  const { ids } = await listJourneys(data);
  if (!ids.includes(id)) {
    const known = ids.length === 0 ? "It has none." : `It has ${ids.join(", ")}.`;
    throw new WrongUsage(`There is no journey "${id}" in ${data}/journeys. ${known}`);
  }
  const { readAll } = await import("./data/read-all.ts");
  const progress = progressOn(terminal);
  const problems = [];
  let input: JourneyInput | null = null;
  for await (const read of readAll({ data, only: [id] }, progress)) {
    problems.push(...read.problems);
    if (read.kind === "journey" && read.input?.journey.id === id) input = read.input;
  }
  progress.done();
  if (input === null) {
    terminal.err(problemLines(problems, data));
    terminal.err(refusalAdvice(problems, "Nothing was written"));
    return ExitStatus.refused;
  }
  const { report } = input.journey;
  if (report === null) {
    terminal.err(
      `${id} states no report, and a document is as old as its report: add report.issued to ${data}/journeys/${id}.yaml.\nNothing was written.\n`,
    );
    return ExitStatus.refused;
  }
  for await (const piece of documentOf(input, report)) terminal.out(piece);
  return ExitStatus.fine;
}

async function* documentOf(given: JourneyInput, report: Report): AsyncGenerator<string> {
  const { pseudonymisedJourney } = await import("../analysis/journey/pseudonyms.ts");
  const { toldSightings } = await import("../analysis/journey/told-sightings.ts");
  const { epcisDocument } = await import("../pages/journey/epcis-document.ts");
  const input = given.journey.pseudonyms ? pseudonymisedJourney(given) : given;
  const { journey, facilities, inputs, readPointUris } = input;
  yield* epcisDocument({
    provenance: {
      tool: { name: "proofwalk", version: toolVersion },
      journey,
      report,
      issued: report.issued,
      inputs,
    },
    sightings: toldSightings(input),
    uriOf: (facility, readPoint) =>
      readPointUris.find((one) => one.facility === facility && one.readPoint === readPoint)?.uri ?? null,
    timeZoneOf: (facility) => facilities.find(({ id }) => id === facility)?.timeZone ?? null,
  });
}
