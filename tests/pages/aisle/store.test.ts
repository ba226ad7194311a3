import { describe, expect, it } from "vitest";
import { begun, isState } from "../../../src/pages/aisle/steps.ts";
import { type Shelf as Storage, Store } from "../../../src/pages/aisle/store.ts";

/** A storage with room for so many characters. */
class Shelf implements Storage {
  readonly kept = new Map<string, string>();
  room = Number.POSITIVE_INFINITY;
  getItem(key: string) {
    return this.kept.get(key) ?? null;
  }
  setItem(key: string, text: string) {
    if (text.length > this.room) throw new Error("QuotaExceededError");
    this.kept.set(key, text);
  }
  removeItem(key: string) {
    this.kept.delete(key);
  }
}

const tab = (shelf: Shelf) => new Store("walk", () => shelf, isState);
const first = begun("aaaa");
const later = { ...first, changes: 1 };

describe("the browser's storage", () => {
  it("gives back what was kept, to a page that is opened anew", () => {
    const shelf = new Shelf();
    expect(tab(shelf).read()).toEqual({ kind: "empty" });
    const page = tab(shelf);
    page.read();
    expect([page.write(first), page.write(later)]).toEqual(["kept", "kept"]);
    expect(tab(shelf).read()).toEqual({ kind: "state", state: later });
  });

  it("is left alone where another tab wrote since, in either direction", () => {
    const shelf = new Shelf();
    const [one, two] = [tab(shelf), tab(shelf)];
    one.read();
    two.read();
    expect(one.write(first)).toBe("kept");
    expect(two.changedElsewhere()).toBe(true);
    expect(two.write({ ...first, changes: 9 })).toBe("elsewhere");
    expect(tab(shelf).read()).toEqual({ kind: "state", state: first });
    two.read();
    expect(two.write(later)).toBe("kept");
    expect(one.write(first)).toBe("elsewhere");
  });

  it("counts as off where it throws, is not there, or forgets", () => {
    const refused = new Store(
      "walk",
      () => {
        throw new Error("SecurityError");
      },
      isState,
    );
    expect([refused.works(), refused.read().kind, refused.write(first)]).toEqual([false, "off", "off"]);
    const forgetful = { getItem: () => null, setItem() {}, removeItem() {} };
    expect(new Store("walk", () => forgetful, isState).works()).toBe(false);
    expect(new Store("walk", () => undefined as unknown as Storage, isState).works()).toBe(false);
  });

  it("that is full says so, and what it held before is still there", () => {
    const shelf = new Shelf();
    const page = tab(shelf);
    page.read();
    page.write(first);
    shelf.room = 3;
    expect(page.write(later)).toBe("off");
    expect(tab(shelf).read()).toEqual({ kind: "state", state: first });
    shelf.room = 1e6;
    expect(page.write(later)).toBe("kept");
  });

  it("leaves no trace of having been tried", () => {
    const shelf = new Shelf();
    expect(tab(shelf).works()).toBe(true);
    expect(shelf.kept.size).toBe(0);
  });

  it("hands over what it cannot read, and keeps it beside the new log, each such text under a name of its own", () => {
    const shelf = new Shelf();
    const strange = { ...first, steps: [{ do: "dance" }] };
    expect(isState(first)).toBe(true);
    expect(isState(strange)).toBe(false);
    for (const text of ["{ broken", `{"version":99,"steps":[]}`, "null"]) {
      shelf.kept.set("walk", text);
      const page = tab(shelf);
      expect(page.read()).toEqual({ kind: "unreadable", text });
      expect(page.setAside()).toBe(true);
      expect(page.write(first)).toBe("kept");
    }
    expect([1, 2, 3].map((number) => shelf.kept.get(`walk set aside ${number}`))).toEqual([
      "{ broken",
      `{"version":99,"steps":[]}`,
      "null",
    ]);
  });

  it("is not written over where an unreadable text could not be set aside", () => {
    const shelf = new Shelf();
    shelf.kept.set("walk", "{ broken");
    shelf.room = 0;
    const page = tab(shelf);
    page.read();
    expect(page.setAside()).toBe(false);
    expect(shelf.kept.get("walk")).toBe("{ broken");
  });
});
