import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Fields, StartedPass } from "../../../src/pages/aisle/pass.ts";
import { fieldsFor, recordOf } from "../../../src/pages/aisle/record.ts";
import {
  afterStep,
  begun,
  isState,
  redo,
  type State,
  type Step,
  standing,
  undo,
} from "../../../src/pages/aisle/steps.ts";
import { stampOf } from "../../../src/pages/browser/clock.ts";

const noData = { key: "", fileStem: "", title: "", load: null, tagsPerPass: 20, columns: [], routes: [] };

const pass: StartedPass = {
  readPoint: "dock-1",
  round: "as-left",
  pass: "w01",
  planned: "w01",
  conditions: {},
  manifest: null,
  tagsPerPass: 20,
  columns: [],
  needed: [],
  varied: [],
};
const noon = Date.UTC(2026, 4, 21, 12);
const at = (second: number) => stampOf(noon + second * 1000, 60);
const fields = (part: Partial<Fields> = {}): Fields => ({ ...fieldsFor(pass, noData, ""), ...part });
const start = (second: number, id = "w01"): Step => ({
  do: "start",
  pass: { ...pass, pass: id },
  at: at(second),
});
const stop = (second: number): Step => ({ do: "stop", at: at(second) });
const save = (part: Partial<Fields> = {}): Step => ({
  do: "save",
  fields: fields(part),
  record: recordOf(pass, fields(part)),
});
const through = (...steps: Step[]) => steps.reduce(afterStep, begun("mark"));

describe("the steps of a walk", () => {
  it("go from ready to running to stopped, and back to ready with one pass more", () => {
    const states = [
      through(),
      through(start(0)),
      through(start(0), stop(9)),
      through(start(0), stop(9), save()),
    ];
    expect(states.map((state) => standing(state).stage)).toEqual(["ready", "running", "stopped", "ready"]);
    const [logged] = standing(states[3]!).passes;
    expect(logged).toMatchObject({
      pass: "w01",
      missedCount: 0,
      presented: 20,
      strays: null,
      voidReason: "",
    });
    expect([logged!.startedAt.text, logged!.endedAt.text]).toEqual([
      "2026-05-21T13:00:00+01:00",
      "2026-05-21T13:00:09+01:00",
    ]);
  });

  it("that do not fit change nothing: no stop before a start, no second start, no saving of what still runs", () => {
    for (const [state, step] of [
      [through(), stop(1)],
      [through(), save()],
      [through(start(0)), start(1)],
      [through(start(0)), save()],
      [through(start(0), stop(2)), stop(3)],
      [through(start(0), stop(2)), start(3)],
      [through(), { do: "change", index: 0, record: recordOf(pass, fields()) } as Step],
    ] as const) {
      expect(afterStep(state, step)).toBe(state);
    }
  });

  it("never end a pass before it began: where the device's clock went back, the end is the start, and it is noted", () => {
    const stopped = through(start(10), stop(3));
    const { current } = standing(stopped);
    expect(current!.endedAt).toEqual(current!.startedAt);
    expect(fieldsFor(current!, noData, "").note).toMatch(/clock.*went back/);
    expect(fieldsFor(standing(through(start(10), stop(13))).current!, noData, "").note).toBe("");
  });

  it("can be changed after the fact: a pass made void keeps its times", () => {
    const walked = through(start(0), stop(9), save());
    const reason = fields({ isVoid: true, voidReason: " Load slipped " });
    const changed = afterStep(walked, { do: "change", index: 0, record: recordOf(pass, reason) });
    expect(standing(changed).passes).toEqual([{ ...standing(walked).passes[0], voidReason: "Load slipped" }]);
  });
});

describe("undoing", () => {
  it("takes back saving, stop and start, one by one, and what was typed is still there after the first", () => {
    const typed = { missedCount: 3, note: "wet floor" };
    const saved = through(start(0), stop(9), save(typed));
    const stopped = undo(saved);
    expect(standing(stopped).stage).toBe("stopped");
    expect(stopped.draft).toEqual({ of: "current", fields: fields(typed) });
    const running = undo(stopped);
    expect(standing(running).stage).toBe("running");
    expect(standing(undo(running)).stage).toBe("ready");
    expect(undo(begun("mark")).steps).toEqual([]);
  });

  it("keeps what was typed about a pass that is running again and is stopped again", () => {
    const saved = through(start(0), stop(9), save({ note: "wet floor" }));
    const again = afterStep(undo(undo(saved)), stop(12));
    expect(again.draft?.fields.note).toBe("wet floor");
    expect(standing(again).current!.endedAt).toEqual(at(12));
  });

  it("does not hand what was typed about one pass to another", () => {
    const saved = through(start(0), stop(9), save({ note: "wet floor" }));
    const begunAgain = [undo, undo, undo].reduce((state, back) => back(state), saved);
    expect(afterStep(afterStep(begunAgain, start(20, "w02")), stop(29)).draft).toBeNull();
  });

  const moves = fc.array(fc.constantFrom("start", "stop", "save", "change", "undo", "redo"), {
    maxLength: 40,
  });
  const moved = (state: State, move: string, i: number): State => {
    if (move === "undo") return undo(state);
    if (move === "redo") return redo(state);
    if (move === "start") return afterStep(state, start(i, `w${i}`));
    if (move === "stop") return afterStep(state, stop(i));
    if (move === "save") return afterStep(state, save({ missedCount: i % 20 }));
    const recorded = recordOf(pass, fields({ isVoid: true, voidReason: "broken off" }));
    return afterStep(state, { do: "change", index: 0, record: recorded });
  };
  const walked = (list: string[]) => list.reduce(moved, begun("mark"));

  it("then doing again leads back to where one was, wherever that is", () => {
    fc.assert(
      fc.property(moves, (list) => {
        const state = walked(list);
        if (state.steps.length === 0) return;
        const back = redo(undo(state));
        expect(standing(back)).toEqual(standing(state));
        expect(back.undone).toEqual(state.undone);
      }),
    );
  });

  it("as often as there are steps leaves nothing, and no step is lost on the way", () => {
    fc.assert(
      fc.property(moves, (list) => {
        const state = walked(list);
        let back = state;
        for (let i = 0; i < state.steps.length; i += 1) back = undo(back);
        expect(standing(back)).toEqual({ stage: "ready", current: null, passes: [] });
        expect(back.undone).toHaveLength(state.undone.length + state.steps.length);
      }),
    );
  });

  it("and every other step survive being kept as text and read again", () => {
    fc.assert(
      fc.property(moves, (list) => {
        const state = walked(list);
        const again: unknown = JSON.parse(JSON.stringify(state));
        expect(isState(again)).toBe(true);
        expect(standing(again as State)).toEqual(standing(state));
      }),
    );
  });

  it("counts as a change, so that a log saved before it is not taken for saved", () => {
    const saved = { ...through(start(0), stop(9), save()), saved: 3 };
    expect(saved.changes).toBe(3);
    expect(undo(saved).changes).toBe(4);
  });
});
