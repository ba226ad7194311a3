import type { WalkedFacility } from "../../../src/model/rows.ts";
import { type WalkedRow, walkedFacility } from "../../../tests/analysis/walked.ts";
import { seededStream } from "../walk-model.ts";
import { normalStream, nothingSaid, type PlantedFault, subjectIs } from "./planted-fault.ts";

/** One presentation of a walk without a fault: which tag, in which pass, how it lay. */
interface Presentation {
  pass: number;
  tag: number;
  orientation: string;
  height: string;
  speed: string;
}

/** The share of presentations of a kind that is missed; null where the fault does not touch it. */
type MissRate = (presentation: Presentation) => number | null;

const passes = 24;
const tags = 40;
/** What every presentation is missed with, on the logit scale, and how passes and tags scatter about it. */
const usual = { logit: Math.log(0.01 / 0.99), scatter: 0.3 };
const orientations = ["flat", "edge-on", "upright"];
const heights = ["top", "middle", "bottom"];
const speeds = ["slow", "fast"];

/** The first and last bad pass of the planted run. */
const run = { from: 9, to: 14 };

/** Faults of tags, of places in the load and of passes, told by what was missed. */
export const missFaults: readonly PlantedFault[] = [
  {
    name: "a dead tag",
    walk: walkWith(({ tag }) => (tag === 17 ? 0.9 : null)),
    isNamed: subjectIs("tag", { tag: "T17" }),
  },
  {
    name: "a weak position",
    walk: walkWith(({ height }) => (height === "top" ? 0.12 : null)),
    isNamed: subjectIs("condition", { height: "top" }),
  },
  {
    name: "a pair of conditions",
    walk: walkWith(({ orientation, height }) => (orientation === "edge-on" && height === "top" ? 0.3 : null)),
    isNamed: subjectIs("condition", { orientation: "edge-on", height: "top" }),
  },
  {
    name: "a run of bad passes",
    walk: walkWith(({ pass }) => (pass >= run.from && pass <= run.to ? 0.2 : null)),
    isNamed: (first) => {
      if (first?.kind !== "run-of-passes") return false;
      const [from, to] = [Number(first.subject.from), Number(first.subject.to)];
      const shared = Math.min(to, run.to) - Math.max(from, run.from) + 1;
      // Most of what is named was planted, and most of what was planted is named.
      return shared * 2 > to - from + 1 && shared * 2 > run.to - run.from + 1;
    },
  },
  { name: "no fault", walk: walkWith(() => null), isNamed: nothingSaid },
];

const conditions = ["orientation", "height", "speed"].map((column) => ({
  column,
  label: column,
  unit: null,
  bands: null,
}));

/** 24 passes of 40 tags. With even seeds a tag lies in its own place throughout, as in a load; with odd ones anywhere. */
function walkWith(missRate: MissRate): (seed: number) => WalkedFacility {
  return (seed) => {
    const random = seededStream(seed);
    const pick = (list: readonly string[]) => list[Math.floor(random() * list.length)]!;
    const normal = normalStream(random);
    const placesOfTags = Array.from({ length: tags }, () => ({
      orientation: pick(orientations),
      height: pick(heights),
    }));
    const ofTags = placesOfTags.map(() => usual.scatter * normal());
    const rows: WalkedRow[] = [];
    for (let pass = 1; pass <= passes; pass += 1) {
      const speed = speeds[pass % 2]!;
      const ofPass = usual.scatter * normal();
      const startedAt = `2026-05-21T10:${String(pass).padStart(2, "0")}:00Z`;
      for (let tag = 0; tag < tags; tag += 1) {
        const place =
          seed % 2 === 0 ? placesOfTags[tag]! : { orientation: pick(orientations), height: pick(heights) };
        const rate =
          missRate({ pass, tag, speed, ...place }) ??
          1 / (1 + Math.exp(-(usual.logit + ofPass + ofTags[tag]!)));
        rows.push({
          pass: `${pass}`,
          tag: `T${tag}`,
          startedAt,
          straysRecorded: false,
          read: random() >= rate,
          columns: { ...place, speed },
        });
      }
    }
    return walkedFacility({ conditions, criteria: [] }, rows);
  };
}
