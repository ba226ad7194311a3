import { beforeAll, describe, expect, it } from "vitest";
import { valuesOf } from "../../../src/model/conditions.ts";
import type { LoggedPass } from "../../../src/pages/aisle/pass.ts";
import { freeExtraId, freeId, openPasses, progress } from "../../../src/pages/aisle/route.ts";

import { foundTags, tailLength } from "../../../src/pages/aisle/tag-search.ts";
import { type WalkData, type WalkRoute, walkData } from "../../../src/pages/aisle/walk-data.ts";
import { passesLeft } from "../../../src/pages/plan/passes-left.ts";
import { cage, judged, walkFacility } from "./walk-facility.ts";

let data: WalkData;
let dock: WalkRoute;
beforeAll(async () => {
  const result = await judged(await walkFacility({ load: true }));
  data = walkData(result, result.plan!);
  dock = data.routes.find(({ readPoint }) => readPoint === "dock-1")!;
});

const conditionsOf = (cell: number) => {
  const { names, conditions } = dock.cells[cell]!;
  return { ...conditions, speed_m_s: names.speed_m_s === "0 to 1" ? "0.9" : "1.4" };
};
function logged(pass: string, cell: number, part: Partial<LoggedPass> = {}): LoggedPass {
  const found = {
    readPoint: "dock-1",
    round: "as-left",
    pass,
    conditions: conditionsOf(cell),
    voidReason: "",
    presented: cage.length,
  };
  return { ...found, ...part } as LoggedPass;
}
const walked = (count: number) => dock.passes.slice(0, count).map(({ pass, cell }) => logged(pass, cell));
const openIds = (passes: LoggedPass[]) =>
  openPasses({ data: data, route: dock, passes: passes }).map(({ pass }) => pass);
const planned = () => dock.passes.map(({ pass }) => pass);

describe("the pass that is next", () => {
  it("is the first of the plan, then the next, until all twelve are walked", () => {
    expect(dock.passes).toHaveLength(12);
    for (let count = 0; count <= 12; count += 1)
      expect(openIds(walked(count))).toEqual(planned().slice(count));
  });

  it("is the same again after a void pass, under an id of its own", () => {
    const { pass, cell } = dock.passes[2]!;
    const passes = [...walked(2), logged(pass, cell, { voidReason: "Load slipped" })];
    expect(openIds(passes)[0]).toBe("w03");
    expect(freeId({ data: data, route: dock, passes: passes }, "w03")).toBe("w03-2");
    const twice = [...passes, logged("w03-2", cell, { voidReason: "Load slipped" })];
    expect(freeId({ data: data, route: dock, passes: twice }, "w03")).toBe("w03-3");
    expect(openIds([...twice, logged("w03-3", cell)])).toEqual(planned().slice(3));
  });

  it("is another of its combination where a pass was walked in a way that belongs to no or another one", () => {
    const { cell } = dock.passes[0]!;
    const strayed = logged("w01", cell, {
      conditions: { ...conditionsOf(cell), orientation: "upside down" },
    });
    expect(openIds([strayed])).toHaveLength(12);
    expect(openIds([strayed])).toContain("w01");
    expect(progress({ data: data, route: dock, passes: [strayed] }).done).toBe(0);
  });

  it("is one more of a combination whose passes carried fewer tags than planned, as on the walk sheet", () => {
    const { cell } = dock.passes[0]!;
    const own = dock.passes.filter((one) => one.cell === cell);
    const light = own.map(({ pass }, i) => logged(pass, cell, { presented: i === 0 ? 12 : cage.length }));
    expect(progress({ data, route: dock, passes: light }).cells[cell]).toMatchObject({
      done: own.length,
      isDone: false,
    });
    expect(openIds(light)).toContain(own[0]!.pass);
    expect(openIds([...light, logged("x01", cell, { presented: 8 })])).not.toContain(own[0]!.pass);
  });

  it("is not one whose combination was filled by extra passes", () => {
    const { cell } = dock.passes[0]!;
    const extra = ["x01", "x02", "x03"].map((id) => logged(id, cell));
    expect(progress({ data: data, route: dock, passes: extra })).toMatchObject({ planned: 12, done: 3 });
    expect(openIds(extra)).toEqual(dock.passes.filter((one) => one.cell !== cell).map(({ pass }) => pass));
  });
});

describe("passes that stand in the files of the report already", () => {
  const log = (ids: string[]) =>
    `round,pass,read_point,started_at,speed_m_s,orientation,manifest,missed_tags,stray_tags,void_reason\n${ids
      .map(
        (id, i) =>
          `as-left,${id},dock-1,2026-05-21 10:0${i}:00,0.8,flat,cage,none,none,${i === 1 ? "slipped" : ""}`,
      )
      .join("\n")}\n`;

  it("count as done, void ones not, and their ids are taken", async () => {
    const result = await judged(
      await walkFacility({ load: true, logs: { "a.csv": log(["w01", "w02", "P7"]) } }),
    );
    const later = walkData(result, result.plan!);
    const route = later.routes.find(({ readPoint }) => readPoint === "dock-1")!;
    const flat = route.cells.findIndex(
      ({ names }) => names.orientation === "flat" && names.speed_m_s === "0 to 1",
    );
    expect(progress({ data: later, route: route, passes: [] }).cells[flat]!.done).toBe(2);
    expect(progress({ data: later, route: route, passes: [] })).toMatchObject({ planned: 12, done: 2 });
    expect(freeId({ data: later, route: route, passes: [] }, "w01")).toBe("w01-2");
    expect(openPasses({ data: later, route: route, passes: [] })).toHaveLength(10);
    // The browser still holds one of them: it is the same pass, and counts once.
    const kept = [logged("w01", flat)];
    expect(progress({ data: later, route: route, passes: kept })).toMatchObject({ planned: 12, done: 2 });
  });
});

describe("what is left to walk", () => {
  it("is the same on the page as on the walk sheet: passes, numbers and order", async () => {
    const rows = ["w03", "w05", "P1"].map(
      (id, i) =>
        `as-left,${id},dock-1,2026-05-21 10:0${i}:00,0.8,flat,cage,none,none,${id === "w03" ? "slipped" : ""}`,
    );
    const header =
      "round,pass,read_point,started_at,speed_m_s,orientation,manifest,missed_tags,stray_tags,void_reason";
    const logs = { "a.csv": `${[header, ...rows].join("\n")}\n` };
    const result = await judged(await walkFacility({ load: true, logs }));
    const planned = result.plan!.walks.find(({ readPoint }) => readPoint === "dock-1")!;
    const walk = walkData(result, result.plan!);
    const here = {
      data: walk,
      route: walk.routes.find(({ readPoint }) => readPoint === "dock-1")!,
      passes: [],
    };
    const onPage = openPasses(here).map(({ pass, cell }) => ({
      pass: freeId(here, pass),
      conditions: here.route.cells[cell]!.conditions,
    }));
    expect(onPage).toEqual(passesLeft(result, planned));
    expect(onPage.map(({ pass }) => pass)).toContain("w03-2");
  });
});

describe("ids", () => {
  it("are unique in a read point and round, whatever was logged, and an extra pass never takes a planned one", () => {
    const passes: LoggedPass[] = [];
    for (let i = 0; i < 40; i += 1) {
      const walk = { data, route: dock, passes };
      const id = i % 3 === 0 ? freeExtraId(walk) : freeId(walk, "w05");
      expect(passes.map(({ pass }) => pass)).not.toContain(id);
      if (i % 3 === 0) expect(planned()).not.toContain(id);
      passes.push(logged(id, 0, { voidReason: "again" }));
    }
  });

  it("may be the same at another read point or in another round", () => {
    const elsewhere = [logged("w01", 0, { readPoint: "desk-1" }), logged("w01", 0, { round: "as-found" })];
    expect(freeId({ data: data, route: dock, passes: elsewhere }, "w01")).toBe("w01");
    expect(progress({ data: data, route: dock, passes: elsewhere }).done).toBe(0);
  });
});

describe("bands", () => {
  it("hold their edges as the tool's do: the first both of them, later ones only the upper", () => {
    const name = (text: string) => valuesOf(data.columns[0]!).nameOf(text);
    expect(["0", "1", "1.01", "2", "2.1", "-1", "", "fast"].map(name)).toEqual([
      "0 to 1",
      "0 to 1",
      "1 to 2",
      "1 to 2",
      null,
      null,
      null,
      null,
    ]);
  });
});

describe("finding a tag", () => {
  it("goes by the last digits first, in either case, and by any digits where none ends in them", () => {
    expect(foundTags(cage, cage[4]!.slice(-4).toLowerCase())).toEqual([cage[4]]);
    expect(foundTags(cage, "AA3C")).toEqual(cage);
    expect(foundTags(cage, "")).toEqual(cage);
    expect(foundTags(cage, "ZZ")).toEqual([]);
  });

  it("shows as many digits large as it takes to tell the load's tags apart, from four to eight", () => {
    expect(tailLength(cage)).toBe(4);
    expect(tailLength(["AB12345678900001", "AB99999999990001"])).toBe(8);
    expect(tailLength([])).toBe(4);
  });
});
