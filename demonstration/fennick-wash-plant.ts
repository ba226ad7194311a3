import { assetTags } from "./asset-tags.ts";
import { fixedLoad, restackedLoad } from "./loads.ts";
import { itemisedLog, listedLog, manifestText, tallyLog } from "./log-text.ts";
import { powerLog } from "./power-log.ts";
import { randomStream } from "./random-stream.ts";
import { ofCell, portal, speed, still } from "./usual-walk.ts";
import type { Cell, WalkPlan } from "./walk.ts";
import { tagEffect, walk } from "./walk.ts";

const seed = "fennick-8";
const rounds = [
  { id: "as-found", date: "2026-05-18" },
  { id: "as-left", date: "2026-05-21" },
] as const;
type RoundId = (typeof rounds)[number]["id"];

const crates = assetTags("crate", 410200, 200);
const parkedCages = assetTags("cage", 8800, 10);
const storeTags = assetTags("crate", 377100, 40);
/** What dock door 2 may hear uninvited: the crates of the lorry's loads, which wait in the lane beside it. */
const besideDockTwo = [...crates.slice(60, 78), ...crates.slice(20, 42)];

const base = { seed, facility: "fennick-wash-plant", offset: null, deadTags: [], storeTags };

function plan(
  round: RoundId,
  rest: Omit<WalkPlan, "round" | "date" | keyof typeof base> & Partial<WalkPlan>,
): WalkPlan {
  return { ...base, round, date: rounds.find(({ id }) => id === round)!.date, ...rest };
}

function dockOne(round: RoundId) {
  const found = round === "as-found";
  const pool = crates.slice(0, 80);
  const lane: Cell["bystanders"] = parkedCages.map((tag) => ({
    tag,
    orientation: "facing",
    level: "bottom",
  }));
  const cell = (metres: number, load: "full" | "half"): Cell[] =>
    [lane, []].map((bystanders) => ({
      ...still,
      values: { load },
      speedMetresPerSecond: metres,
      load: restackedLoad(pool, load === "full" ? 40 : 20),
      bystanders,
    }));
  return walk(
    plan(round, {
      readPoint: "dock-1",
      start: "08:20",
      pauseSeconds: [55, 110],
      passSeconds: [9, 21],
      cells: [
        ...[...cell(0.8, "full"), ...cell(0.8, "half"), ...cell(1.5, "full"), ...cell(1.5, "half")].map(
          (one) => ({
            cell: one,
            times: one.bystanders.length > 0 ? 6 : 4,
          }),
        ),
        ...cell(2.4, "full").map((one) => ({ cell: one, times: one.bystanders.length > 0 ? 5 : 3 })),
      ],
      radio: found
        ? { ...portal, base: -5.2, edgeOnTop: 0.8, rssiDbm: -56, bystanderHeard: 0.05, strayHeard: 0.08 }
        : { ...portal, base: -7.7 },
      walkers: ["Tam Orrelby", "Una Drisk"],
      incidents: found
        ? [
            { pass: 7, voidReason: "fork lift blocked the door half-way through", penalty: 3.2 },
            { pass: 23, note: "curtain strip hung over antenna 3" },
          ]
        : [
            { pass: 12, voidReason: "reader restarted during the pass", penalty: 6.8 },
            { pass: 31, voidReason: "fork lift blocked the door", penalty: 5.6 },
            { pass: 40, note: "client's supervisor walked along" },
          ],
    }),
  );
}

const dockTwoLoads = {
  "cage-pair-a": crates.slice(80, 120),
  "cage-pair-b": crates.slice(120, 160),
  "cage-c": crates.slice(160, 180),
} as const;

function dockTwo(round: RoundId) {
  const found = round === "as-found";
  const cells = [0.8, 1.5].flatMap((metres) =>
    Object.entries(dockTwoLoads).map(([manifest, tags]) => ({
      cell: {
        ...still,
        values: { load: tags.length > 20 ? "full" : "half" },
        speedMetresPerSecond: metres,
        load: fixedLoad(tags),
        manifest,
      },
      times: 6,
    })),
  );
  return walk(
    plan(round, {
      readPoint: "dock-2",
      start: "10:50",
      pauseSeconds: [55, 120],
      passSeconds: [9, 21],
      cells,
      // More power moved the misses about without touching the cause, and lets the door hear further into the lane.
      radio: {
        ...portal,
        base: -5.8,
        orientation: { ...portal.orientation, "edge-on": 1.4 },
        edgeOnTop: 3,
        rssiDbm: found ? -57 : -55.5,
        strayHeard: found ? 0.02 : 0.1,
      },
      storeTags: besideDockTwo,
      walkers: ["Tam Orrelby", "Una Drisk"],
      incidents: found
        ? [{ pass: 5, voidReason: "a cage shed two crates on the ramp", penalty: 2 }]
        : [
            { pass: 18, voidReason: "door came down on the load; stopped half-way", penalty: 3 },
            { pass: 27, note: "cages pushed closer to the left post than usual" },
          ],
    }),
  );
}

function pedestal(round: RoundId) {
  const found = round === "as-found";
  const pool = crates.slice(0, 60);
  const cells = [0.8, 1.4, 2.3].flatMap((metres) =>
    ["in", "out"].map((direction) => ({
      cell: {
        ...still,
        values: { direction_walked: direction },
        speedMetresPerSecond: metres,
        load: restackedLoad(pool, 5),
      },
      times: 16,
    })),
  );
  const passes = walk(
    plan(round, {
      readPoint: "pedestal-1",
      start: "13:30",
      pauseSeconds: [18, 40],
      passSeconds: [4, 9],
      cells,
      radio: {
        ...portal,
        base: found ? -6.2 : -7.1,
        perMetrePerSecond: 1,
        antennas: 2,
        rssiDbm: -51,
        strayHeard: found ? 0.04 : 0,
      },
      walkers: ["Una Drisk", "Sefa Brindlow"],
      incidents: found ? [] : [{ pass: 44, voidReason: "two people passed through at once", penalty: 5.5 }],
    }),
  );
  // What the pedestal reported beside the reads: the way it saw the trolley go, and the badge of who pushed it.
  const stream = randomStream(`${seed}/pedestal-reports/${round}`);
  const badges = assetTags("badge", 51, 4);
  return passes.map((pass) => {
    const walked = pass.values.direction_walked!;
    const turned = stream.chance(found ? 0.09 : 0.004);
    const worn = stream.chance(0.75) ? stream.pick(badges) : "";
    const heard = worn === "" || stream.chance(found ? 0.1 : 0.03) ? "" : worn;
    return {
      ...pass,
      values: {
        ...pass.values,
        direction_seen: turned ? (walked === "in" ? "out" : "in") : walked,
        badge_worn: worn,
        badge_read: heard,
      },
    };
  });
}

const lorryLoads = { "lorry-full": crates.slice(20, 56), "lorry-half": crates.slice(60, 78) } as const;

function lorry(round: RoundId) {
  const found = round === "as-found";
  const cell = (manifest: keyof typeof lorryLoads, engine: "off" | "running", times: number) => ({
    cell: {
      ...still,
      values: { load: manifest === "lorry-full" ? "full" : "half", engine },
      load: fixedLoad(lorryLoads[manifest]),
      manifest,
      penalty: engine === "running" ? 0.5 : 0,
    },
    times,
  });
  return walk(
    plan(round, {
      readPoint: "lorry-1",
      start: "14:40",
      pauseSeconds: [70, 150],
      passSeconds: [35, 60],
      cells: [
        cell("lorry-full", "off", 12),
        cell("lorry-half", "off", 14),
        cell("lorry-half", "running", 14),
      ],
      radio: { ...portal, base: found ? -5.6 : -9.2, rssiDbm: -50, strayHeard: 0.05 },
      walkers: ["Bram Ostick"],
      incidents: found
        ? []
        : [{ pass: 9, voidReason: "tail lift was down; load not closed in", penalty: 5.5 }],
    }),
  );
}

function ceiling() {
  const pool = crates.slice(100, 160);
  const cells = ["floor", "rack"].map((zone) => ({
    cell: { ...still, values: { zone }, load: restackedLoad(pool, 24), penalty: zone === "rack" ? 0.3 : 0 },
    times: 13,
  }));
  return walk(
    plan("as-found", {
      readPoint: "ceiling-1",
      start: "15:10",
      pauseSeconds: [60, 120],
      passSeconds: [60, 60],
      cells,
      radio: { ...portal, base: -7.3, perMetrePerSecond: 0, rssiDbm: -59.5 },
      walkers: ["Sefa Brindlow"],
      incidents: [{ pass: 15, voidReason: "reader restarted during the sweep", penalty: 5.5 }],
    }),
  );
}

function desk(round: RoundId) {
  const found = round === "as-found";
  const pool = assetTags("crate", 500000 + (found ? 0 : 2000), 1020);
  return walk(
    plan(round, {
      readPoint: "desk-1",
      start: "08:05",
      pauseSeconds: [15, 40],
      passSeconds: [6, 14],
      cells: [{ cell: { ...still, load: restackedLoad(pool, 12) }, times: 81 }],
      radio: { ...portal, base: found ? -6.9 : -9.2, antennas: 1, strayHeard: found ? 0.12 : 0 },
      walkers: ["Ines Quarrow"],
      incidents: found ? [] : [{ pass: 52, voidReason: "tray knocked off the desk", penalty: 8 }],
    }),
  );
}

/** The crates at dock door 2 carry tags of three models: two that answer alike, and one that answers weakly. */
function modelOnTrial(tag: string): string {
  if (tagEffect(seed, tag) > 0.5) return "Kelmar 40";
  return randomStream(`${seed}/model/${tag}`).chance(0.5) ? "Kelmar 70" : "Brine D";
}

/** The generated files of the facility, by path inside its folder. */
export function fennickWashPlant(): Map<string, string> {
  const files = new Map<string, string>();
  for (const { id } of rounds) {
    files.set(`passes/desk-1-${id}.csv`, tallyLog(desk(id), []));
    files.set(`passes/dock-1-${id}.csv`, itemisedLog(dockOne(id), [speed, ofCell("load")]));
    files.set(
      `passes/pedestal-1-${id}.csv`,
      itemisedLog(pedestal(id), [
        speed,
        ...["direction_walked", "direction_seen", "badge_worn", "badge_read"].map(ofCell),
      ]),
    );
  }
  const bothRounds = rounds.map(({ id }) => id);
  files.set("passes/dock-2.csv", listedLog(bothRounds.flatMap(dockTwo), [speed, ofCell("load")]));
  files.set("passes/lorry-1.csv", listedLog(bothRounds.flatMap(lorry), ["load", "engine"].map(ofCell)));
  files.set("passes/ceiling-1-as-found.csv", itemisedLog(ceiling(), [ofCell("zone")]));
  files.set(
    "power/dock-1.csv",
    powerLog({
      seed,
      readPoint: "dock-1",
      round: "as-left",
      powersDbm: [30, 27, 24, 22, 20, 18, 16, 14],
      tags: 100,
      halfDbm: 17.5,
      slope: 0.6,
    }),
  );
  for (const [name, tags] of Object.entries(dockTwoLoads))
    files.set(`manifests/${name}.csv`, manifestText(fixedLoad(tags)(), { modelOf: modelOnTrial }));
  for (const [name, tags] of Object.entries(lorryLoads))
    files.set(`manifests/${name}.csv`, manifestText(fixedLoad(tags)()));
  return files;
}
