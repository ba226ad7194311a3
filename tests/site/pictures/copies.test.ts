import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { exifBlock } from "../../../demonstration/pictures/exif.ts";
import { judgeFacility } from "../../../src/analysis/judge.ts";
import { openFacility } from "../../../src/intake/facility/facility.ts";
import { pictureIn } from "../../../src/intake/pictures/read-picture.ts";
import { readFacility } from "../../../src/intake/read-facility-folder.ts";
import type { Result } from "../../../src/model/result/result.ts";
import { pictureCopies } from "../../../src/pages/record/pictures.ts";
import { codecOf, type Pixels } from "../../../src/site/pictures/codec.ts";
import { writePictures } from "../../../src/site/pictures/copies.ts";
import { scaled, upright } from "../../../src/site/pictures/scale.ts";
import { ended } from "../../commands/ended.ts";
import { soundLog, soundYaml } from "../../intake/folder.ts";
import { jpeg } from "../../intake/pictures/made-pictures.ts";

/** The left half red, the right half blue, and a green stripe along the top. */
function flag(width: number, height: number): Pixels {
  const data = new Uint8ClampedArray(width * height * 4);
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const colour = y < height / 4 ? [0, 200, 0, 255] : x < width / 2 ? [200, 0, 0, 255] : [0, 0, 200, 255];
      data.set(colour, (y * width + x) * 4);
    }
  return { width, height, data };
}

const colourAt = ({ data, width }: Pixels, x: number, y: number) => {
  const [red = 0, green = 0, blue = 0] = data.subarray((y * width + x) * 4);
  return red > 120 ? "red" : green > 120 ? "green" : blue > 120 ? "blue" : "none";
};

const corners = (pixels: Pixels) => {
  const [right, bottom] = [pixels.width - 2, pixels.height - 2];
  return [
    colourAt(pixels, 1, 1),
    colourAt(pixels, right, 1),
    colourAt(pixels, 1, bottom),
    colourAt(pixels, right, bottom),
  ];
};

async function judged(pictures: Record<string, Uint8Array>): Promise<{ result: Result; folder: string }> {
  const folder = join(mkdtempSync(join(tmpdir(), "proofwalk-pictures-")), "hall");
  for (const [name, content] of Object.entries({
    "facility.yaml": soundYaml,
    "passes/a.csv": soundLog,
    ...pictures,
  })) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content);
  }
  const { input, problems } = await readFacility(await openFacility(folder));
  if (input === null) throw new Error(JSON.stringify(problems));
  return { result: judgeFacility(input, "0"), folder };
}

describe("the copies of pictures on the pages", () => {
  it("are upright, no larger than a page needs, and hold nothing of place, person or preview", async () => {
    const { encode, decode } = await codecOf("jpeg");
    const stored = Buffer.from(await encode(flag(1600, 800)));
    const block = exifBlock({ orientation: 6, latitude: 47, longitude: -30, artist: "Una Drisk" });
    const original = Buffer.concat([stored.subarray(0, 2), block, stored.subarray(2), Buffer.from("more")]);
    const { result, folder } = await judged({ "attachments/Una's photo.JPG": original });
    const [copy] = pictureCopies(result);
    expect(copy).toMatchObject({ path: "hall/pictures/una-s-photo.jpg", width: 600, height: 1200 });
    const site = join(folder, "..", "site");
    await writePictures(result, { from: folder, site });
    const bytes = readFileSync(join(site, copy!.path));
    expect(pictureIn(bytes).picture).toMatchObject({ width: 600, height: 1200, orientation: 1, holds: [] });
    expect(bytes.includes("Exif") || bytes.includes("Drisk")).toBe(false);
    // Stored with its top to the left: turned to the right, the stripe stands at the right.
    expect(corners(await decode(bytes))).toEqual(["red", "green", "blue", "green"]);
    expect(result.inputs.at(-1)!.picture!.holds).toEqual(["place", "person", "preview"]);
    expect(readFileSync(join(folder, "attachments/Una's photo.JPG")).equals(original)).toBe(true);
  });

  it("of a PNG are a PNG, see-through where it was", async () => {
    const { encode, decode } = await codecOf("png");
    const clear: Pixels = { width: 2400, height: 20, data: new Uint8ClampedArray(2400 * 20 * 4) };
    const { result, folder } = await judged({ "attachments/a.png": await encode(clear) });
    const site = join(folder, "..", "site");
    await writePictures(result, { from: folder, site });
    const copy = await decode(readFileSync(join(site, "hall/pictures/a.png")));
    expect([copy.width, copy.height]).toEqual([1200, 10]);
    expect(copy.data.every((byte) => byte === 0)).toBe(true);
  });

  it("are refused with the file's name where its data are damaged, or it changed since it was judged", async () => {
    const { result, folder } = await judged({ "attachments/a.jpg": jpeg() });
    const write = () => writePictures(result, { from: folder, site: join(folder, "..", "site") });
    await expect(write()).rejects.toThrow(/"attachments\/a.jpg" of hall cannot be decoded/);
    // check says so before anybody builds.
    const check = await ended("check", "--data", join(folder, ".."), "--only", "hall");
    expect([check.status, check.out]).toEqual([2, expect.stringContaining("a JPEG that cannot be decoded")]);
    expect(check.out).toContain("attachments/a.jpg");
    writeFileSync(join(folder, "attachments/a.jpg"), jpeg({ width: 5 }));
    await expect(write()).rejects.toThrow(/changed since it was judged/);
  });
});

describe("a picture", () => {
  /** Letters for pixels. */
  const small = (rows: string[]): Pixels => {
    const width = rows[0]!.length;
    const data = new Uint8ClampedArray(rows.length * width * 4);
    [...rows.join("")].forEach((letter, i) => {
      data.set([letter.charCodeAt(0), 0, 0, 255], i * 4);
    });
    return { width, height: rows.length, data };
  };
  const lettersOf = ({ width, height, data }: Pixels) =>
    Array.from({ length: height }, (_, y) =>
      Array.from({ length: width }, (_, x) => String.fromCharCode(data[(y * width + x) * 4]!)).join(""),
    );

  it.each([
    [1, ["ab", "cd", "ef"]],
    [2, ["ba", "dc", "fe"]],
    [3, ["fe", "dc", "ba"]],
    [4, ["ef", "cd", "ab"]],
    [5, ["ace", "bdf"]],
    [6, ["eca", "fdb"]],
    [7, ["fdb", "eca"]],
    [8, ["bdf", "ace"]],
  ])("stored in way %d of Exif is shown upright", (orientation, shown) => {
    expect(lettersOf(upright(small(["ab", "cd", "ef"]), orientation))).toEqual(shown);
  });

  it("made smaller has the mean of what each pixel stands for, by its share", () => {
    const row = (...values: number[]): Pixels => ({
      width: values.length,
      height: 1,
      data: Uint8ClampedArray.from(values.flatMap((value) => [value, value, value, 255])),
    });
    const reds = ({ data }: Pixels) => Array.from({ length: data.length / 4 }, (_, i) => data[i * 4]);
    expect(reds(scaled(row(10, 30, 100, 200), { width: 2, height: 1 }))).toEqual([20, 150]);
    // Three pixels in two: the middle one counts half to each side.
    expect(reds(scaled(row(0, 90, 180), { width: 2, height: 1 }))).toEqual([30, 150]);
  });
});
