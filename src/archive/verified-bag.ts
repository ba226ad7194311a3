import { type Fault, fault } from "./bag/fault.ts";
import {
  checkSignatures,
  checkTimestamps,
  type KnownSigners,
  type Signature,
  type StampFile,
} from "./check-seal.ts";
import { type JourneyJudge, type JudgedAgain, judgedAgain } from "./judged-again.ts";
import { checkedBag, type OpenedBag } from "./opened-bag.ts";
import { resultFile } from "./seal-layout.ts";

/** What came of checking a bag, for other programs as it is. */
export interface Verified {
  bag: string;
  isSeal: boolean;
  holds: boolean;
  files: number;
  faults: Fault[];
  warnings: Fault[];
  /** SHA-256 of the sealed result; null where there is none. */
  evidenceMark: string | null;
  signatures: Signature[];
  timestamps: StampFile[];
  /** Null where nothing was judged again. */
  judgedAgain: JudgedAgain | null;
}

const nothingFound: Omit<Verified, "bag"> = {
  isSeal: false,
  holds: false,
  files: 0,
  faults: [],
  warnings: [],
  evidenceMark: null,
  signatures: [],
  timestamps: [],
  judgedAgain: null,
};

/** Where there is no bag at all. */
export function notABag(bag: string, says: string): Verified {
  return { ...nothingFound, bag, faults: [fault("format", null, says)] };
}

/** How a bag is checked. */
export interface Asked {
  /** The bag's place, as the user named it. */
  bag: string;
  known: KnownSigners | null;
  /** Whether nothing is to be judged again. */
  bagOnly: boolean;
  judgeJourney: JourneyJudge;
  onStep: (text: string) => void;
}

/**
 * Checks a bag; of a seal that holds also who signed it, and that its inputs still give its figures. Of one that does not hold
 * nothing more is said: it is not the one that was signed.
 */
export async function verifiedBag({ files, isZip }: OpenedBag, asked: Asked): Promise<Verified> {
  const { bag, known, bagOnly, judgeJourney, onStep } = asked;
  const checked = await checkedBag(files, onStep);
  const found: Verified = {
    ...nothingFound,
    bag,
    isSeal: checked.isSeal,
    files: files.sizes.size,
    faults: checked.faults,
    warnings: checked.warnings,
  };
  if (!checked.isSeal || checked.faults.length > 0) return { ...found, holds: checked.faults.length === 0 };
  const { signatures, faults } = await checkSignatures(files, known);
  const stamps = await checkTimestamps(files);
  const evidenceMark = files.sizes.has(resultFile) ? await checked.checksum(resultFile, "sha256") : null;
  const isJudged = !bagOnly && faults.length + stamps.faults.length === 0 && evidenceMark !== null;
  if (isJudged) onStep("Judging the inputs again");
  const again = isJudged ? await judgedAgain({ files, folder: isZip ? null : bag, judgeJourney }) : null;
  const all = [...faults, ...stamps.faults, ...figureFaults(again)];
  return {
    ...found,
    faults: all,
    holds: all.length === 0,
    signatures,
    timestamps: stamps.timestamps,
    evidenceMark,
    judgedAgain: again,
  };
}

/** The version that made a result must make it again; another one may well differ, and says where. */
function figureFaults(again: JudgedAgain | null): Fault[] {
  if (again === null || again.sealedBy !== again.judgedBy) return [];
  if (again.outcome !== "differs" && again.outcome !== "refused") return [];
  const what = again.outcome === "refused" ? "cannot be judged" : "give other figures";
  const says = `The sealed inputs ${what}, by the version of proofwalk that stands in ${resultFile}.`;
  return [fault("figures", resultFile, says)];
}
