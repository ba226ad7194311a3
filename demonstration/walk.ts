import type { RandomStream } from "./random-stream.ts";
import { randomStream } from "./random-stream.ts";
import { secondsOfDay, wallTime } from "./wall-clock.ts";

/** Where a tag sits in the load. */
export interface Slot {
  orientation: string;
  level: string;
}

export interface PlacedTag extends Slot {
  tag: string;
}

/** One way of making a pass; a round walks several, each some times over, in random order. */
export interface Cell {
  /** Conditions of the whole pass, as the log writes them. */
  values: Record<string, string>;
  /** Nominal speed; each pass is walked a little slower or faster. Null where nothing moves. */
  speedMetresPerSecond: number | null;
  /** What is presented; called once a pass, so that a load can be stacked anew. */
  load(stream: RandomStream): PlacedTag[];
  /** Tags placed where they must not be read. */
  bystanders: PlacedTag[];
  manifest: string | null;
  /** On the logit scale: how much harder than the read point's usual pass. */
  penalty: number;
}

/** How likely a tag is to be missed, on the logit scale, and how strongly it answers. */
export interface Radio {
  /** Of a facing tag at middle height, slow pass. */
  base: number;
  orientation: Record<string, number>;
  level: Record<string, number>;
  /** For a tag that is edge-on at the top, beyond the two effects alone. */
  edgeOnTop: number;
  perMetrePerSecond: number;
  /** Scatter from pass to pass and from tag to tag: the reason why misses come in clusters. */
  passScatter: number;
  tagScatter: number;
  antennas: number;
  /** One that hears nothing: its cable is off, and its neighbour hears its tags. */
  silentAntenna: number | null;
  /** Median strongest RSSI of a facing tag at middle height. */
  rssiDbm: number;
  /** Chance that a bystander is heard in a pass. */
  bystanderHeard: number;
  /** Chance that a pass hears a tag from the store. */
  strayHeard: number;
}

interface Incident {
  /** Which pass of the round, counting from 1. */
  pass: number;
  voidReason?: string;
  note?: string;
  /** On the logit scale; a blocked door misses a lot. */
  penalty?: number;
}

export interface WalkPlan {
  seed: string;
  facility: string;
  round: string;
  readPoint: string;
  date: string;
  start: string;
  /** Offset written behind each time; null for the facility's own clock. */
  offset: string | null;
  pauseSeconds: [number, number];
  passSeconds: [number, number];
  cells: { cell: Cell; times: number }[];
  radio: Radio;
  walkers: string[];
  incidents: Incident[];
  /** Tags that never answer. */
  deadTags: string[];
  /** Tags that a pass may hear uninvited. */
  storeTags: string[];
}

export interface WalkedTag extends PlacedTag {
  read: boolean;
  rssiDbm: number | null;
  antenna: number | null;
  reads: number;
}

export interface WalkedPass {
  round: string;
  readPoint: string;
  id: string;
  startedAt: string;
  endedAt: string;
  values: Record<string, string>;
  speedMetresPerSecond: string | null;
  manifest: string | null;
  presented: WalkedTag[];
  bystanders: WalkedTag[];
  strays: WalkedTag[];
  voidReason: string;
  walkedBy: string;
  note: string;
}

const logistic = (logit: number): number => 1 / (1 + Math.exp(-logit));
const toHalfDb = (dbm: number): number => Math.round(Math.min(-45, Math.max(-72, dbm)) * 2) / 2;

/** How a tag's own chip and mounting set it apart: the same at every read point and in every round. */
export const tagEffect = (seed: string, tag: string): number => randomStream(`${seed}/tag/${tag}`).normal();

/** Antennas 1 and 2 hang low, 3 and 4 high; a tag is mostly best heard by one at its own height. */
function bestAntenna(stream: RandomStream, level: string, count: number): number {
  if (count === 1) return 1;
  const highHalf = level === "top" ? 0.85 : level === "bottom" ? 0.15 : 0.5;
  const half = Math.floor(count / 2);
  return stream.integer(1, half) + (stream.chance(highHalf) ? half : 0);
}

function answer(stream: RandomStream, placed: PlacedTag, weakness: number, radio: Radio): WalkedTag {
  const best = bestAntenna(stream, placed.level, radio.antennas);
  const antenna = best === radio.silentAntenna ? best - 1 : best;
  const rssiDbm = toHalfDb(
    radio.rssiDbm - 1.6 * weakness + 2.2 * stream.normal() - (antenna === 3 ? 1.5 : 0),
  );
  const reads = Math.max(1, Math.round(14 - 2.5 * weakness + 4 * stream.normal()));
  return { ...placed, read: true, rssiDbm, antenna, reads };
}

const silent = (placed: PlacedTag): WalkedTag => ({
  ...placed,
  read: false,
  rssiDbm: null,
  antenna: null,
  reads: 0,
});

/** Invents one round of passes at one read point. */
export function walk(plan: WalkPlan): WalkedPass[] {
  const { radio } = plan;
  const stream = randomStream(`${plan.seed}/${plan.facility}/${plan.readPoint}/${plan.round}`);
  const order = stream.shuffled(
    plan.cells.flatMap(({ cell, times }) => Array.from({ length: times }, () => cell)),
  );
  const digits = Math.max(2, String(order.length).length);
  let clock = secondsOfDay(plan.start) + stream.integer(5, 50);

  return order.map((cell, index) => {
    // A stream of its own for each pass: an incident in one leaves the others as they were.
    const luck = randomStream(`${plan.seed}/${plan.facility}/${plan.readPoint}/${plan.round}/${index + 1}`);
    const incident = plan.incidents.find(({ pass }) => pass === index + 1);
    const speed =
      cell.speedMetresPerSecond === null
        ? null
        : Math.round((cell.speedMetresPerSecond + 0.18 * (2 * luck.uniform() - 1)) * 100) / 100;
    const startedAt = wallTime(plan.date, clock, plan.offset);
    clock += stream.integer(...plan.passSeconds);
    const endedAt = wallTime(plan.date, clock, plan.offset);
    // A tag that still keeps silent from the last pass would count as missed, so the walkers wait.
    clock += stream.integer(...plan.pauseSeconds) + (index % 16 === 15 ? stream.integer(240, 540) : 0);

    const passWeakness =
      cell.penalty +
      (incident?.penalty ?? 0) +
      radio.perMetrePerSecond * (speed ?? 0) +
      radio.passScatter * luck.normal();
    const presented = cell.load(luck).map((placed) => {
      const weakness =
        passWeakness +
        (radio.orientation[placed.orientation] ?? 0) +
        (radio.level[placed.level] ?? 0) +
        (placed.orientation === "edge-on" && placed.level === "top" ? radio.edgeOnTop : 0) +
        radio.tagScatter * tagEffect(plan.seed, placed.tag);
      const missed = luck.chance(logistic(radio.base + weakness));
      return missed || plan.deadTags.includes(placed.tag)
        ? silent(placed)
        : answer(luck, placed, weakness, radio);
    });
    const uninvited = (placed: PlacedTag): WalkedTag =>
      answer(luck, placed, 5 + Math.abs(luck.normal()), radio);
    const bystanders = cell.bystanders.map((placed) =>
      luck.chance(radio.bystanderHeard) ? uninvited(placed) : silent(placed),
    );
    const strays = luck.chance(radio.strayHeard)
      ? luck
          .shuffled(plan.storeTags)
          .slice(0, luck.integer(1, 2))
          .map((tag) => uninvited({ tag, orientation: "facing", level: "bottom" }))
      : [];
    return {
      round: plan.round,
      readPoint: plan.readPoint,
      id: `P${String(index + 1).padStart(digits, "0")}`,
      startedAt,
      endedAt,
      values: cell.values,
      speedMetresPerSecond: speed === null ? null : speed.toFixed(2),
      manifest: cell.manifest,
      presented,
      bystanders,
      strays,
      voidReason: incident?.voidReason ?? "",
      walkedBy: luck.pick(plan.walkers),
      note: incident?.note ?? "",
    };
  });
}
