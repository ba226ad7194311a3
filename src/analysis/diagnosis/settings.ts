import type { Setting } from "../../model/diagnosis/why.ts";
import { joined } from "../../model/number-words.ts";
import { byCodePoint } from "../../model/order.ts";
import type { LoggedSettings } from "../../model/pass-log.ts";
import { comparableValue, knownSettings, settingKey } from "../../model/radio/setting-names.ts";
import type { Candidate, DiagnosedPoint, Source } from "./misses/candidate.ts";

/** Other words of names whose values belong to how a reader was set, and not to when and where a log was written. */
const settingWords =
  /power|session|population|target|mode|profile|attenuation|gain|sensitivity|tari|dwell|region/;

interface Stated extends Pick<LoggedSettings, "file"> {
  name: string;
  value: string;
}

/** The settings that readers' logs state, held against those that the round declares and against each other. */
export const settings: Source<Setting[]> = (point) => {
  const { walked, place } = point;
  const logs = (walked.log.heard?.settings ?? []).filter(
    ({ readPoint, round }) => readPoint === place.readPoint && round === place.round,
  );
  const rows = logs.length === 0 ? [] : compared(point, logs);
  return {
    candidates: rows.flatMap((row) => (row.agrees ? [] : [candidateOf(row, place.round)])),
    details: () => (rows.length === 0 ? null : rows),
  };
};

function compared({ walked, place }: DiagnosedPoint, logs: readonly LoggedSettings[]): Setting[] {
  const round = walked.facility.rounds.find(({ id }) => id === place.round);
  const declared = new Map(
    Object.entries(round?.settings[place.readPoint] ?? {}).map(([name, value]) => [
      settingKey(name),
      { name, value },
    ]),
  );
  const stated = new Map<string, Stated[]>();
  for (const { file, values } of logs) {
    for (const { name, value } of values) {
      const key = settingKey(name);
      if (!declared.has(key) && !settingWords.test(key) && !knownSettings.has(key)) continue;
      stated.set(key, [...(stated.get(key) ?? []), { file, name, value }]);
    }
  }
  return [...stated.keys()].sort(byCodePoint).map((key) => {
    const own = stated.get(key)!;
    const said = declared.get(key) ?? null;
    const all = [...own, ...(said === null ? [] : [said])].map(({ name, value }) =>
      comparableValue(name, value),
    );
    return {
      setting: said?.name ?? own[0]!.name,
      declared: said?.value ?? null,
      logged: own.map(({ file, value }) => ({ file, values: [value] })),
      agrees: new Set(all).size === 1,
    };
  });
}

/** What logs state is a fact, and no test: it explains no miss by itself. */
function candidateOf({ setting, declared, logged }: Setting, round: string): Candidate {
  const files = joined(logged.slice(0, 3).map(({ file, values }) => `${values[0]} in ${file}`));
  const more = logged.length > 3 ? `, and so on in ${logged.length} logs` : "";
  const sentence =
    declared === null
      ? `The logs of round ${round} state different values of ${setting}: ${files}${more}. Find out which passes were walked with which.`
      : `Round ${round} declares ${setting} ${declared}, and its logs state ${files}${more}. Find out which holds.`;
  return {
    kind: "setting",
    subject: { setting },
    p: null,
    counts: null,
    ratio: null,
    covers: null,
    explains: 0,
    sentence,
  };
}
