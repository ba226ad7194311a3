import { thingName } from "../../../codes/thing-names.ts";

const mostRemembered = 200_000;

/** Finds tags by the URIs of what they name. */
export class KnownTags {
  readonly #byName = new Map<string, string[]>();
  readonly #read = new Map<string, readonly string[]>();

  /** @param codes canonical codes, each once */
  constructor(codes: readonly string[]) {
    for (const code of codes) {
      const name = thingName(code);
      const alike = this.#byName.get(name);
      if (alike === undefined) this.#byName.set(name, [code]);
      else alike.push(code);
    }
  }

  /** The tags that name the same thing as a URI: none, one, or several that a URI cannot tell apart. */
  codesOf(uri: string): readonly string[] {
    let codes = this.#read.get(uri);
    if (codes === undefined) {
      codes = this.#byName.get(thingName(uri)) ?? [];
      if (this.#read.size >= mostRemembered) this.#read.clear();
      this.#read.set(uri, codes);
    }
    return codes;
  }
}
