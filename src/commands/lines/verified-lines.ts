import type { Fault } from "../../archive/bag/fault.ts";
import type { JudgedAgain } from "../../archive/judged-again.ts";
import type { Verified } from "../../archive/verified-bag.ts";
import { counted } from "../../model/number-words.ts";
import { markText } from "../../pages/parts/archive.ts";
import { problemSentence } from "../../pages/words/problems.ts";
import { plain } from "./text.ts";

/** More faults or differences than this are counted: --json has them all. */
const mostLines = 200;

/** What verify says to a person. */
export function verifiedLines(verified: Verified): string {
  const { bag, isSeal, holds, files, faults, warnings } = verified;
  const what = isSeal ? "seal" : "bag";
  const head = holds
    ? `${bag}: the ${what} holds. ${counted(files, "file", "files")}: none changed, none missing, none added.`
    : `${bag}: ${brokenPart(faults) ?? `the ${what} does not hold`}.`;
  const lines = [
    head,
    ...capped(faults.map(({ says }) => `  ${says}`)),
    ...capped(warnings.map(({ says }) => `  Remark: ${says}`)),
    ...(isSeal ? sealLines(verified) : []),
  ];
  return lines.map((line) => `${plain(line)}\n`).join("");
}

/** What does not hold of a seal whose files do; null where the files do not. */
function brokenPart(faults: Fault[]): string | null {
  if (faults.every(({ kind }) => kind === "signature")) return "the files hold, the signatures do not";
  if (faults.every(({ kind }) => kind === "timestamp")) return "the files hold, a time stamp does not";
  return faults.every(({ kind }) => kind === "figures") ? "the files hold, the figures do not" : null;
}

function capped(lines: string[]): string[] {
  return lines.length <= mostLines
    ? lines
    : [...lines.slice(0, mostLines), `  and ${lines.length - mostLines} more: --json has them all`];
}

function sealLines({ evidenceMark, signatures, timestamps, judgedAgain }: Verified): string[] {
  // Of a seal that was changed nothing more is said: it is not the one that was signed.
  if (evidenceMark === null) return [];
  return [
    `Evidence mark ${markText(evidenceMark)}`,
    ...(signatures.length === 0 ? ["Nobody has signed it."] : []),
    ...signatures.map(({ name, kind, fingerprint, isAllowed }) => {
      const whose =
        isAllowed === null
          ? "Whose key that is, a list tells: --allowed-signers FILE."
          : isAllowed
            ? "The list of allowed signers has it."
            : "The list of allowed signers does not have it.";
      return `Signed as ${name} with ${kind} ${fingerprint}. ${whose}`;
    }),
    ...capped(
      timestamps.map(({ file, at }) =>
        at === null
          ? `${file}: nothing can be told of it here.`
          : `${file}: a service had the seal at ${at}, if the token is the service's. That is not checked here: HOW-TO-VERIFY.txt says how.`,
      ),
    ),
    ...(judgedAgain === null ? [] : judgedLines(judgedAgain)),
  ];
}

function judgedLines(again: JudgedAgain): string[] {
  const { outcome, sealedBy, judgedBy, differences, problems } = again;
  const by =
    sealedBy === judgedBy ? `proofwalk ${judgedBy}` : `proofwalk ${judgedBy}; it was sealed by ${sealedBy}`;
  if (outcome === "no-inputs") return ["The inputs are not in the seal, so nothing was judged again."];
  if (outcome === "same") return [`Judged again by ${by}: the same result.`];
  if (outcome === "refused")
    return [
      `Judged again by ${by}: the inputs are refused.`,
      ...capped(
        problems.filter(({ severity }) => severity === "error").map((one) => `  ${problemSentence(one)}`),
      ),
    ];
  return [
    `Judged again by ${by}: ${counted(differences.length, "difference", "differences")}.`,
    ...capped(
      differences.map((difference) => {
        const side = (key: "sealed" | "judged") =>
          key in difference ? shortJson(difference[key]) : "not there";
        return `  ${difference.at}: ${side("sealed")} sealed, ${side("judged")} now`;
      }),
    ),
  ];
}

function shortJson(value: unknown): string {
  const text = JSON.stringify(value);
  return text.length > 80 ? `${text.slice(0, 77)}...` : text;
}
