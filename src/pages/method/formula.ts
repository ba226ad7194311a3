/** A piece of a formula, all in one type and on one line. */
export interface FormulaPart {
  text: string;
  isVariable: boolean;
  place: "line" | "below" | "above";
}

/** Pieces of a formula in which `*x*` is a variable, `_{i}` stands below the line and `^{2}` above it. */
export function formulaParts(formula: string): FormulaPart[] {
  return formula.split(/([_^]\{[^}]*\})/).flatMap((piece) => {
    const place = /^_\{/.test(piece) ? "below" : /^\^\{/.test(piece) ? "above" : "line";
    const text = place === "line" ? piece : piece.slice(2, -1);
    return text
      .split("*")
      .map((part, i): FormulaPart => ({ text: part, isVariable: i % 2 === 1, place }))
      .filter((part) => part.text !== "");
  });
}
