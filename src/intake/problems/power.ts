import { counted, joined } from "../../model/number-words.ts";
import { transmitPowerDbm } from "../../model/radio/power-steps.ts";
import { problem } from "./card/problem.ts";
import { quoted } from "./card/wording.ts";

/* What power logs say: tags read at each transmit power. */

const range = `${transmitPowerDbm.lowest} to ${transmitPowerDbm.highest} dBm`;

export const powerLogUnclear = problem(
  {
    code: "power-log-unclear",
    severity: "error",
    means: "A power log neither counts tags nor names them, or does both.",
    advice:
      "One row a power has tags_presented and tags_read; one row a tag has tag and read. Keep the columns of one of the two.",
  },
  {
    with: ({ columns }: { columns: readonly string[] }) => ({
      found:
        columns.length === 0
          ? "neither tags_presented and tags_read nor tag and read"
          : `the columns ${joined(columns.map(quoted))}`,
      expected: "tags_presented and tags_read, or tag and read",
    }),
  },
);

export const powerOutOfRange = problem(
  {
    code: "power-out-of-range",
    severity: "error",
    means: "A transmit power is blank, or not a power in dBm that a reader could transmit at.",
    advice: "Write the transmit power that the reader was set to, in dBm, for example 27.5.",
  },
  {
    with: ({ text, dbm }: { text: string; dbm: number }) => ({
      expected: `a transmit power from ${range}`,
      ...powerAdvice(text, dbm),
    }),
  },
);

/** @param dbm NaN where the text is not a number */
function powerAdvice(text: string, dbm: number): { advice?: string } {
  if (text === "")
    return { advice: "Fill it in: without its power a row says nothing of what the power does." };
  if (dbm > 1000) return { advice: `Is this in hundredths of a dB? Then write ${dbm / 100}.` };
  if (dbm > transmitPowerDbm.highest)
    return { advice: `Is this in milliwatts? Then write ${(10 * Math.log10(dbm)).toFixed(1)}.` };
  return {};
}

export const powersTooFew = problem(
  {
    code: "powers-too-few",
    severity: "warning",
    means: "A power log has fewer than two powers of a read point in a round, so that no curve can be made.",
    advice:
      "Measure at five powers or more, from one at which few tags are read to one at which nearly all are.",
  },
  {
    with: ({ readPoint, round, powers }: { readPoint: string; round: string; powers: number }) => ({
      found: `${counted(powers, "power", "powers")} with tags at ${quoted(readPoint)} in round ${quoted(round)}`,
      expected: "at least two powers with tags presented",
    }),
  },
);

export const powerInUseMissing = problem(
  {
    code: "power-in-use-missing",
    severity: "warning",
    means:
      "A read point has a power log, and the settings of its sign-off round do not state the power in use.",
    advice: "State it, in dBm: without it there is no margin.",
  },
  {
    with: ({ readPoint, round }: { readPoint: string; round: string }) => ({
      found: `no transmit_power_dbm of ${quoted(readPoint)} in round ${quoted(round)}`,
      expected: "the transmit power in use, in dBm",
      advice: `Write it into the round: settings: { ${readPoint}: { transmit_power_dbm: 30 } } with the power that was set. Without it there is no margin.`,
    }),
  },
);
