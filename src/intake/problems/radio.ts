import { joined } from "../../model/number-words.ts";
import type { RadioResult } from "../../model/radio/radio-settings.ts";
import { problem } from "./problem.ts";
import { quoted } from "./wording.ts";

/* What facility.yaml says of the radio, and of the pauses that it asks for. */

export const radioLimitUnstated = problem(
  {
    code: "radio-limit-unstated",
    severity: "error",
    means: "A limit of radiated power is to hold that is not stated, or has no source.",
    advice: "State limit_dbm_eirp or limit_dbm_erp, and its source.",
  },
  {
    limit: () => ({
      expected: "limit_dbm_eirp or limit_dbm_erp, with a source, where the region is other",
      advice: "Look up what the rule of your country allows, and state it with its source.",
    }),
    source: () => ({
      expected: "a source beside the limit",
      advice: "Add source: the rule, licence or agreement that the limit comes from.",
    }),
  },
);

export const radioStatedTwice = problem(
  {
    code: "radio-stated-twice",
    severity: "error",
    means: "A limit or a gain is stated in two ways.",
    advice: "Keep the one that the rule or the data sheet states, and remove the other.",
  },
  {
    limit: ({ eirp }: { eirp: number }) => ({
      expected: `2.15 dB less than limit_dbm_eirp, ${eirp}`,
      advice: "e.r.p. is 2.15 dB less than EIRP: keep the one that the rule states, and remove the other.",
    }),
    gain: () => ({
      expected: "either antenna_gain_dbi or antenna_gain_dbic",
      advice:
        "dBic is the gain of a circular antenna, about 3 dB above its gain in one plane: keep the one that the data sheet states.",
    }),
  },
);

export const radioFrequencyOutside = problem(
  {
    code: "radio-frequency-outside",
    severity: "error",
    means: "A frequency lies outside the band of its region.",
    advice: "Correct the frequency or the region.",
  },
  {
    with: ({ region, from, to }: { region: string; from: number; to: number }) => ({
      expected: `${from} to ${to} MHz in region ${region}`,
    }),
  },
);

export const radioPowerUnknown = problem(
  {
    code: "radio-power-unknown",
    severity: "warning",
    means: "A radio has a limit, but what it radiates cannot be computed.",
    advice: "State the power in the round's settings, as transmit_power_dbm, and the antenna's gain.",
  },
  {
    with: ({ lacking }: { lacking: string[] }) => ({
      expected: joined(lacking),
      advice: "Without it nobody is told whether the limit is kept.",
    }),
  },
);

export const radioOverLimit = problem(
  {
    code: "radio-over-limit",
    severity: "warning",
    means: "A radio is set to radiate more than its limit allows.",
    advice:
      "Lower the power, or ask the person responsible for the radio licence. Passes walked over the limit say nothing of how the read point reads within it.",
  },
  {
    with: ({ readPoint, radio }: { readPoint: string; radio: RadioResult }) => ({
      found: `${quoted(readPoint)} at ${dB(radio.eirpDbm!)} dBm EIRP (${dB(radio.conductedDbm!)} dBm at the antenna) in round ${quoted(radio.round)}`,
      expected: `at most ${dB(radio.limitDbm!)} dBm EIRP${radio.conductedLimitDbm === null ? "" : ` and ${dB(radio.conductedLimitDbm)} dBm at the antenna`}: ${radio.source}`,
    }),
  },
);

const dB = (value: number) => value.toFixed(2).replace(/\.?0+$/, "");

export const pauseTooShort = problem(
  {
    code: "pause-within-persistence",
    severity: "warning",
    means:
      "Tags of one pass are presented again before their session has let them answer: the later pass may miss them for that alone.",
    advice: "Wait longer between passes that present the same tags, or take session 0.",
  },
  {
    with: (facts: {
      pass: string;
      before: string;
      session: string;
      pauseS: number;
      fromS: number;
      toS: number | null;
      tags: number;
    }) => ({
      found: `pass ${quoted(facts.pass)} ${Number(facts.pauseS.toFixed(1))} s after pass ${quoted(facts.before)}, with ${facts.tags === 1 ? "one tag" : `${facts.tags} tags`} of both, in session ${facts.session}`,
      expected:
        facts.toS === null
          ? `a pause of more than ${facts.fromS} s: tags keep silent for at least that long in session ${facts.session}, and with power for as long as they have it`
          : `a pause of ${facts.toS} s or more: tags keep silent for ${facts.fromS} to ${facts.toS} s in session ${facts.session}`,
    }),
  },
);
