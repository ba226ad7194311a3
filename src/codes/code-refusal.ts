/** Why a cell gives no code: what was expected in its place, and what to do. */
export interface CodeRefusal {
  kind: "refused";
  fault:
    | "empty"
    | "spreadsheet-number"
    | "odd-digits"
    | "byte-escapes"
    | "not-hex"
    | "not-base64"
    | "no-protocol-word"
    | "no-epc"
    | "length-mismatch";
  expected: string;
  advice: string;
}

export function refusal(fault: CodeRefusal["fault"], expected: string, advice: string): CodeRefusal {
  return { kind: "refused", fault, expected, advice };
}
