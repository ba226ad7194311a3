import { Times } from "./times.ts";

/** What the clocks on the walls of some facilities show. */
export class WallClocks {
  readonly #clocks: ReadonlyMap<string, Times>;

  constructor(facilities: readonly { id: string; timeZone: string | null }[]) {
    this.#clocks = new Map(
      facilities.flatMap(({ id, timeZone }) =>
        timeZone === null ? [] : [[id, new Times(timeZone)] as const],
      ),
    );
  }

  /** YYYY-MM-DD HH:MM:SS; null where the facility states no time zone. */
  local(us: number, facility: string): string | null {
    return this.#clocks.get(facility)?.localAt(us) ?? null;
  }
}
