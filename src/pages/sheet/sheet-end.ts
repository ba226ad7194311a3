import { intervals } from "../../intervals/index.ts";
import { counted, statedPercent } from "../../model/number-words.ts";
import type { Result } from "../../model/result/result.ts";
import { type Archive, leftOutSentence, pseudonymSentence } from "../parts/archive.ts";
import { briefCautions } from "../parts/cautions.ts";
import { markCode } from "../pictures/mark-code.ts";
import { type SignatureBlock, signatureBlocks } from "./parties.ts";

/** How a sheet to sign ends, whatever it is for: how its figures are to be read, who signs, and what the mark vouches for. */
export interface SheetEnd {
  basis: string;
  cautions: string;
  signatures: SignatureBlock[];
  /** The evidence mark whole, as a QR code; empty where it is not known. */
  markCode: string;
  files: string;
  leftOut: string;
  /** Who holds the names; empty where the sheet has them. */
  pseudonyms: string;
  tool: string;
  /** How many findings the sheet holds, said at its end. */
  findings: string;
}

/** What of a result the end of its sheet is made from. */
type Signed = Pick<Result, "basis" | "preparedBy" | "witnessedBy" | "inputs" | "pseudonyms" | "tool"> & {
  findings: readonly unknown[];
};

export function sheetEnd(result: Signed, client: string | null, archive: Archive): SheetEnd {
  return {
    basis: basisSentence(result),
    cautions: briefCautions,
    signatures: signatureBlocks({ ...result, client }),
    markCode: archive.mark === "" ? "" : markCode(archive.mark),
    files: counted(result.inputs.length, "file", "files"),
    leftOut: leftOutSentence(result, archive.inputs),
    pseudonyms: pseudonymSentence(result),
    tool: `${result.tool.name} ${result.tool.version}`,
    findings: counted(result.findings.length, "finding", "findings"),
  };
}

function basisSentence({ basis }: Pick<Result, "basis">): string {
  const name = intervals.get(basis.interval).words.short;
  const confidence = statedPercent(basis.confidence);
  return `Lower and upper: the ends of a two-sided ${name} interval at ${confidence} confidence, rounded against the claim that the limit is met. Met: the interval is on the good side of the limit. Not met: on the other side. Undecided: the limit is inside it.`;
}
