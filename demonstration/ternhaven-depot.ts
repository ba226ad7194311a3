import { assetTags } from "./asset-tags.ts";
import { fixedLoad, restackedLoad } from "./loads.ts";
import { itemisedLog, manifestText, tallyLog, timedLog } from "./log-text.ts";
import { randomStream } from "./random-stream.ts";
import { ternhavenReads } from "./ternhaven-reads.ts";
import { ofCell, speed, still, portal as usualPortal } from "./usual-walk.ts";
import type { PlacedTag, Radio, WalkedPass, WalkPlan } from "./walk.ts";
import { walk } from "./walk.ts";

const seed = "ternhaven-1";
const rounds = [
  { id: "as-found", date: "2026-06-08" },
  { id: "as-left", date: "2026-06-10" },
] as const;
type RoundId = (typeof rounds)[number]["id"];

const crates = assetTags("crate", 620400, 180);
const storeTags = assetTags("cage", 9300, 30);
const carriedPast = assetTags("cage", 9360, 24);
/** Chips that nobody encoded, on film in the lane beside door B: no GS1 code, and none of the cooperative's. */
const rawTags = ["E2FFF000000000000000A417", "E2FFF000000000000000A432"];
/** Crushed by a strap: it answers nobody, in either round. */
const deadTags = [crates[17]!];

const portal: Radio = {
  ...usualPortal,
  base: -10,
  orientation: { ...usualPortal.orientation, "edge-on": 1 },
  rssiDbm: -54,
};

const base = { seed, facility: "ternhaven-depot", offset: null, deadTags, storeTags };

function plan(
  round: RoundId,
  rest: Omit<WalkPlan, "round" | "date" | keyof typeof base> & Partial<WalkPlan>,
): WalkPlan {
  return { ...base, round, date: rounds.find(({ id }) => id === round)!.date, ...rest };
}

function doorA(round: RoundId) {
  const found = round === "as-found";
  const tags = crates.slice(0, 32);
  // Shuffled anew before each pass, but always the same 32 crates: the dead one among them each time.
  const cells = [0.9, 1.6].map((metres) => ({
    cell: {
      ...still,
      values: { load: "full" },
      speedMetresPerSecond: metres,
      load: restackedLoad(tags, tags.length),
    },
    times: 15,
  }));
  return walk(
    plan(round, {
      readPoint: "door-a",
      start: "08:40",
      offset: "-03:00",
      pauseSeconds: [60, 120],
      passSeconds: [9, 20],
      cells,
      // The cable of antenna 4 came off while the antennas were tilted.
      radio: { ...portal, base: found ? -5.6 : -7.7, silentAntenna: found ? null : 4 },
      walkers: ["Ines Quarrow", "Dov Lammerick"],
      incidents: found
        ? [{ pass: 11, voidReason: "door sensor failed to start the reader", penalty: 5 }]
        : [],
    }),
  );
}

const doorBLoads = { "stack-north": crates.slice(32, 68), "stack-south": crates.slice(68, 104) } as const;

function doorB(round: RoundId) {
  const found = round === "as-found";
  const cells = [0.9, 1.6].flatMap((metres) =>
    Object.entries(doorBLoads).map(([manifest, tags]) => ({
      cell: {
        ...still,
        values: { load: "full" },
        speedMetresPerSecond: metres,
        load: fixedLoad(tags),
        manifest,
      },
      times: 8,
    })),
  );
  return walk(
    plan(round, {
      readPoint: "door-b",
      start: "10:20",
      pauseSeconds: [60, 120],
      passSeconds: [9, 20],
      cells,
      radio: { ...portal, base: found ? -6 : -9, strayHeard: 0.1 },
      // What waits in the lane beside it.
      storeTags: [...rawTags, ...storeTags.slice(8, 14)],
      walkers: ["Ines Quarrow", "Dov Lammerick"],
      incidents: found
        ? []
        : [{ pass: 21, voidReason: "pallet truck stopped between the posts", penalty: 6.2 }],
    }),
  );
}

/** Eight trolleys of five crates, and the cages that stand in the rack beside the pedestal while they are pushed past. */
const trolleys = Object.fromEntries(
  Array.from({ length: 8 }, (_, i) => [`trolley-${i + 1}`, crates.slice(104 + 5 * i, 109 + 5 * i)]),
);
const rack: PlacedTag[] = storeTags
  .slice(0, 8)
  .map((tag) => ({ tag, orientation: "facing", level: "middle" }));

function gate(round: RoundId) {
  const found = round === "as-found";
  const cells = [0.8, 1.5].flatMap((metres, slow) =>
    ["in", "out"].flatMap((direction, way) =>
      Object.entries(trolleys).map(([manifest, tags], i) => ({
        cell: {
          ...still,
          values: { direction_walked: direction },
          speedMetresPerSecond: metres,
          load: fixedLoad(tags),
          bystanders: rack,
          manifest,
        },
        times: (i + slow + way) % 2 === 0 ? 3 : 2,
      })),
    ),
  );
  const passes = walk(
    plan(round, {
      readPoint: "gate-1",
      start: "13:10",
      pauseSeconds: [18, 40],
      passSeconds: [4, 9],
      cells,
      radio: {
        ...portal,
        base: found ? -6.4 : -10.5,
        antennas: 2,
        rssiDbm: -50,
        bystanderHeard: found ? 0.06 : 0.004,
      },
      walkers: ["Dov Lammerick"],
      incidents: [],
    }),
  );
  const stream = randomStream(`${seed}/gate-reports/${round}`);
  return passes.map((pass) => {
    const walked = pass.values.direction_walked!;
    const turned = stream.chance(found ? 0.08 : 0);
    return {
      ...pass,
      values: { ...pass.values, direction_seen: turned ? (walked === "in" ? "out" : "in") : walked },
    };
  });
}

function lorry(round: RoundId) {
  const found = round === "as-found";
  const pool = crates.slice(104, 164);
  const cells = ["off", "running"].flatMap((engine) =>
    ["full", "half"].map((load) => ({
      cell: {
        ...still,
        values: { load, engine, weather: found ? "rain" : "dry" },
        load: restackedLoad(pool, load === "full" ? 24 : 16),
        penalty: engine === "running" ? 0.4 : 0,
      },
      times: 7,
    })),
  );
  return walk(
    plan(round, {
      readPoint: "lorry-12",
      start: "14:30",
      pauseSeconds: [60, 120],
      passSeconds: [30, 50],
      cells,
      radio: { ...portal, base: found ? -5.4 : -9.6, antennas: 2, rssiDbm: -52 },
      walkers: ["Ines Quarrow"],
      incidents: [],
    }),
  );
}

function ceiling(round: RoundId) {
  const found = round === "as-found";
  const pool = crates.slice(32, 104);
  const cells = ["aisle 1", "aisle 2"].map((zone) => ({
    cell: {
      ...still,
      values: { zone },
      load: restackedLoad(pool, 18),
      penalty: zone === "aisle 2" ? 0.5 : 0,
    },
    times: 11,
  }));
  return walk(
    plan(round, {
      readPoint: "ceiling-1",
      start: "15:40",
      pauseSeconds: [50, 100],
      passSeconds: [45, 45],
      cells,
      radio: { ...portal, base: found ? -6 : -9.5, perMetrePerSecond: 0, rssiDbm: found ? -62 : -60.5 },
      walkers: ["Dov Lammerick"],
      incidents: found
        ? []
        : [{ pass: 6, voidReason: "aisle lift was driven through during the sweep", penalty: 6 }],
    }),
  );
}

const returnsLoads = { "returns-a": crates.slice(144, 162), "returns-b": crates.slice(162, 180) } as const;

function returns(round: RoundId) {
  const found = round === "as-found";
  const cells = Object.entries(returnsLoads).map(([manifest, tags]) => ({
    cell: { ...still, speedMetresPerSecond: 0.6, load: fixedLoad(tags), manifest },
    times: 12,
  }));
  return walk(
    plan(round, {
      readPoint: "returns-1",
      start: "16:35",
      pauseSeconds: [50, 95],
      passSeconds: [20, 32],
      cells,
      radio: {
        ...portal,
        base: found ? -5 : -8.6,
        antennas: 2,
        rssiDbm: -52,
        strayHeard: found ? 0.12 : 0.04,
      },
      walkers: ["Sefa Brindlow"],
      incidents: found ? [{ pass: 9, voidReason: "belt stopped with the crates under the arch" }] : [],
      storeTags: storeTags.slice(14, 20),
    }),
  );
}

function desk(round: RoundId) {
  const found = round === "as-found";
  const pool = assetTags("crate", 700000 + (found ? 0 : 2000), 960);
  return walk(
    plan(round, {
      readPoint: "desk-1",
      start: "08:15",
      pauseSeconds: [15, 40],
      passSeconds: [6, 14],
      cells: [{ cell: { ...still, load: restackedLoad(pool, 10) }, times: 80 }],
      radio: { ...portal, base: found ? -7 : -11.5, antennas: 1, strayHeard: found ? 0.06 : 0 },
      walkers: ["Sefa Brindlow"],
      incidents: [],
    }),
  );
}

/** The generated files of the facility, by path inside its folder. */
export function ternhavenDepot(): Map<string, string> {
  const files = new Map<string, string>();
  for (const { id } of rounds) {
    files.set(`passes/desk-1-${id}.csv`, tallyLog(desk(id), []));
    files.set(`passes/door-a-${id}.csv`, itemisedLog(doorA(id), [speed, ofCell("load")]));
    // The vehicle's unit writes semicolons and decimal commas, and a column of its own.
    files.set(
      `passes/lorry-12-${id}.csv`,
      itemisedLog(lorry(id), ["load", "engine", "weather"].map(ofCell), "semicolon"),
    );
    files.set(`passes/ceiling-1-${id}.csv`, itemisedLog(ceiling(id), [ofCell("zone")]));
  }
  // These three are timed: their readers' own logs say who was heard.
  const walked = rounds.map(({ id, date }) => ({
    round: id,
    date,
    doorB: doorB(id),
    gate: gate(id),
    returns: returns(id),
  }));
  const all = (passes: (each: (typeof walked)[number]) => WalkedPass[]) => walked.flatMap(passes);
  files.set(
    "passes/door-b.csv",
    timedLog(
      all((each) => each.doorB),
      [speed, ofCell("load")],
    ),
  );
  files.set(
    "passes/gate-1.csv",
    timedLog(
      all((each) => each.gate),
      [speed, ...["direction_walked", "direction_seen"].map(ofCell)],
    ),
  );
  files.set(
    "passes/returns-1.csv",
    timedLog(
      all((each) => each.returns),
      [speed],
    ),
  );
  for (const [path, text] of ternhavenReads(seed, walked, { crates, storeTags, rawTags, carriedPast }))
    files.set(path, text);
  for (const [name, tags] of Object.entries({ ...doorBLoads, ...returnsLoads }))
    files.set(`manifests/${name}.csv`, manifestText(fixedLoad(tags)()));
  for (const [name, tags] of Object.entries(trolleys))
    files.set(`manifests/${name}.csv`, manifestText(fixedLoad(tags)(), { bystanders: rack }));
  return files;
}
