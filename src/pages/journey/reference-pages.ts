import { intervals } from "../../intervals/index.ts";
import type { JourneyResult } from "../../model/journey/journey-result.ts";
import { counted, countText, joined, statedNumber, statedPercent } from "../../model/number-words.ts";
import { type InputsView, inputsTable, inputsView, remarksTable } from "../inputs/inputs-page.ts";
import { definePage } from "../parts/page.ts";
import { journeySchemaPath } from "../parts/paths.ts";
import type { JourneyContext, JourneyHere } from "./journey-context.ts";
import { durationText } from "./words.ts";

/** The files that the journey was judged on, and everything that can be downloaded. */
export const journeyInputsPage = definePage({
  template: "inputs",
  navigation: "Inputs",
  pages: ({ paths, result }: JourneyContext) => [
    {
      path: paths.inputs,
      title: "Inputs",
      subject: result,
      tables: [inputsTable(result), remarksTable(result)],
    },
  ],
  view: (here: JourneyHere, result: JourneyResult): InputsView => ({
    ...inputsView(here, {
      lead: inputsLead(result),
      about: "the journey",
      folder: "data folder",
      firstFile: result.inputs[0]?.path ?? "runs.csv",
      schemaPath: journeySchemaPath,
    }),
    facilities: facilitiesSentence(result),
    record: null,
    pictures: [],
    photographs: [],
  }),
});

function facilitiesSentence({ facilities }: JourneyResult): string {
  const names = facilities.filter(({ state }) => state !== null).map(({ name }) => name);
  const files = facilities.reduce((sum, { inputs }) => sum + inputs.length, 0);
  return `What the readers there heard, and what the walks of the read points promise, is made from the files of ${joined(names)}: result.json has the SHA-256 of each of the ${countText(files)} under "facilities".`;
}

function inputsLead({ inputs, items, sightings }: JourneyResult): string {
  const files = counted(inputs.length, "file was", "files were");
  return `${files} read, with ${counted(items.length, "item", "items")} sent and ${counted(sightings.told, "sighting", "sightings")} told, of which ${countText(sightings.used)} count.`;
}

export interface JourneyMethodView {
  basis: string;
  intervalName: string;
  assumes: string;
  carrier: string;
  /** Empty where the journey plans nothing. */
  plan: string;
}

/** How each number of a journey is made. */
export const journeyMethodPage = definePage({
  template: "journey/method",
  navigation: "Method",
  pages: ({ paths, result }: JourneyContext) => [{ path: paths.method, title: "Method", subject: result }],
  view: ({ names }: JourneyHere, { basis, carrier, plan }: JourneyResult): JourneyMethodView => {
    const { words } = intervals.get(basis.interval);
    const confidence = statedPercent(basis.confidence);
    return {
      basis: `All intervals are two-sided, at ${confidence} confidence; presentations of one run, and of one tag, are taken to miss together with a correlation of at least ${statedNumber(basis.missCorrelation)}.`,
      intervalName: words.short,
      assumes: words.assumes,
      carrier:
        carrier === null
          ? "This journey asks for no carrier."
          : `Here: within ${durationText(carrier.withinS)}, on ${joined(carrier.at.map((leg) => names.leg(leg)))}.`,
      plan:
        plan === null
          ? ""
          : "A run is sized as a pass is, an item as a tag of it: misses of one run go together by the correlation above, and each leg sees the share that the plan expects. A carrier is counted on one leg. The number in front is for all findings to be met together as often as it says if they were independent; findings on the same items go together, and are met together at least as often. A quantile of delays is sized by how many sightings may lie beyond the limit.",
    };
  },
});
