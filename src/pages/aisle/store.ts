/** The part of the browser's storage that is used. */
export interface Shelf {
  getItem(key: string): string | null;
  setItem(key: string, text: string): void;
  removeItem(key: string): void;
}

/** What a storage holds; off where there is none to read. */
export type Kept<State> =
  | { kind: "empty" | "off" }
  | { kind: "state"; state: State }
  | { kind: "unreadable"; text: string };

/** Keeps a state in the browser's own storage, and never writes over what another tab wrote. */
export class Store<State> {
  readonly #key: string;
  readonly #storage: () => Shelf;
  readonly #isState: (value: unknown) => value is State;
  /** What stood in the storage when this page last read or wrote it. */
  #seen: string | null = null;

  /** `storage` is asked for anew at each use, since asking alone may be refused. */
  constructor(key: string, storage: () => Shelf, isState: (value: unknown) => value is State) {
    this.#key = key;
    this.#storage = storage;
    this.#isState = isState;
  }

  works(): boolean {
    const probe = `${this.#key} probe`;
    return this.#tried(false, (shelf) => {
      shelf.setItem(probe, "1");
      const kept = shelf.getItem(probe) === "1";
      shelf.removeItem(probe);
      return kept;
    });
  }

  read(): Kept<State> {
    return this.#tried<Kept<State>>({ kind: "off" }, (shelf) => {
      this.#seen = shelf.getItem(this.#key);
      return this.#stateIn(this.#seen);
    });
  }

  /** Kept; elsewhere, where another tab wrote since, whose state is now to be taken; off, where nothing is kept. */
  write(state: State): "kept" | "elsewhere" | "off" {
    return this.#tried<"kept" | "elsewhere" | "off">("off", (shelf) => {
      if (shelf.getItem(this.#key) !== this.#seen) return "elsewhere";
      const text = JSON.stringify(state);
      shelf.setItem(this.#key, text);
      this.#seen = text;
      return "kept";
    });
  }

  changedElsewhere(): boolean {
    return this.#tried(false, (shelf) => shelf.getItem(this.#key) !== this.#seen);
  }

  /** Keeps an unreadable text under a name of its own before a new log takes its place; false where that cannot be. */
  setAside(): boolean {
    return this.#tried(false, (shelf) => {
      let number = 1;
      while (shelf.getItem(`${this.#key} set aside ${number}`) !== null) number += 1;
      shelf.setItem(`${this.#key} set aside ${number}`, this.#seen!);
      shelf.removeItem(this.#key);
      this.#seen = null;
      return true;
    });
  }

  #tried<Outcome>(otherwise: Outcome, use: (shelf: Shelf) => Outcome): Outcome {
    try {
      return use(this.#storage());
    } catch {
      return otherwise;
    }
  }

  #stateIn(text: string | null): Kept<State> {
    if (text === null) return { kind: "empty" };
    try {
      const state: unknown = JSON.parse(text);
      if (this.#isState(state)) return { kind: "state", state };
    } catch {
      // What cannot be read is handed to people as it is.
    }
    return { kind: "unreadable", text };
  }
}
