import { ink, textAt } from "./svg.ts";

/** `98.9  99.7  99.9`: three columns that end at `right`, `step` apart, the estimate heavier; long figures set smaller. */
export function figureTriple(
  { lower, value, upper }: { lower: string; value: string; upper: string },
  right: number,
  step: number,
  y: number,
): string {
  const column = (text: string, place: number, heavy: boolean) =>
    textAt(right - step * place, y, text, {
      "text-anchor": "end",
      "font-size": text.length > 6 ? 11.5 : 13.5,
      "font-weight": heavy ? 700 : null,
      class: heavy ? "figure ink" : "figure second",
      fill: heavy ? ink.text : ink.second,
    });
  return column(lower, 2, false) + column(value, 1, true) + column(upper, 0, false);
}
