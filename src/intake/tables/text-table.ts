/** Keeps every distinct text once and refers to it by number. */
export class TextTable {
  readonly texts: string[] = [];
  readonly #ids = new Map<string, number>();

  idOf(text: string): number {
    let id = this.#ids.get(text);
    if (id === undefined) {
      id = this.texts.length;
      this.texts.push(text);
      this.#ids.set(text, id);
    }
    return id;
  }

  /** -1 where the text has not been met. */
  find(text: string): number {
    return this.#ids.get(text) ?? -1;
  }
}
