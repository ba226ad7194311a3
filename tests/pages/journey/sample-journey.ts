import type { ItemResult, LegOfItem } from "../../../src/model/journey/item.ts";
import {
  type JourneyFinding,
  type JourneyResult,
  journeyResultSchema,
} from "../../../src/model/journey/journey-result.ts";
import type { State } from "../../../src/model/state.ts";
import { hostile, sampleEstimate } from "../sample-result.ts";

/* A journey of three legs by hand: four items and a void one. One is lost, one late, one went where it should not. */

const [plant, depot] = ["plant", "depot"];
const spread = (n: number, median: number) => ({
  n,
  min: 1,
  q05: 1,
  median,
  q95: 2 * median,
  max: 3 * median,
});

const legs = [
  { id: "tagged", facility: plant, readPoint: "desk", withinS: 600, optional: false },
  { id: "carried", facility: depot, readPoint: "lorry", withinS: 1800, optional: false },
  { id: "stored", facility: depot, readPoint: "shelf", withinS: null, optional: true },
];

const at = (clock: string) => ({ at: `2026-06-15T${clock}Z`, atLocal: `2026-06-15 ${clock}` });
const seen = (leg: string, clock: string, carrier: LegOfItem["carrier"] = null): LegOfItem => ({
  leg,
  state: "seen",
  ...at(clock),
  afterS: 300,
  carrier,
});
const missed = (leg: string): LegOfItem => ({
  leg,
  state: "not-seen",
  at: null,
  atLocal: null,
  afterS: null,
  carrier: null,
});
const heard = { heard: true, at: "2026-06-15T07:40:02Z", apartS: 2 };
const unheard = { heard: false, at: "2026-06-15T08:40:00Z", apartS: 3600 };

const item = (tag: string, own: Partial<ItemResult> & Pick<ItemResult, "legs">): ItemResult => ({
  round: "first",
  run: "R1",
  tag,
  uri: null,
  carrier: "badge 1",
  startedAt: "2026-06-15T07:00:00Z",
  endedAt: "2026-06-15T17:00:00Z",
  voidReason: null,
  note: null,
  whole: true,
  inOrder: true,
  sightings: 3,
  visits: null,
  visitsLeftOut: 0,
  ...own,
});

const lorryYard = {
  facility: depot,
  readPoint: "yard",
  leg: null,
  first: "2026-06-15T07:20:00Z",
  firstLocal: null,
  last: "2026-06-15T07:21:00Z",
  lastLocal: null,
  sightings: 2,
};

const items: ItemResult[] = [
  item("CRATE-1", {
    legs: [seen("tagged", "07:05:00"), seen("carried", "07:40:00", heard), seen("stored", "11:00:00")],
  }),
  item("CRATE-2", {
    whole: false,
    inOrder: null,
    legs: [seen("tagged", "07:05:20"), missed("carried"), missed("stored")],
    visits: [],
  }),
  item("CRATE-3", {
    whole: false,
    legs: [
      seen("tagged", "07:05:40"),
      { ...seen("carried", "08:40:00"), state: "late", afterS: 5660 },
      seen("stored", "11:00:10"),
    ],
    visits: [lorryYard],
    visitsLeftOut: 1,
  }),
  item("CRATE-4", {
    carrier: hostile.markup,
    inOrder: false,
    legs: [
      seen("tagged", "07:06:00"),
      seen("carried", "07:41:00", unheard),
      { ...seen("stored", "07:30:00"), state: "out-of-order", afterS: -660 },
    ],
    visits: [],
  }),
  item("CRATE-5", {
    run: "R2",
    voidReason: "lorry broke down",
    whole: false,
    inOrder: null,
    legs: [seen("tagged", "07:05:00"), missed("carried"), missed("stored")],
    visits: [],
  }),
];

const finding = (criterion: string, state: State, own: Partial<JourneyFinding>): JourneyFinding => ({
  criterion,
  readPoint: null,
  round: "first",
  group: null,
  state,
  measure: "journey-complete-rate",
  limit: 0.9,
  sense: "at-least",
  passes: 1,
  voidPasses: 1,
  tags: 4,
  estimate: sampleEstimate(2, 4),
  withVoids: sampleEstimate(2, 5),
  toSettle: null,
  concession: null,
  remarks: [],
  sensitivity: [],
  stricter: null,
  unseen: null,
  ...own,
});

const legFinding = (leg: string, k: number, state: State) =>
  finding("legs", state, {
    measure: "leg-sighting-rate",
    group: { leg },
    limit: 0.5,
    estimate: sampleEstimate(k, 4),
    withVoids: null,
  });

const criterion = (id: string, title: string, measure: string, atLeast: number) => ({
  id,
  title,
  measure,
  limit: atLeast,
  sense: "at-least",
  readPoints: [],
  where: [],
  forEach: [],
  minimumPasses: 0,
});

const promised = (leg: (typeof legs)[number], k: number) => ({
  leg: leg.id,
  facility: leg.facility,
  readPoint: leg.readPoint,
  round: "as-left",
  rate: sampleEstimate(k, 100),
});

const seenOn = [4, 2, 3];

/** As the analysis would hand it over; what a test says of it is parsed by the schema. */
export const sampleJourney = {
  schemaVersion: 1,
  tool: { name: "proofwalk", version: "1.2.3" },
  id: "crates",
  title: `Crates ${hostile.markup}`,
  client: "Crate hire",
  report: { number: "J-7", revision: "A", issued: "2026-06-20" },
  preparedBy: { name: "Ann Builder", organisation: "Installers", role: "Engineer" },
  witnessedBy: [{ name: "Cleo Client", organisation: "Crate hire", role: "Manager" }],
  basis: { confidence: 0.95, interval: "wilson", missCorrelation: 0.02, smallestChangeThatMatters: 0.005 },
  signOffRound: "first",
  state: "not-met",
  rounds: [{ id: "first", title: "First", date: "2026-06-15", changes: null, settings: {} }],
  facilities: [
    {
      id: depot,
      name: "Depot",
      timeZone: null,
      state: "met",
      pseudonyms: false,
      readPoints: [
        { id: "lorry", name: "Lorry" },
        { id: "shelf", name: hostile.long },
        { id: "yard", name: "Yard behind the depot" },
      ],
      inputs: [],
    },
    {
      id: plant,
      name: "Plant",
      timeZone: "Europe/Dublin",
      state: "undecided",
      pseudonyms: false,
      readPoints: [{ id: "desk", name: "Desk" }],
      inputs: [],
    },
  ],
  carrier: { column: "carrier", at: ["carried"], withinS: 60 },
  criteria: [
    criterion("whole", "Nine in ten are whole", "journey-complete-rate", 0.9),
    criterion("legs", "Each leg sees half", "leg-sighting-rate", 0.5),
  ],
  legs: legs.map((leg, index) => ({
    ...leg,
    facilityName: leg.facility === plant ? "Plant" : "Depot",
    name: ["Desk", "Lorry", hostile.long][index]!,
    kind: null,
    k: seenOn[index]!,
    n: 4,
    late: index === 1 ? 1 : 0,
    outOfOrder: index === 2 ? 1 : 0,
    sightingRate: sampleEstimate(seenOn[index]!, 4),
    carrier: index === 1 ? sampleEstimate(1, 2) : null,
    delay: spread(seenOn[index]!, 300),
    lag: index === 0 ? null : spread(2, 20),
    withVoids: null,
    lost: index === 0 ? 1 : 0,
  })),
  findings: [
    finding("whole", "not-met", {}),
    legFinding("tagged", 4, "met"),
    legFinding("carried", 2, "undecided"),
    legFinding("stored", 3, "undecided"),
  ],
  otherwise: { interval: null, correlations: [] },
  promise: {
    legs: [promised(legs[0]!, 99), promised(legs[1]!, 95)],
    missing: [],
    product: { value: 0.9405, lower: 0.84, upper: 0.98 },
    bounds: { lower: 0.94, upper: 0.95 },
    widest: { lower: 0.83, upper: 0.99 },
    share: sampleEstimate(2, 4),
    outside: "below",
    surely: false,
  },
  remarks: [
    { code: "outside-bounds", side: "below", surely: false },
    { code: "not-walked", legs: ["carried"] },
    { code: "runs-without-sighting", runs: ["R8", "R9"], count: 3 },
    { code: "clocks-differ", from: "tagged", to: "carried", items: 3, of: 4, medianS: -90 },
    { code: "known-before-seen", sightings: 1 },
    { code: "no-criterion" },
  ],
  roundResults: [
    {
      id: "first",
      runs: 1,
      items: 4,
      voidRuns: 1,
      voidItems: 1,
      completeRate: sampleEstimate(2, 4),
      orderRate: sampleEstimate(2, 3),
      carrierRate: sampleEstimate(1, 2),
      withVoids: { items: 5, completeRate: sampleEstimate(2, 5) },
      lag: null,
      legs: [],
    },
  ],
  items,
  lost: [
    {
      item: 1,
      missing: ["carried"],
      lastSeen: { facility: plant, readPoint: "desk", leg: "tagged", ...at("07:05:20") },
    },
  ],
  wrongPlaces: [{ ...lorryYard, item: 2 }].map(({ leg: _, ...rest }) => rest),
  sightings: { told: 20, used: 14, repeated: 1, outsideRuns: 2, otherTags: 3 },
  comparisons: [],
  plan: null,
  problems: [],
  inputs: [
    { path: "journeys/crates.yaml", sha256: "a".repeat(64), bytes: 10, rows: null, used: null, void: null },
    { path: "journeys/crates/runs.csv", sha256: "b".repeat(64), bytes: 20, rows: 5, used: 4, void: 1 },
  ],
} as unknown as JourneyResult;

/** The same before anybody went on a run, with nothing asked of it. */
export const emptyJourney: JourneyResult = {
  ...sampleJourney,
  id: "nothing-yet",
  title: "Nothing yet",
  client: null,
  report: null,
  preparedBy: null,
  witnessedBy: [],
  state: "untested",
  carrier: null,
  criteria: [],
  findings: [],
  remarks: [],
  items: [],
  lost: [],
  wrongPlaces: [],
  roundResults: [],
  legs: sampleJourney.legs.map((leg) => ({
    ...leg,
    k: 0,
    n: 0,
    late: 0,
    lost: 0,
    sightingRate: sampleEstimate(0, 0),
    carrier: null,
    delay: null,
    lag: null,
  })),
  promise: {
    ...sampleJourney.promise,
    missing: ["carried"],
    product: null,
    bounds: null,
    widest: null,
    outside: null,
    share: sampleEstimate(0, 0),
    legs: sampleJourney.promise.legs.map((leg) => ({ ...leg, rate: null, round: null })),
  },
};

/** What the schema has against a sample. */
export const faultsOf = (result: JourneyResult) => journeyResultSchema.safeParse(result).error?.issues ?? [];
