import { beforeAll, describe, expect, it } from "vitest";
import type { Fields, LoggedPass, StartedPass } from "../../../src/pages/aisle/pass.ts";
import {
  fieldsAfter,
  fieldsFor,
  fieldsOf,
  faultsOf as foundFaults,
  recordOf,
} from "../../../src/pages/aisle/record.ts";

import { type WalkData, walkData } from "../../../src/pages/aisle/walk-data.ts";
import { cage, judged, walkFacility } from "./walk-facility.ts";

let listed: WalkData;
let counted: WalkData;
beforeAll(async () => {
  // Of the cover, which no pass varies, a criterion wants to know nevertheless.
  const criteria = `  - { id: covered, title: Covered, measure: tag-read-rate, at_least: 0.9, read_points: [dock-1], where: { cover: [on, off] } }`;
  const dataOf = async (load: boolean) => {
    const result = await judged(await walkFacility({ load, criteria }));
    return walkData(result, result.plan!);
  };
  [listed, counted] = await Promise.all([dataOf(true), dataOf(false)]);
});

function passIn(data: WalkData, conditions: Record<string, string>): StartedPass {
  const { readPoint, round, columns, needed, varied } = data.routes.find(
    (route) => route.readPoint === "dock-1",
  )!;
  const manifest = data.load?.manifest ?? null;
  return {
    readPoint,
    round,
    pass: "w01",
    planned: "w01",
    conditions,
    manifest,
    tagsPerPass: 20,
    columns,
    needed,
    varied,
  };
}

const atOne = { speed_m_s: "1", orientation: "flat" };

function faultsOf(
  data: WalkData,
  part: Partial<Fields>,
  conditions: Record<string, string> = atOne,
): string[] {
  const pass = passIn(data, conditions);
  const first = fieldsFor(pass, data, "");
  const fields = { ...first, conditions: { ...first.conditions, cover: "on" }, ...part };
  return foundFaults(pass, fields, data).map(({ field }) => field);
}

describe("a pass of which nothing was said yet", () => {
  it("was walked as planned, missed nothing, and nobody looked for strays", () => {
    const pass = passIn(listed, atOne);
    const fields = fieldsFor(pass, listed, "Ada");
    expect(recordOf(pass, fields)).toEqual({
      missed: [],
      missedCount: 0,
      presented: 20,
      strays: null,
      conditions: { ...atOne, cover: "" },
      voidReason: "",
      note: "",
      walkedBy: "Ada",
    });
  });

  it("that is planned in a band has no speed before one is typed: no figure is made up", () => {
    const band = { speed_m_s: "1 to 2", orientation: "flat" };
    expect(fieldsFor(passIn(listed, band), listed, "").conditions.speed_m_s).toBe("");
    expect(faultsOf(listed, {}, band)).toEqual(["condition speed_m_s"]);
    expect(faultsOf(listed, { conditions: { ...band, speed_m_s: "1.4", cover: "on" } }, band)).toEqual([]);
  });
});

describe("a pass after another", () => {
  const logged = (strays: LoggedPass["strays"], readPoint = "dock-1"): LoggedPass => {
    const pass = passIn(listed, atOne);
    const at = { ms: 0, text: "2026-05-21T10:00:00+01:00" };
    const record = recordOf(pass, { ...fieldsFor(pass, listed, ""), conditions: { ...atOne, cover: "on" } });
    return { ...pass, ...record, readPoint, startedAt: at, endedAt: at, strays };
  };
  const nextAfter = (...passes: LoggedPass[]) =>
    fieldsAfter(passIn(listed, { speed_m_s: "1 to 2" }), { data: listed, walkedBy: "Ada", passes });

  it("keeps whether somebody looked for strays, at whichever read point, but not which were read", () => {
    expect(nextAfter().strays).toBe("nobody");
    expect(nextAfter(logged(null)).strays).toBe("nobody");
    expect(nextAfter(logged(null), logged({ codes: [], count: 0 }, "dock-2")).strays).toBe("none");
    expect(nextAfter(logged({ codes: ["A1"], count: 1 }))).toMatchObject({ strays: "none", strayCodes: "" });
  });

  it("keeps what the plan leaves open as it was at the same read point", () => {
    expect(nextAfter(logged(null)).conditions.cover).toBe("on");
    expect(nextAfter(logged(null, "dock-2")).conditions.cover).toBe("");
  });
});

describe("what is logged of strays", () => {
  const straysOf = (data: WalkData, part: Partial<Fields>) => {
    const pass = passIn(data, atOne);
    return recordOf(pass, { ...fieldsFor(pass, data, ""), ...part }).strays;
  };

  it("is nothing where nobody looked, none where somebody looked, and codes or a count where some were heard", () => {
    expect(straysOf(listed, { strays: "nobody", strayCodes: "A1" })).toBeNull();
    expect(straysOf(listed, { strays: "none", strayCodes: "A1" })).toEqual({ codes: [], count: 0 });
    expect(straysOf(listed, { strays: "heard", strayCodes: " A1, B2;A1\nC3 " })).toEqual({
      codes: ["A1", "B2", "C3"],
      count: 3,
    });
    expect(straysOf(counted, { strays: "none", strayCount: 4 })).toEqual({ codes: [], count: 0 });
    expect(straysOf(counted, { strays: "heard", strayCount: 4 })).toEqual({ codes: [], count: 4 });
  });
});

describe("what is refused, since the checks on logs would refuse it", () => {
  it("nothing of a plain pass", () => {
    expect(faultsOf(listed, {})).toEqual([]);
    expect(faultsOf(counted, {})).toEqual([]);
  });

  it("a void pass without a reason, or with an answer instead of one", () => {
    for (const voidReason of ["", "  ", "yes", "1", "none", "--"]) {
      expect(faultsOf(listed, { isVoid: true, voidReason }), voidReason).toEqual(["void"]);
    }
    expect(faultsOf(listed, { isVoid: true, voidReason: "no lift truck" })).toEqual([]);
  });

  it("strays without codes, of the load, counted instead of named, or spoilt by a spreadsheet", () => {
    for (const strayCodes of ["", " , ", cage[3]!, `A1 ${cage[3]}`, "3", "none", "3.08E+23"]) {
      expect(faultsOf(listed, { strays: "heard", strayCodes }), strayCodes).toEqual(["strays"]);
    }
    expect(faultsOf(listed, { strays: "heard", strayCodes: "30E1" })).toEqual([]);
  });

  it("more tags missed than went through", () => {
    expect(faultsOf(counted, { missedCount: 21 })).toEqual(["missed"]);
    expect(faultsOf(counted, { missedCount: 20 })).toEqual([]);
  });

  it("a speed that is no number or lies outside all bands", () => {
    for (const speed of ["1,5", "fast", "2.1", "1 m/s", ""]) {
      const conditions = { ...atOne, speed_m_s: speed, cover: "on" };
      expect(faultsOf(listed, { conditions }), speed).toEqual(["condition speed_m_s"]);
    }
  });

  it("a condition left open in a pass that counts, but not in a void one", () => {
    const conditions = { ...atOne, orientation: " ", cover: "on" };
    expect(faultsOf(counted, { conditions })).toEqual(["condition orientation"]);
    expect(faultsOf(listed, { conditions })).toEqual(["condition orientation"]);
    // An extra pass of which nothing was said beforehand has to say it too.
    expect(faultsOf(listed, { conditions }, {})).toEqual(["condition orientation"]);
    expect(faultsOf(counted, { conditions, isVoid: true, voidReason: "broken off" })).toEqual([]);
  });

  it("a condition that only a criterion asks for, unless the list of the load may say it", () => {
    const conditions = { ...atOne, cover: "" };
    expect(faultsOf(counted, { conditions })).toEqual(["condition cover"]);
    expect(faultsOf(listed, { conditions })).toEqual([]);
  });
});

describe("changing what was logged", () => {
  it("starts from exactly what was logged, whatever that was", () => {
    for (const data of [listed, counted]) {
      const pass = passIn(data, atOne);
      const first = fieldsFor(pass, data, "Ada");
      for (const part of [
        {},
        { missed: data.load === null ? [] : cage.slice(2, 5), missedCount: data.load === null ? 3 : 0 },
        { strays: "none" },
        { strays: "heard", strayCodes: "A1 B2", strayCount: 2 },
        { isVoid: true, voidReason: "slipped", note: "wet" },
      ] as Partial<Fields>[]) {
        const logged = recordOf(pass, { ...first, ...part });
        const stamped = { ...pass, ...logged, startedAt: { ms: 0, text: "" }, endedAt: { ms: 0, text: "" } };
        expect(recordOf(pass, fieldsOf(stamped))).toEqual(logged);
      }
    }
  });
});
