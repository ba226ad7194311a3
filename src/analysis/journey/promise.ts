import type { Estimate } from "../../model/estimate.ts";
import type { Leg } from "../../model/journey/journey.ts";
import type { JourneyPromise } from "../../model/journey/promise.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import type { Result } from "../../model/result/result.ts";
import type { State } from "../../model/state.ts";
import { chainBounds } from "../../statistics/frechet.ts";

/** What a journey takes of a facility's own result. */
export interface WalkedPlaces {
  id: string;
  name: string;
  timeZone: string | null;
  state: State;
  /** Whether its files hold names that its pages do not. */
  pseudonyms: boolean;
  /** The files that it was judged on; paths are relative to the data folder. */
  inputs: readonly InputFile[];
  /** By id: the round that a read point is judged on, and its tag read rate there. */
  readPoints: ReadonlyMap<string, { round: string; rate: Estimate }>;
}

/** Each read point's tag read rate in its own sign-off round; one without such a round is left out. */
export function walkedPlaces(result: Result): WalkedPlaces {
  const { facility, state, readPoints, journeys = [] } = result;
  const { id, name, timeZone } = facility;
  const inputs = [
    ...result.inputs.map((input) => ({ ...input, path: `${id}/${input.path}` })),
    ...journeys.flatMap((journey) => journey.inputs),
  ];
  const pseudonyms = result.pseudonyms !== undefined || journeys.some((journey) => journey.pseudonyms);
  const rates = readPoints.flatMap((readPoint) => {
    const round = readPoint.rounds.find((each) => each.id === readPoint.signOffRound);
    return round === undefined ? [] : [[readPoint.id, { round: round.id, rate: round.tagReadRate }] as const];
  });
  return { id, name, timeZone, state, pseudonyms, inputs, readPoints: new Map(rates) };
}

/**
 * What the read points' own walks promise of the share of items that are seen on every leg that is not optional, beside that
 * share: the product of their rates, which holds if the legs miss independently, and Fréchet's bounds, which hold however they depend
 * on each other.
 */
export function promiseOf(
  legs: readonly Leg[],
  share: Estimate,
  walked: ReadonlyMap<string, WalkedPlaces>,
): JourneyPromise {
  const own = legs
    .filter(({ optional }) => !optional)
    .map(({ id, facility, readPoint }) => {
      const place = walked.get(facility)?.readPoints.get(readPoint) ?? null;
      const isWalked = place !== null && place.rate.n > 0;
      return {
        leg: id,
        facility,
        readPoint,
        round: place?.round ?? null,
        rate: isWalked ? place.rate : null,
      };
    });
  const missing = own.filter(({ rate }) => rate === null).map(({ leg }) => leg);
  const none = {
    legs: own,
    missing,
    product: null,
    bounds: null,
    widest: null,
    share,
    outside: null,
    surely: false,
  };
  if (missing.length > 0 || own.length === 0) return none;
  const of = (figure: "value" | "lower" | "upper") => own.map(({ rate }) => rate![figure]!);
  const product = (rates: number[]) => rates.reduce((all, rate) => all * rate, 1);
  const bounds = chainBounds(of("value"));
  const widest = { lower: chainBounds(of("lower")).lower, upper: chainBounds(of("upper")).upper };
  const { value, lower, upper } = share;
  const outside = value === null ? null : sideOf(value, bounds);
  const surely =
    (outside === "below" && upper !== null && upper < widest.lower) ||
    (outside === "above" && lower !== null && lower > widest.upper);
  return {
    ...none,
    product: { value: product(of("value")), lower: product(of("lower")), upper: product(of("upper")) },
    bounds,
    widest,
    outside,
    surely,
  };
}

/** What binary arithmetic may add to a sum of rates. */
const hair = 1e-12;

function sideOf(value: number, { lower, upper }: { lower: number; upper: number }): "below" | "above" | null {
  if (value < lower - hair) return "below";
  return value > upper + hair ? "above" : null;
}
