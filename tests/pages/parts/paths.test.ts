import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  distinctSlugs,
  facilityFolder,
  facilityPaths,
  passAnchors,
  planLetter,
  relativeLink,
  rootOf,
  slug,
} from "../../../src/pages/parts/paths.ts";
import { sampleResult } from "../sample-result.ts";

describe("slugs", () => {
  it("are safe file names on every system, whatever they are made of", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 200 }), (text) => {
        const name = slug(text);
        expect(name).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
        expect(name.length).toBeLessThanOrEqual(66);
        expect(name).not.toMatch(/^(con|prn|aux|nul|com\d|lpt\d)$/);
      }),
    );
  });
  it("keep off devices, traversal and emptiness", () => {
    expect(slug("CON")).toBe("con-named");
    expect(slug("../../etc/passwd")).toBe("etc-passwd");
    expect(slug("...")).toBe("unnamed");
    expect(slug("Über-Tür 3.")).toBe("uber-tur-3");
  });
  it("are told apart by a number, the first keeping its name", () => {
    expect(distinctSlugs(["Dock 1", "dock-1", "dock 1!"])).toEqual(["dock-1", "dock-1-2", "dock-1-3"]);
    fc.assert(
      fc.property(fc.array(fc.string()), (texts) => {
        expect(new Set(distinctSlugs(texts)).size).toBe(texts.length);
      }),
    );
  });
  it("leave a good facility id alone and mark any other", () => {
    expect(facilityFolder("fennick-wash")).toBe("fennick-wash");
    expect(facilityFolder("Fennick Wash")).toMatch(/^fennick-wash-[0-9a-f]{8}$/);
    expect(facilityFolder("Fennick.Wash")).not.toBe(facilityFolder("Fennick Wash"));
    for (const name of ["assets", "index.html", "contents.sha256", "site.json", "Site.JSON"])
      expect(facilityFolder(name)).toMatch(/^[a-z0-9-]+-[0-9a-f]{8}$/);
  });
});

describe("links", () => {
  it("lead from one file to another by a file name", () => {
    expect(relativeLink("a/index.html", "a/rounds.html")).toBe("rounds.html");
    expect(relativeLink("a/read-points/x.html", "a/index.html")).toBe("../index.html");
    expect(relativeLink("a/read-points/x.html", "a/read-points/y.html")).toBe("y.html");
    expect(relativeLink("a/index.html", "index.html")).toBe("../index.html");
    expect(relativeLink("index.html", "a/index.html")).toBe("a/index.html");
    expect(rootOf("a/read-points/x.html")).toBe("../../");
  });
  it("give each pass an anchor of its own", () => {
    const anchor = passAnchors(sampleResult);
    const all = sampleResult.readPoints.flatMap((point) =>
      point.rounds.flatMap((round) =>
        round.passList.map((pass) => anchor({ round: round.id, readPoint: point.id, pass: pass.id })),
      ),
    );
    expect(new Set(all).size).toBe(all.length);
    expect(anchor({ round: "as-left", readPoint: "dock-1", pass: "P-01" })).toBe("pass-dock-1-as-left-p-01");
  });
  it("give each read point a page under the facility", () => {
    const paths = facilityPaths(sampleResult);
    expect(paths.readPoint("dock-2")).toBe("sample-plant/read-points/dock-2.html");
    expect(paths.table("findings")).toBe("sample-plant/tables/findings.csv");
  });
  it("letter the read points of a plan", () => {
    expect([0, 25, 26, 51, 52].map(planLetter)).toEqual(["A", "Z", "AA", "AZ", "BA"]);
  });
});
