import { stateOf } from "../../src/analysis/findings/verdict.ts";
import type { Basis } from "../../src/intervals/interval.ts";
import { type EventCounts, eventEvidence } from "../../src/measures/evidence/events.ts";
import { seededStream } from "./walk-model.ts";

/** Tags that come at random while nothing is presented, and stay. */
interface StayModel {
  /** Minutes that a tag stays. */
  stay: number;
  /** The share of the minutes of its stay that hear it. */
  heard: number;
  /** Of the session. */
  minutes: number;
}

const asked = { sense: "at-most", limit: 0.5, minimumPasses: 0 } as const;
const basis: Basis = { confidence: 0.95, interval: "wilson", missCorrelation: 0.02 };

const models: StayModel[] = [1, 5, 10, 20].flatMap((stay) =>
  [1, 1 / 2, 1 / 3]
    .filter((heard) => heard === 1 || stay > 1)
    .map((heard) => ({ stay, heard, minutes: 240 })),
);

/** How often sessions at the limit come out met, and how often untested. */
export interface StayShare extends StayModel {
  walks: number;
  seed: number;
  /** 0..1. */
  wronglyMet: number;
  wronglyNotMet: number;
  standardError: number;
  untested: number;
}

export function* stayTable(walks: number, seed: number): Generator<string, StayShare[]> {
  yield `Idle reads wrongly met: true rate at the limit of ${asked.limit} a minute, ${walks} sessions a line, in per cent (target at most 7)`;
  const shares: StayShare[] = [];
  for (const [i, model] of models.entries()) {
    const share = stayShare(model, walks, seed + i);
    shares.push(share);
    const percent = (part: number) => (part * 100).toFixed(2);
    yield `  stays of ${model.stay} min, heard in ${percent(model.heard)} % of it, ${model.minutes} min: wrongly met ${percent(share.wronglyMet)}, standard error ${percent(share.standardError)}, wrongly not met ${percent(share.wronglyNotMet)}, untested ${percent(share.untested)}; seed ${share.seed}`;
  }
  return shares;
}

/** A session at the limit again and again. */
export function stayShare(model: StayModel, walks: number, seed: number): StayShare {
  const random = seededStream(seed);
  const states = { met: 0, "not-met": 0, undecided: 0, untested: 0 };
  for (let i = 0; i < walks; i += 1) {
    const evidence = eventEvidence({ counts: session(model, random), passes: 1, remarks: [] });
    states[stateOf(evidence, asked, basis)] += 1;
  }
  const wronglyMet = states.met / walks;
  return {
    ...model,
    walks,
    seed,
    wronglyMet,
    wronglyNotMet: states["not-met"] / walks,
    standardError: Number(Math.sqrt((wronglyMet * (1 - wronglyMet)) / walks).toPrecision(3)),
    untested: states.untested / walks,
  };
}

/** Tags come as a Poisson process, as many as give the limit on average. */
function session({ stay, heard, minutes }: StayModel, random: () => number): EventCounts {
  const byMinute = new Array<number>(minutes).fill(0);
  const stays = { squares: 0, longest: 0 };
  const perMinute = asked.limit / (stay * heard);
  for (let arrival = 1 - stay; arrival < minutes; arrival += 1) {
    for (let tags = poisson(perMinute, random); tags > 0; tags -= 1) {
      let [count, first, last] = [0, 0, 0];
      for (let minute = arrival; minute < arrival + stay; minute += 1) {
        if (random() >= heard || minute < 0 || minute >= minutes) continue;
        byMinute[minute]! += 1;
        if (count === 0) first = minute;
        last = minute;
        count += 1;
      }
      if (count === 0) continue;
      stays.squares += count * count;
      stays.longest = Math.max(stays.longest, last - first + 1);
    }
  }
  return { events: byMinute.reduce((sum, one) => sum + one, 0), minutes, byMinute, stays };
}

function poisson(mean: number, random: () => number): number {
  let drawn = 0;
  for (let chance = random(); chance > Math.exp(-mean); chance *= random()) drawn += 1;
  return drawn;
}
