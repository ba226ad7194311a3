import type { CurrentPass, Fields, StartedPass } from "../aisle/pass.ts";
import { type Fault, statedValue } from "../aisle/record.ts";
import type { WalkData } from "../aisle/walk-data.ts";
import { voidReasons } from "../plan/void-reasons.ts";
import { apart, at, button, conditionField, element, stepper, valueText } from "./elements.ts";
import { TagButtons } from "./tag-buttons.ts";

/** Radio buttons that say whether strays were heard. */
const strayChoices = () => [...document.querySelectorAll<HTMLInputElement>('input[name="strays"]')];

/** What is said about a pass once it was walked. Each touch hands the fields on, so that nothing typed is held here alone. */
export class PassForm {
  readonly #data: WalkData;
  readonly #changed: (fields: Fields) => void;
  /** Null where the plan names no load. */
  readonly #tags: TagButtons | null;
  #pass!: StartedPass | CurrentPass;
  #fields!: Fields;
  #shownFor = "";

  constructor(data: WalkData, changed: (fields: Fields) => void) {
    this.#data = data;
    this.#changed = changed;
    const list = document.getElementById("tags");
    const filter = document.getElementById("find-tag") as HTMLInputElement;
    this.#tags = list === null ? null : new TagButtons(list, filter, (code) => this.#toggle(code));
    for (const radio of strayChoices())
      radio.addEventListener("change", () => this.#set({ strays: radio.value as Fields["strays"] }));
    at("is-void").addEventListener("change", () => this.#set({ isVoid: at("is-void").checked }));
    at("void-reason").addEventListener("input", () => this.#set({ voidReason: at("void-reason").value }));
    at("note").addEventListener("input", () => this.#set({ note: at("note").value }));
    at("void-reasons").replaceChildren(...voidReasons.map((text) => button(text, () => this.#give(text))));
  }

  /** Built anew for each pass, which the key tells apart; while one is being typed about only its marks are renewed. */
  show(pass: StartedPass | CurrentPass, fields: Fields, key: string): void {
    this.#pass = pass;
    this.#fields = fields;
    if (key !== this.#shownFor) this.#build();
    this.#shownFor = key;
    this.#mark();
    at("after").hidden = false;
  }

  hide(): void {
    this.#shownFor = "";
    at("after").hidden = true;
    this.showFaults([]);
  }

  /** Each beside its field, and the first one ready to be put right. */
  showFaults(faults: Fault[]): void {
    for (const shown of document.querySelectorAll("#after .fault")) shown.remove();
    for (const field of document.querySelectorAll('#after [aria-invalid="true"]')) {
      field.removeAttribute("aria-invalid");
      field.removeAttribute("aria-describedby");
    }
    const fields = faults.map(({ field, text }, i) => {
      const input = this.#inputOf(field);
      const id = `fault-${i}`;
      input.setAttribute("aria-invalid", "true");
      input.setAttribute("aria-describedby", id);
      input.closest(".field")!.append(element("p", { class: "faults fault", id, text }));
      return input;
    });
    if (faults.some(({ field }) => field.startsWith("condition "))) at("as-walked").open = true;
    fields[0]?.focus({ preventScroll: true });
    fields[0]?.scrollIntoView({ block: "center" });
  }

  #inputOf(field: string): HTMLElement {
    if (field === "void") return at("void-reason");
    if (field === "strays") return document.getElementById("stray-codes")!;
    if (field === "missed") return document.getElementById("missed-count")!;
    const column = this.#pass.columns.indexOf(field.replace("condition ", ""));
    return document.getElementById(`walked-${column}`)!;
  }

  #set(part: Partial<Fields>): void {
    this.#fields = { ...this.#fields, ...part };
    this.showFaults([]);
    this.#mark();
    this.#changed(this.#fields);
  }

  #toggle(code: string): void {
    const { missed } = this.#fields;
    this.#set({ missed: missed.includes(code) ? missed.filter((one) => one !== code) : [...missed, code] });
  }

  #give(reason: string): void {
    at("void-reason").value = reason;
    this.#set({ voidReason: reason });
  }

  #build(): void {
    const pass = this.#pass;
    const fields = this.#fields;
    const named = pass.manifest !== null;
    const codes = this.#data.load?.tags ?? [];
    this.#tags?.show(named);
    this.#tags?.build(named ? [...codes, ...fields.missed.filter((code) => !codes.includes(code))] : []);
    at("counts").replaceChildren(...(named ? [] : this.#countFields()));
    at("strays-heard").replaceChildren(named ? this.#strayCodes() : this.#strayCount());
    at("is-void").checked = fields.isVoid;
    at("void-reason").value = fields.voidReason;
    at("note").value = fields.note;
    at("as-walked").hidden = pass.columns.length === 0;
    at("as-walked").open = pass.columns.some((column) => fields.conditions[column] === "");
    at("walked-conditions").replaceChildren(...pass.columns.map((name, i) => this.#condition(name, i)));
    for (const radio of strayChoices()) radio.checked = radio.value === fields.strays;
  }

  #countFields(): HTMLElement[] {
    const { missedCount, presented } = this.#fields;
    return [
      stepper({
        label: "Tags missed",
        id: "missed-count",
        value: missedCount,
        least: 0,
        changed: (count) => this.#set({ missedCount: count }),
      }),
      stepper({
        label: "Tags that went through",
        id: "presented",
        value: presented,
        least: 0,
        changed: (count) => this.#set({ presented: count }),
      }),
    ];
  }

  #strayCount(): HTMLElement {
    return stepper({
      label: "Tags read",
      id: "stray-count",
      value: this.#fields.strayCount,
      least: 1,
      changed: (strayCount) => this.#set({ strayCount }),
    });
  }

  #strayCodes(): HTMLElement {
    const input = element("textarea", {
      id: "stray-codes",
      rows: "2",
      autocapitalize: "characters",
      spellcheck: "false",
      on: { input: () => this.#set({ strayCodes: input.value }) },
    });
    input.value = this.#fields.strayCodes;
    return element("div", { class: "field" }, [
      element("label", { for: "stray-codes", text: "Their codes, separated by spaces" }),
      input,
    ]);
  }

  #condition(name: string, i: number): HTMLElement {
    const { manifest, varied, conditions } = this.#pass;
    const column = this.#data.columns.find((one) => one.column === name)!;
    const planned = conditions[name];
    const isBand = planned !== undefined && statedValue(name, planned, this.#data) === "";
    const loadMaySay = manifest !== null && !varied.includes(name);
    return conditionField({
      column,
      id: `walked-${i}`,
      value: this.#fields.conditions[name] ?? "",
      values: isBand ? [] : column.values,
      hint: isBand
        ? `Planned: ${valueText(planned, column)}.`
        : loadMaySay
          ? "Leave it open if the manifest states it for each tag."
          : "",
      changed: (text) => this.#set({ conditions: { ...this.#fields.conditions, [name]: text } }),
    });
  }

  #mark(): void {
    const fields = this.#fields;
    const { manifest, tagsPerPass } = this.#pass;
    const named = manifest !== null;
    const missed = named ? fields.missed.length : fields.missedCount;
    const of = named ? tagsPerPass : fields.presented;
    at("missed-line").replaceChildren(
      missed === 0 ? `None of ${of} missed.` : `${missed} of ${of} missed`,
      ...(named && missed > 0 ? [": ", apart(fields.missed.join(" "))] : []),
    );
    if (!named && of < tagsPerPass) {
      at("missed-line").append(` The plan needs ${tagsPerPass}; with fewer, its combination stays short.`);
    }
    if (named) this.#tags?.mark(fields.missed);
    at("strays-heard").hidden = fields.strays !== "heard";
    at("void-why").hidden = !fields.isVoid;
  }
}
