import { readFileSync } from "node:fs";
import type { KnownSigners } from "../archive/check-seal.ts";
import type { JourneyJudge } from "../archive/judged-again.ts";
import type { Verified } from "../archive/verified-bag.ts";
import type { JourneyResult } from "../model/journey/journey-result.ts";
import { type Command, type Exit, ExitStatus, type Words } from "./command.ts";
import { progressOn, type Terminal } from "./lines/terminal.ts";
import { jsonText, plain } from "./lines/text.ts";

/** Checks a seal, who signed it, and that its inputs still give its figures. Starts no other program. */
export const verify: Command = {
  name: "verify",
  summary: "checks a seal: files, signatures, and the verdict once more",
  options: ["allowed-signers", "bag-only", "json"],
  operand: {
    placeholder: "BAG",
    advice:
      "verify needs a seal, as a folder or as the zip that seal wrote: proofwalk verify archive/north-hall-N-1-A",
  },
  examples: [
    { words: "verify archive/north-hall-N-1-A", purpose: "check everything, and judge the inputs again" },
    {
      words: "verify archive/north-hall-N-1-A --allowed-signers signers",
      purpose: "and that only these people signed",
    },
    { words: "verify bag --bag-only", purpose: "check a bag of any kind by RFC 8493" },
  ],
  exits: { 0: "it holds", 4: "it does not hold; what was changed, added or is missing is named" },
  run: verifyBag,
};

async function verifyBag(
  { operand, allowedSigners, bagOnly, json }: Words,
  terminal: Terminal,
): Promise<Exit> {
  const refused = (says: string) => {
    terminal.err(`${plain(says)}\n`);
    return ExitStatus.refused;
  };
  const known = await knownSigners(allowedSigners);
  if (typeof known === "string") return refused(known);
  const { openBag } = await import("../archive/opened-bag.ts");
  const { notABag, verifiedBag } = await import("../archive/verified-bag.ts");
  const place = await openBag(operand);
  if (place.kind === "none") return refused(`There is no "${operand}".`);
  if (place.kind !== "bag") {
    const says =
      place.kind === "file"
        ? `"${operand}" is not a zip that seal wrote, or was changed since. If another program packed it, unpack it and verify the folder.`
        : `"${operand}" is no bag: it has neither bagit.txt nor a manifest.`;
    return bagOnly ? told(notABag(operand, says), { json, terminal }) : refused(says);
  }
  const progress = progressOn(terminal);
  const verified = await verifiedBag(place, {
    bag: operand,
    known,
    bagOnly,
    judgeJourney,
    onStep: progress.step,
  });
  progress.done();
  if (!verified.isSeal && verified.holds && !bagOnly)
    return refused(
      `"${operand}" is a bag that holds, but not one that seal wrote. --bag-only checks such bags.`,
    );
  return told(verified, { json, terminal });
}

async function judgeJourney(data: string, id: string): ReturnType<JourneyJudge> {
  const { InputRefused, judgeAll } = await import("./data/judge-all.ts");
  const journeys: JourneyResult[] = [];
  try {
    const facilities = judgeAll(
      { data, only: [id] },
      { step: () => {}, done: () => {} },
      { onJourney: (journey) => journeys.push(journey) },
    );
    // Facilities are judged for the journey, and none of them is asked for.
    for await (const _ of facilities);
  } catch (refusal) {
    if (!(refusal instanceof InputRefused)) throw refusal;
    return { result: null, problems: refusal.problems };
  }
  return { result: journeys.find((journey) => journey.id === id) ?? null, problems: [] };
}

/** The list of signers, null where none was named, or why it cannot be used. */
async function knownSigners(file: string): Promise<KnownSigners | null | string> {
  if (file === "") return null;
  const { readAllowedSigners, SignersRefused } = await import("../archive/ssh/allowed-signers.ts");
  try {
    return { signers: readAllowedSigners(readFileSync(file, "utf8"), file), now: new Date() };
  } catch (fault) {
    if (fault instanceof SignersRefused) return fault.message;
    const reason = (fault as NodeJS.ErrnoException).code;
    if (reason === undefined) throw fault;
    return `"${file}" cannot be read (${reason}). --allowed-signers needs a list of names and keys.`;
  }
}

async function told(
  verified: Verified,
  { json, terminal }: { json: boolean; terminal: Terminal },
): Promise<Exit> {
  const { verifiedLines } = await import("./lines/verified-lines.ts");
  terminal.out(json ? jsonText({ schemaVersion: 1, ...verified }) : verifiedLines(verified));
  return verified.holds ? ExitStatus.fine : ExitStatus.broken;
}
