import { counted, countText } from "../../model/number-words.ts";
import { problem } from "./card/problem.ts";
import { didYouMean, listing, quoted } from "./card/wording.ts";

/* Journeys: their YAML, their runs and their sightings. */

export const journeyBlank = problem(
  {
    code: "journey-blank",
    severity: "error",
    means: "The YAML of a journey says nothing, or is not a set of keys.",
    advice: "Start with title and legs.",
  },
  {
    with: ({ isNothing }: { isNothing: boolean }) => ({
      found: isNothing ? "an empty file" : "something other than keys with values",
      expected: "keys such as title, legs and criteria",
    }),
  },
);

export const journeyNameTaken = problem(
  {
    code: "journey-name-taken",
    severity: "error",
    means: "A journey has the name of a facility, so that --only could not tell them apart.",
    advice: "Rename the journey's YAML and its folder.",
  },
  {
    with: ({ id }: { id: string }) => ({
      found: `a journey and a facility ${quoted(id)}`,
      expected: "a name of its own",
    }),
  },
);

export const journeyFileNotRead = problem(
  {
    code: "journey-file-not-read",
    severity: "warning",
    means: "A file or folder of the journeys lies where nothing is read.",
    advice:
      "Move it to where it belongs: ID.yaml in journeys/, runs.csv, sightings.csv and EPCIS documents in journeys/ID/.",
  },
  {
    inJourneys: ({ name }: { name: string }) => ({
      found: `${quoted(name)} in journeys/`,
      expected: "a YAML file for each journey, and a folder of the same name",
    }),
    misspelt: ({ name, id }: { name: string; id: string }) => ({
      found: `${quoted(name)} in journeys/`,
      expected: `the ending .yaml: ${quoted(`${id}.yaml`)}`,
      advice: "Rename the file. Until then its journey is not judged.",
    }),
    withoutYaml: ({ name }: { name: string }) => ({
      found: `the folder ${quoted(name)} in journeys/ without ${quoted(`${name}.yaml`)} beside it`,
      expected: "a YAML file of the same name, which says what the legs are",
      advice:
        "Write it, or name the folder as the YAML file that it belongs to. Until then its journey is not judged.",
    }),
    inFolder: ({ name }: { name: string }) => ({
      found: quoted(name),
      expected: "runs.csv, sightings.csv, and EPCIS documents (.json, .jsonld, also with .gz)",
    }),
  },
);

export const journeyLeftOut = problem(
  {
    code: "journey-left-out",
    severity: "warning",
    means: "A journey was not judged, since --only leaves one of its facilities out.",
    advice:
      "It is not judged this time. To judge it, name its other facilities with --only as well, or the journey itself.",
  },
  {
    with: ({ missing }: { missing: readonly string[] }) => ({
      found: `legs in ${listing(missing)}, which --only leaves out`,
      expected: "every facility of the journey",
    }),
  },
);

export const journeyFacilityUnknown = problem(
  {
    code: "journey-facility-unknown",
    severity: "error",
    means: "A journey names a facility that is not in the data folder.",
    advice: "The id of a facility is the name of its folder.",
  },
  {
    with: ({ id, known }: { id: string; known: readonly string[] }) => ({
      expected: `a facility of the data folder: ${listing(known)}`,
      advice: `${didYouMean(id, known)}The id of a facility is the name of its folder.`,
    }),
  },
);

export const journeyReadPointUnknown = problem(
  {
    code: "journey-read-point-unknown",
    severity: "error",
    means: "A journey names a read point that its facility does not have.",
    advice: "Correct the id, or add the read point to the facility's facility.yaml.",
  },
  {
    with: ({ id, facility, known }: { id: string; facility: string; known: readonly string[] }) => ({
      expected: `a read point of ${facility}: ${listing(known)}`,
      advice: `${didYouMean(id, known)}Correct the id, or add the read point to ${facility}/facility.yaml.`,
    }),
  },
);

export const journeyLegsAlike = problem(
  {
    code: "journey-legs-alike",
    severity: "error",
    means: "Two legs in a row have the same read point.",
    advice: "Leave one of the two out: nobody could tell a sighting on the one from a sighting on the other.",
  },
  {
    with: ({ before }: { before: string }) => ({
      expected: `another read point than that of leg ${quoted(before)}`,
    }),
  },
);

export const journeyLegsOptional = problem({
  code: "journey-legs-optional",
  severity: "error",
  means: "Every leg of a journey is optional, so that no item could be lost.",
  found: "no leg without optional: true",
  expected: "at least one leg on which every item is to be seen",
  advice: "Remove optional: true where every item must come by.",
});

export const journeyCarrierMissing = problem({
  code: "journey-carrier-missing",
  severity: "error",
  means: "A criterion asks for the carrier, and the journey names none.",
  expected: "carrier: { column, at, within_s } in the journey",
  advice:
    "Say which column of runs.csv holds the carrier's tag, on which legs it is to be heard, and how near in time.",
});

export const journeyLegsUnused = problem(
  {
    code: "journey-legs-unused",
    severity: "error",
    means: "A criterion of a journey names legs, and does not hold for each leg.",
    advice: "Add for_each: [leg], or remove legs.",
  },
  { with: () => ({ expected: "legs only with for_each: [leg], or with a measure that counts each leg" }) },
);

export const journeyForEach = problem({
  code: "journey-for-each",
  severity: "error",
  means: "for_each in a journey names something other than leg.",
  expected: "leg",
  advice: "A journey has no conditions: write for_each: [leg], or leave it out.",
});

export const runsMissing = problem({
  code: "journey-runs-missing",
  severity: "warning",
  means: "A journey has no runs.csv.",
  found: "no runs.csv",
  expected: "runs.csv in the journey's folder, with what was sent and when",
  advice:
    "Until it is there, everything is untested. Its columns are round, run, tag, carrier, started_at, ended_at, void_reason, note.",
});

export const runBlank = problem(
  {
    code: "run-cell-blank",
    severity: "error",
    means: "A row of runs.csv or sightings.csv lacks something that it needs.",
    advice: "Fill the cell, or remove the row.",
  },
  { with: ({ column }: { column: string }) => ({ expected: `a value in ${column}` }) },
);

export const runReversed = problem(
  {
    code: "run-ends-before-start",
    severity: "error",
    means: "A run ends before it starts.",
    advice: "Correct one of the two. Check the offsets: the clocks of two places may differ by hours.",
  },
  { with: ({ startedAt }: { startedAt: string }) => ({ expected: `a time after its start, ${startedAt}` }) },
);

export const runItemTwice = problem(
  {
    code: "run-item-twice",
    severity: "error",
    means: "The same item is sent twice on one run.",
    advice: "Give the second time a run of its own, or remove the row.",
  },
  { with: ({ run }: { run: string }) => ({ expected: `each item once on run ${quoted(run)}` }) },
);

export const runVoidInPart = problem(
  {
    code: "run-void-in-part",
    severity: "warning",
    means: "Some rows of a run have a void_reason and others have none.",
    advice:
      "Only the rows with a reason are left out. Fill it in all rows of the run if the whole run does not count.",
  },
  {
    with: ({ run, voids, rows }: { run: string; voids: number; rows: number }) => ({
      found: `${countText(voids)} of ${counted(rows, "row", "rows")} of run ${quoted(run)} void`,
      expected: "all rows of a run void, or none",
    }),
  },
);

export const runCarrierBlank = problem(
  {
    code: "run-carrier-blank",
    severity: "warning",
    means: "Rows of runs.csv name no carrier, although the journey asks for one.",
    advice: "Such an item does not count for the carrier: fill the column if somebody carried it.",
  },
  {
    with: ({ column, rows }: { column: string; rows: number }) => ({
      found: `${counted(rows, "row", "rows")} without ${column}`,
      expected: `the carrier's tag in ${column}`,
    }),
  },
);

export const runsOverlap = problem(
  {
    code: "runs-overlap",
    severity: "warning",
    means: "An item is on two runs of a journey at once.",
    advice:
      "Its sightings in the time that both share count for both. Correct the times if it was only on one.",
  },
  {
    with: ({ run, other }: { run: string; other: string }) => ({
      found: `on run ${quoted(run)} and on run ${quoted(other)} at once`,
      expected: "an item on one run at a time",
    }),
  },
);

export const journeysOverlap = problem(
  {
    code: "journeys-overlap",
    severity: "warning",
    means: "An item is on two journeys at once.",
    advice:
      "Its sightings in the time that both share count for both. Correct the times if it was only on one.",
  },
  {
    with: ({ tag, other, run, items }: { tag: string; other: string; run: string; items: number }) => ({
      found: `${quoted(tag)} on run ${quoted(run)} of journey ${other} at the same time${items > 1 ? `, and ${counted(items - 1, "other item", "other items")} alike` : ""}`,
      expected: "an item on one journey at a time",
    }),
  },
);

export const runUnseen = problem(
  {
    code: "run-without-sighting",
    severity: "warning",
    means: "No item of a run was seen anywhere while the run was under way.",
    advice:
      "Its items count as not seen. Check the times of the run, and the codes of its tags; void it if it never left.",
  },
  {
    with: ({
      run,
      items,
      seen,
    }: {
      run: string;
      items: number;
      seen: { from: string; to: string } | null;
    }) => ({
      found: `run ${quoted(run)} with ${counted(items, "item", "items")} and no sighting${seen === null ? "" : `, though its tags were seen at other times, ${seen.from === seen.to ? `at ${seen.from}` : `from ${seen.from} to ${seen.to}`}`}`,
      expected: "a sighting of an item of the run between its start and end",
    }),
  },
);

export const sightingsMissing = problem({
  code: "journey-sightings-missing",
  severity: "warning",
  means: "Nothing tells of any sighting of a journey's items.",
  found: "no sighting of any item of runs.csv",
  expected: "sightings in the facilities' reader logs, in sightings.csv, or in EPCIS documents",
  advice: "Every item counts as lost. Check the codes and times in runs.csv if there are logs.",
});

export const sightingsOfNoRun = problem(
  {
    code: "sightings-without-run",
    severity: "warning",
    means: "Sightings belong to no run: another tag, or a time when the tag was on none.",
    advice:
      "They are left out. Nothing to do where that is right; else add the tags to runs.csv, or correct the times of the runs.",
  },
  {
    with: ({ otherTags, outsideRuns, told }: { otherTags: number; outsideRuns: number; told: number }) => ({
      found: [
        ...(otherTags > 0 ? [`${countText(otherTags)} of tags that no run has`] : []),
        ...(outsideRuns > 0 ? [`${countText(outsideRuns)} while no run of their tag was under way`] : []),
      ]
        .join(", ")
        .concat(`, of ${counted(told, "sighting", "sightings")}`),
      expected: "sightings of the tags and carriers of runs.csv, in the time of their runs",
    }),
  },
);

export const sightingFacilityUnknown = problem(
  {
    code: "sighting-facility-unknown",
    severity: "error",
    means:
      "A sighting names a facility that is not in the data folder, or whose facility.yaml cannot be read.",
    advice: "The id of a facility is the name of its folder.",
  },
  {
    with: ({ id, known }: { id: string; known: readonly string[] }) => ({
      expected: `a facility of the data folder: ${listing(known)}`,
      advice: `${didYouMean(id, known)}The id of a facility is the name of its folder.`,
    }),
    unread: ({ id }: { id: string }) => ({
      expected: "a facility whose facility.yaml can be read",
      advice: `Mend ${id}/facility.yaml first: proofwalk check --only ${id} says what is wrong with it.`,
    }),
  },
);

export const sightingKnownEarly = problem({
  code: "sighting-known-before-seen",
  severity: "warning",
  means: "The site knew of a sighting before it was made: two clocks that do not agree.",
  expected: "known_at at the time of the sighting, or later",
  advice: "Set both clocks by one source, or correct the times: delays are worth nothing until then.",
});

export const epcisTarget = problem({
  code: "journey-epcis-place",
  severity: "error",
  means: "The table epcis gives a URI something other than a read point.",
  expected: "{ facility, read_point }, or elsewhere",
  advice:
    "Name the facility and its read point, or write elsewhere where the URI is no read point of these facilities.",
});
