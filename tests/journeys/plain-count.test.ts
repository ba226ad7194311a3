import { expect, test } from "vitest";
import type { Files } from "../intake/folder.ts";
import { carrierRule, chainFiles, everyCriterion, heading, judged, legs } from "./chain-folder.ts";

/* A second, plain count of random chains, row by row and without any index: the sentences of docs/journeys.md as loops. */

interface Row {
  run: string;
  tag: string;
  carrier: string;
  from: number;
  to: number;
  isVoid: boolean;
}

interface Seen {
  place: string;
  tag: string;
  at: number;
}

/** Numbers that are the same on every run: a multiplicative generator (Lehmer). */
function numbers(seed: number): (most: number) => number {
  let state = seed;
  return (most) => {
    state = (state * 48271) % 2147483647;
    return state % most;
  };
}

const stations = [
  { place: "plant,desk", withinS: 600 },
  { place: "plant,gate", withinS: 3600 },
  { place: "depot,door", withinS: 7200 },
  { place: "depot,ceiling", withinS: null },
];
const askCarrier = [1, 2];
const epoch = Date.UTC(2026, 5, 15, 8) / 1000;
const iso = (seconds: number) => new Date(seconds * 1000).toISOString();

function randomChain(seed: number): { rows: Row[]; seen: Seen[] } {
  const next = numbers(seed);
  const rows: Row[] = [];
  const seen: Seen[] = [];
  for (let run = 0; run < 6; run += 1) {
    const from = epoch + run * 30_000 + next(900);
    for (let item = 0; item < 1 + next(4); item += 1) {
      const tag = `T${run % 3}-${item}`;
      const carrier = next(8) === 0 ? "" : `C${next(2)}`;
      rows.push({ run: `R${run}`, tag, carrier, from, to: from + 20_000, isVoid: next(9) === 0 });
      let at = from;
      for (const { place } of stations) {
        if (next(6) === 0) continue;
        at += next(20) === 0 ? -300 : next(4000);
        seen.push({ place, tag, at }, { place, tag, at: at + next(50) });
        if (carrier !== "" && next(4) > 0) seen.push({ place, tag: carrier, at: at - 70 + next(140) });
      }
      if (next(6) === 0) seen.push({ place: "depot,yard", tag, at: from + next(9000) });
    }
  }
  return { rows, seen };
}

function plainCount({ rows, seen }: { rows: Row[]; seen: Seen[] }) {
  const counts = {
    legs: stations.map(() => [0, 0]),
    whole: [0, 0],
    order: [0, 0],
    who: [0, 0],
    wrong: [] as string[],
  };
  const add = (count: number[], isHit: boolean) => {
    count[0]! += isHit ? 1 : 0;
    count[1]! += 1;
  };
  for (const { run, tag, carrier, from, to, isVoid } of rows) {
    if (isVoid) continue;
    const own = seen.filter((one) => one.tag === tag && one.at >= from && one.at <= to);
    const firsts: number[] = [];
    let since = from;
    let isWhole = true;
    for (const [leg, { place, withinS }] of stations.entries()) {
      const times = own.filter((one) => one.place === place).map(({ at }) => at);
      const first = Math.min(...times);
      const isSeen = times.length > 0 && (withinS === null || first - since <= withinS);
      add(counts.legs[leg]!, isSeen);
      if (!isSeen) {
        if (leg < 3) isWhole = false;
        continue;
      }
      firsts.push(first);
      since = first;
      if (askCarrier.includes(leg) && carrier !== "")
        add(
          counts.who,
          seen.some((one) => one.tag === carrier && one.place === place && Math.abs(one.at - first) <= 60),
        );
    }
    add(counts.whole, isWhole);
    if (firsts.length >= 2)
      add(
        counts.order,
        firsts.every((at, i) => i === 0 || at >= firsts[i - 1]!),
      );
    if (own.some(({ place }) => place === "depot,yard")) counts.wrong.push(`${run} ${tag}`);
  }
  return counts;
}

test("random chains come to what a plain count of them does", async () => {
  const chains = Array.from({ length: 12 }, (_, i) => randomChain(1000 + 37 * i));
  const texts = ({ rows, seen }: (typeof chains)[0]) => ({
    runs: `run,tag,carrier,started_at,ended_at,void_reason\n${rows
      .map(
        (row) =>
          `${row.run},${row.tag},${row.carrier},${iso(row.from)},${iso(row.to)},${row.isVoid ? "rain" : ""}\n`,
      )
      .join("")}`,
    sightings: `time,facility,read_point,tag\n${seen
      .map(({ place, tag, at }) => `${iso(at)},${place},${tag}\n`)
      .join("")}`,
  });
  const yaml = heading + legs + carrierRule + everyCriterion;
  const more = Object.assign(
    {},
    ...chains.slice(1).map((chain, i): Files => {
      const { runs, sightings } = texts(chain);
      const id = `journeys/more-${String(i).padStart(2, "0")}`;
      return { [`${id}.yaml`]: yaml, [`${id}/runs.csv`]: runs, [`${id}/sightings.csv`]: sightings };
    }),
  );
  const { journeys } = await judged(chainFiles({ ...texts(chains[0]!), more }));
  expect(journeys).toHaveLength(12);
  for (const [i, journey] of journeys.entries()) {
    const plain = plainCount(chains[i]!);
    const of = (criterion: string) =>
      journey.findings
        .filter((finding) => finding.criterion === criterion)
        .map(({ estimate: { k, n } }) => [k, n]);
    expect(of("legs"), journey.id).toEqual(plain.legs);
    expect([...of("whole"), ...of("order"), ...of("who")], journey.id).toEqual([
      plain.whole,
      plain.order,
      plain.who,
    ]);
    const wrong = journey.wrongPlaces.map(
      ({ item }) => `${journey.items[item]!.run} ${journey.items[item]!.tag}`,
    );
    expect(wrong.sort(), journey.id).toEqual(plain.wrong.sort());
    expect(plain.whole[1], journey.id).toBeGreaterThan(3);
  }
});
