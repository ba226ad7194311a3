import { foundTags, tailLength } from "../aisle/tag-search.ts";
import { button, element } from "./elements.ts";

/** The tags of a load, to tap as missed and to tap again. */
export class TagButtons {
  readonly #list: HTMLElement;
  readonly #filter: HTMLInputElement;
  readonly #toggle: (code: string) => void;
  #buttons = new Map<string, HTMLButtonElement>();

  constructor(list: HTMLElement, filter: HTMLInputElement, toggle: (code: string) => void) {
    this.#list = list;
    this.#filter = filter;
    this.#toggle = toggle;
    filter.addEventListener("input", () => this.#sift());
    filter.addEventListener("keydown", (event) => {
      if (event.key === "Enter") this.#takeSingle(event);
    });
  }

  build(codes: string[]): void {
    const tail = tailLength(codes);
    this.#buttons = new Map(codes.map((code) => [code, this.#buttonOf(code, tail)]));
    this.#list.replaceChildren(...this.#buttons.values());
    this.#filter.value = "";
    this.#sift();
  }

  mark(missed: string[]): void {
    for (const [code, made] of this.#buttons) {
      const is = missed.includes(code);
      made.setAttribute("aria-pressed", String(is));
      made.querySelector(".word")!.textContent = is ? "missed" : "";
    }
  }

  show(shown: boolean): void {
    this.#filter.parentElement!.hidden = !shown;
    this.#list.hidden = !shown;
  }

  #buttonOf(code: string, tail: number): HTMLButtonElement {
    const made = button("", () => this.#toggle(code), { class: "tag-button", "data-tag": code });
    made.append(
      element("span", { class: "head", text: code.slice(0, -tail) }),
      element("span", { class: "tail", text: code.slice(-tail) }),
      element("span", { class: "word" }),
    );
    return made;
  }

  #sift(): string[] {
    const shown = foundTags([...this.#buttons.keys()], this.#filter.value);
    for (const [code, made] of this.#buttons) made.hidden = !shown.includes(code);
    return shown;
  }

  /** Typed to the end, a single match is taken with the key that ends the typing. */
  #takeSingle(event: Event): void {
    event.preventDefault();
    const shown = this.#sift();
    if (this.#filter.value.trim() === "" || shown.length !== 1) return;
    this.#toggle(shown[0]!);
    this.#filter.value = "";
    this.#sift();
  }
}
