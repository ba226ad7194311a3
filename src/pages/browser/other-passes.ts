import type { StartedPass } from "../aisle/pass.ts";
import { faultsOf, fieldsFor } from "../aisle/record.ts";
import { openPasses, type Walk } from "../aisle/route.ts";
import type { ChosenPass } from "../aisle/steps.ts";
import type { WalkData, WalkRoute } from "../aisle/walk-data.ts";
import { at, button, conditionField } from "./elements.ts";
import { combination, passes, type ShownPass } from "./shown.ts";

/** Walking another pass than the next one: one of the plan that is still open, or an extra one under conditions of its own. */
export class OtherPasses {
  readonly #data: WalkData;
  readonly #choose: (chosen: ChosenPass) => void;
  #route: WalkRoute | null = null;
  #extra: Record<string, string> = {};

  constructor(data: WalkData, choose: (chosen: ChosenPass) => void) {
    this.#data = data;
    this.#choose = choose;
    at("take-extra").addEventListener("click", () => this.#takeExtra());
  }

  show(walk: Walk, next: ShownPass | null): void {
    const { route, data } = walk;
    const left = openPasses(walk);
    at("others-line").textContent = `${passes(left.length)} of the plan still to be walked.`;
    at("open-passes").replaceChildren(
      ...left.map(({ pass, cell }) =>
        button(
          `${pass}: ${combination(route.cells[cell]!.conditions, data)}`,
          () => this.#choose({ readPoint: route.readPoint, planned: pass, conditions: {} }),
          { "aria-pressed": String(pass === next?.planned) },
        ),
      ),
    );
    if (route !== this.#route) this.#showExtra(route);
  }

  #showExtra(route: WalkRoute): void {
    this.#route = route;
    this.#extra = {};
    at("extra-conditions").replaceChildren(
      ...route.varied.map((name, i) => {
        const column = this.#data.columns.find((one) => one.column === name)!;
        return conditionField({
          column,
          id: `extra-${i}`,
          value: "",
          values: column.values,
          changed: (text) => {
            this.#extra[name] = text.trim();
          },
        });
      }),
    );
  }

  #takeExtra(): void {
    const { readPoint, round } = this.#route!;
    const pass: StartedPass = {
      readPoint,
      round,
      pass: "",
      planned: null,
      conditions: {},
      manifest: null,
      tagsPerPass: 0,
      columns: [],
      needed: [],
      varied: [],
    };
    const fields = { ...fieldsFor(pass, this.#data, ""), conditions: this.#extra };
    const faults = faultsOf(pass, fields, this.#data);
    at("extra-fault").hidden = faults.length === 0;
    at("extra-fault").textContent = faults.map(({ text }) => text).join(" ");
    const conditions = Object.fromEntries(Object.entries(this.#extra).filter(([, text]) => text !== ""));
    if (faults.length === 0) this.#choose({ readPoint, planned: null, conditions });
  }
}
