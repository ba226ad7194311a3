import type { Place } from "../../model/journey/journey.ts";

/** One sighting of a tag of the runs, by numbers. */
interface ToldSighting {
  /** Index into the tags of the runs; below 0 for another tag, which is only counted. */
  tag: number;
  /** From `placeOf`. */
  place: number;
  /** Microseconds since 1970. */
  timeUs: number;
  /** NaN where that is not told. */
  knownUs: number;
  /** From `sourceOf`. */
  source: number;
}

/** Everything that tells of sightings, in columns that grow: numbers only, so that a million take forty megabytes. */
export class SightingColumns {
  readonly places: Place[] = [];
  readonly sources: string[] = [];
  readonly #placeNumbers = new Map<string, number>();
  #length = 0;
  #otherTags = 0;
  /** How many are in the database already. */
  #elsewhere = 0;
  #tag = new Int32Array(1024);
  #place = new Int32Array(1024);
  #source = new Int32Array(1024);
  #timeUs = new Float64Array(1024);
  #knownUs = new Float64Array(1024);

  /** Those of tags of the runs. */
  get length(): number {
    return this.#length + this.#elsewhere;
  }
  /** How many were of tags that no run has. */
  get otherTags(): number {
    return this.#otherTags;
  }
  get columns(): {
    tag: Int32Array;
    place: Int32Array;
    source: Int32Array;
    timeUs: Float64Array;
    knownUs: Float64Array;
  } {
    const end = this.#length;
    return {
      tag: this.#tag.subarray(0, end),
      place: this.#place.subarray(0, end),
      source: this.#source.subarray(0, end),
      timeUs: this.#timeUs.subarray(0, end),
      knownUs: this.#knownUs.subarray(0, end),
    };
  }

  placeOf({ facility, readPoint }: Place): number {
    const key = `${facility}\n${readPoint}`;
    let number = this.#placeNumbers.get(key);
    if (number === undefined) {
      number = this.places.push({ facility, readPoint }) - 1;
      this.#placeNumbers.set(key, number);
    }
    return number;
  }

  /** @param path relative to the data folder */
  sourceOf(path: string): number {
    const known = this.sources.indexOf(path);
    return known >= 0 ? known : this.sources.push(path) - 1;
  }

  /** Counts sightings that the database has read itself. */
  count({ known, otherTags }: { known: number; otherTags: number }): void {
    this.#elsewhere += known;
    this.#otherTags += otherTags;
  }

  /** Whether it is of a tag of the runs. */
  add({ tag, place, timeUs, knownUs, source }: ToldSighting): boolean {
    if (tag < 0) {
      this.#otherTags += 1;
      return false;
    }
    const i = this.#length;
    if (i === this.#tag.length) this.#grow();
    this.#length += 1;
    this.#tag[i] = tag;
    this.#place[i] = place;
    this.#timeUs[i] = timeUs;
    this.#knownUs[i] = knownUs;
    this.#source[i] = source;
    return true;
  }

  #grow(): void {
    const size = this.#tag.length * 2;
    const whole = (old: Int32Array<ArrayBuffer>) => {
      const array = new Int32Array(size);
      array.set(old);
      return array;
    };
    const wide = (old: Float64Array<ArrayBuffer>) => {
      const array = new Float64Array(size);
      array.set(old);
      return array;
    };
    this.#tag = whole(this.#tag);
    this.#place = whole(this.#place);
    this.#source = whole(this.#source);
    this.#timeUs = wide(this.#timeUs);
    this.#knownUs = wide(this.#knownUs);
  }
}
