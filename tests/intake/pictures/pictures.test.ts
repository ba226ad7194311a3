import { deflateSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { exifBlock } from "../../../demonstration/pictures/exif.ts";
import { judgeFacility } from "../../../src/analysis/judge.ts";
import { pictureIn } from "../../../src/intake/pictures/read-picture.ts";
import { errors, type Files, read, readSound, soundLog, soundYaml } from "../folder.ts";
import { describeYamlFaults } from "../yaml-fault.ts";
import { jpeg, png, segment, svg } from "./made-pictures.ts";

const codeOf = (bytes: Buffer) => pictureIn(bytes).problem?.code ?? "none";
const exif = (more: Partial<Parameters<typeof exifBlock>[0]> = {}) =>
  exifBlock({ orientation: 6, latitude: 47, longitude: -30, artist: "Una Drisk", ...more });

describe("what a picture's file tells besides the picture", () => {
  it("is a place and a person in Exif, and how the picture is turned", () => {
    expect(pictureIn(jpeg({ more: [exif()] })).picture).toEqual({
      kind: "jpeg",
      width: 3,
      height: 4,
      orientation: 6,
      holds: ["place", "person"],
      leftOut: [],
    });
  });

  it.each([
    ["nothing, in a plain JPEG", jpeg(), []],
    ["a comment of a JPEG", jpeg({ more: [segment(0xfe, Buffer.from("for Una"))] }), ["text"]],
    [
      "XMP with a creator and coordinates",
      jpeg({
        more: [segment(0xe1, Buffer.from("http://ns.adobe.com/xap/1.0/\0<dc:creator/><exif:GPSLatitude/>"))],
      }),
      ["place", "person", "text"],
    ],
    [
      "IPTC with a by-line and a city",
      jpeg({ more: [segment(0xed, Buffer.from("\x1c\x02\x50\x00\x01U\x1c\x02\x5a\x00\x01F", "latin1"))] }),
      ["place", "person"],
    ],
    ["pictures behind a JPEG", jpeg({ behind: Buffer.from("ffd8ff", "hex") }), ["preview"]],
    [
      "an Exif block that cannot be read",
      jpeg({ more: [segment(0xe1, Buffer.from("Exif\0\0rubbish"))] }),
      ["text"],
    ],
    ["nothing, in a plain PNG", png(), []],
    ["the author of a PNG", png({ more: [["tEXt", Buffer.from("Author\0Una")]] }), ["person"]],
    ["a comment of a PNG", png({ more: [["iTXt", Buffer.from("Comment\0\0\0\0\0x")]] }), ["text"]],
    ["not the program that wrote a PNG", png({ more: [["tEXt", Buffer.from("Software\0x")]] }), []],
    ["Exif in a PNG", png({ more: [["eXIf", exif().subarray(10)]] }), ["place", "person"]],
    ["metadata of an SVG", Buffer.from(svg("<metadata>by Una</metadata>")), ["text"]],
    ["a comment of an SVG", Buffer.from(svg("<!-- /home/una/plan.svg -->")), ["text"]],
    [
      "what a drawing program notes down",
      Buffer.from(svg("<g/>", 'viewBox="0 0 1 1" xmlns:s="urn:s" s:docname="una.svg"')),
      ["text"],
    ],
  ] as [string, Buffer, string[]][])("is said: %s", (_, bytes, holds) => {
    expect(pictureIn(bytes).picture?.holds).toEqual(holds);
  });
});

describe("a picture is refused", () => {
  const cut = (bytes: Buffer, by: number) => bytes.subarray(0, bytes.length - by);
  it.each([
    ["a JPEG that ends in the middle", cut(jpeg(), 2), "picture-unreadable"],
    ["a JPEG that ends in its head", jpeg().subarray(0, 8), "picture-unreadable"],
    ["a JPEG that no browser shows", jpeg({ frame: 0xc3 }), "picture-unreadable"],
    ["a JPEG of 65 million pixels", jpeg({ width: 10_000, height: 6_500 }), "picture-too-large"],
    [
      "a PNG of 65 million pixels, before it is unpacked",
      png({ width: 10_000, height: 6_500, data: Buffer.alloc(1) }),
      "picture-too-large",
    ],
    ["a PNG that ends in the middle", cut(png(), 14), "picture-unreadable"],
    [
      "a PNG with a changed byte",
      Buffer.from(png().map((byte, i) => (i === 20 ? byte ^ 1 : byte))),
      "picture-unreadable",
    ],
    [
      "a PNG that unpacks to more than its size",
      png({ data: deflateSync(Buffer.alloc(1 << 20)) }),
      "picture-unreadable",
    ],
    [
      "a PNG that unpacks to less than its size",
      png({ data: deflateSync(Buffer.alloc(3)) }),
      "picture-unreadable",
    ],
    ["a GIF", Buffer.from("GIF89a"), "picture-unreadable"],
    ["an empty file", Buffer.alloc(0), "picture-unreadable"],
    ["an SVG with a script", Buffer.from(svg("<script>1</script>")), "picture-runs-code"],
    [
      "an SVG with a script of another namespace",
      Buffer.from(svg('<x:script xmlns:x="http://www.w3.org/1999/xhtml"/>')),
      "picture-runs-code",
    ],
    ["an SVG with a handler", Buffer.from(svg('<g onload="x()"/>')), "picture-runs-code"],
    [
      "an SVG with a link that runs",
      Buffer.from(svg('<a xlink:href=" java&#10;script:x()"/>')),
      "picture-runs-code",
    ],
    [
      "an SVG that sets such a link later",
      Buffer.from(svg('<set attributeName="href" to="javascript:x()"/>')),
      "picture-runs-code",
    ],
    [
      "an SVG with a style sheet beside it",
      Buffer.from(`<?xml-stylesheet href="x.xsl"?>${svg("")}`),
      "picture-runs-code",
    ],
    [
      "an SVG with entities of its own",
      Buffer.from(`<!DOCTYPE svg [<!ENTITY a "b">]>${svg("&a;")}`),
      "picture-unreadable",
    ],
    ["an SVG that is not well-formed", Buffer.from(svg("<g>")), "picture-unreadable"],
    ["an SVG without a size", Buffer.from(svg("", "")), "picture-unreadable"],
    ["an SVG that contains itself", Buffer.from(svg('<g id="a"><use href="#a"/></g>')), "picture-too-large"],
  ] as [string, Buffer, string][])("%s", (_, bytes, code) => {
    const { picture, problem } = pictureIn(bytes);
    expect(picture).toBeNull();
    expect(codeOf(bytes)).toBe(code);
    for (const text of [problem!.found, problem!.expected, problem!.advice]) expect(text.trim()).not.toBe("");
  });

  it("a drawing of a few lines that refer to each other ten times each", () => {
    const levels = Array.from(
      { length: 8 },
      (_, i) => `<g id="l${i}">${`<use href="#l${i + 1}"/>`.repeat(10)}</g>`,
    );
    expect(codeOf(Buffer.from(svg(`${levels.join("")}<path id="l8" d="M0 0h1"/>`)))).toBe(
      "picture-too-large",
    );
  });
});

describe("attachments", () => {
  const yaml = `${soundYaml}open_points:\n  - { id: P1, text: Remount antenna 3 }\nattachments:\n`;
  const files = (entries: string, pictures: Record<string, Buffer>): Files => ({
    "facility.yaml": yaml + entries,
    "passes/a.csv": soundLog,
    ...pictures,
  });

  it("are inputs with their hash, and stand in the result with their caption and place", async () => {
    const entry =
      "  - { file: a.jpg, caption: Antenna 3, read_point: dock-1, open_point: P1, taken: 2026-05-21 }\n";
    const input = await readSound(files(entry, { "attachments/a.jpg": jpeg() }));
    const result = judgeFacility(input, "0");
    expect(result.attachments).toEqual([
      {
        file: "attachments/a.jpg",
        caption: "Antenna 3",
        readPoint: "dock-1",
        openPoint: "P1",
        taken: "2026-05-21",
      },
    ]);
    expect(result.inputs.at(-1)).toMatchObject({
      path: "attachments/a.jpg",
      bytes: jpeg().length,
      sha256: expect.stringMatching(/^[0-9a-f]{64}$/),
      picture: { kind: "jpeg", width: 4, height: 3, holds: [] },
    });
  });

  it("that nobody describes are part of the record, with a remark, and other files are not, with another", async () => {
    const { input, problems } = await read(
      files("  - { file: attachments/a.png }\n", {
        "attachments/a.png": png(),
        "attachments/b.png": png(),
        "attachments/c.heic": Buffer.from("\0\0\0\x18ftypheic", "latin1"),
      }),
    );
    expect(problems.map(({ code, file }) => [code, file])).toEqual([
      ["picture-without-caption", "attachments/a.png"],
      ["picture-without-caption", "attachments/b.png"],
      ["attachment-not-read", "attachments/c.heic"],
    ]);
    expect(problems[2]!.found).toBe("a HEIC picture");
    expect(input!.facility.attachments.map(({ file }) => file)).toEqual([
      "attachments/a.png",
      "attachments/b.png",
    ]);
    expect(input!.inputs.some(({ path }) => path.endsWith(".heic"))).toBe(false);
  });

  it("may lie in folders of their own once they are listed", async () => {
    const entry = "  - { file: dock-1/a.png, caption: x }\n";
    const sound = files(entry, { "attachments/dock-1/a.png": png() });
    expect((await read(sound)).problems).toEqual([]);
    const { problems } = await read({ ...sound, "attachments/dock-2/b.png": png() });
    expect(problems.map(({ code, file }) => [code, file])).toEqual([["file-not-read", "attachments/dock-2"]]);
  });

  it("that tell of a place or a person are remarked on without the name", async () => {
    const entry = "  - { file: a.jpg, caption: x }\n";
    const { problems } = await read(files(entry, { "attachments/a.jpg": jpeg({ more: [exif()] }) }));
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({
      code: "picture-tells-more",
      severity: "warning",
      found: "besides the picture: a place and the name of a person",
    });
    expect(JSON.stringify(problems)).not.toContain("Drisk");
  });

  it("in SVG say what their copy leaves out", async () => {
    const drawing = Buffer.from(svg('<foreignObject/><image href="a.png"/>'));
    const { problems } = await read(
      files("  - { file: a.svg, caption: x }\n", { "attachments/a.svg": drawing }),
    );
    expect(problems).toMatchObject([
      {
        code: "picture-parts-left-out",
        severity: "warning",
        found: '"foreignObject", "image" in the drawing',
      },
    ]);
  });

  it("that are damaged or missing are errors, the first at the file and the second where it is named", async () => {
    const entries = "  - { file: a.jpg, caption: x }\n  - { file: b.jpg, caption: x }\n";
    const { input, problems } = await read(files(entries, { "attachments/a.jpg": jpeg().subarray(0, 20) }));
    expect(input).toBeNull();
    expect(errors(problems).map(({ code, file }) => [code, file])).toEqual([
      ["picture-unreadable", "attachments/a.jpg"],
      ["picture-missing", "facility.yaml"],
    ]);
  });
});

describe("a floor plan's image", () => {
  it("gives the plan its depth, and is an input", async () => {
    const input = await readSound({
      "facility.yaml": `${soundYaml}floor_plan: { image: plan.png, width_m: 48 }\n`,
      "plan.png": png({ width: 30, height: 20 }),
      "passes/a.csv": soundLog,
    });
    expect(judgeFacility(input, "0").facility.floorPlan).toEqual({
      widthMetres: 48,
      depthMetres: 32,
      areas: [],
      image: "plan.png",
    });
    expect(input.inputs.map(({ path }) => path)).toContain("plan.png");
  });

  it("leaves no room for a stated depth", async () => {
    const { problems } = await read({
      "facility.yaml": `${soundYaml}floor_plan: { image: plan.png, width_m: 48, depth_m: 32 }\n`,
      "plan.png": png(),
    });
    expect(errors(problems)).toMatchObject([{ code: "floor-plan-depth", found: '"depth_m": "32"' }]);
  });

  it("is an error where it is not there", async () => {
    const { problems } = await read({
      "facility.yaml": `${soundYaml}floor_plan: { image: plan.png, width_m: 48 }\n`,
    });
    expect(errors(problems).map(({ code }) => code)).toEqual(["picture-missing"]);
  });
});

describeYamlFaults("pictures in facility.yaml", [
  {
    claim: "a plan without an image states its depth",
    change: ["", "floor_plan: { width_m: 48 }\n"],
    code: "floor-plan-depth",
    at: "{ width_m: 48 }",
    says: /Name an image/,
  },
  {
    claim: "an image lies in the facility's folder",
    change: ["", "floor_plan: { image: ../plan.png, width_m: 48 }\n"],
    code: "path-outside",
    at: "../plan.png",
    says: /below the facility's folder/,
  },
  {
    claim: "an attachment lies in the facility's folder",
    change: ["", "attachments:\n  - { file: ../a.png, read_point: dock-1 }\n"],
    code: "path-outside",
    at: "../a.png",
    says: /below the facility's folder/,
  },
]);
