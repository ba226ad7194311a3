import { Times } from "./times.ts";

/** An instant in ISO 8601 with a Z, with as many decimals of the second as it takes: none, 3 or 6. @param us microseconds since 1970 */
export function instantText(us: number): string {
  const micros = ((us % 1e6) + 1e6) % 1e6;
  const decimals = micros === 0 ? "" : `.${String(micros).padStart(6, "0").replace(/000$/, "")}`;
  return new Date((us - micros) / 1000).toISOString().replace(".000Z", `${decimals}Z`);
}

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
