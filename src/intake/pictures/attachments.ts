import { open } from "node:fs/promises";
import { join } from "node:path";
import type { Facility } from "../../model/facility.ts";
import { joined } from "../../model/number-words.ts";
import { byCodePoint } from "../../model/order.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import { type Attachment, besidesWords } from "../../model/record/picture.ts";
import { isOutside } from "../facility/record.ts";
import { namesIn } from "../places/names-in-folder.ts";
import { placeInFolder } from "../places/place-in-folder.ts";
import { fileNotRead } from "../problems/folder.ts";
import {
  attachmentNotRead,
  pictureMissing,
  picturePartsLeftOut,
  pictureTellsMore,
  pictureWithoutCaption,
} from "../problems/pictures.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import type { Path, YamlReport } from "../problems/reports.ts";

/** The photographs and drawings of a facility: its attachments, and the image of its floor plan. */
interface Pictures {
  inputs: InputFile[];
  /** Those that facility.yaml lists, then those that merely lie there. */
  attachments: Attachment[];
  floorPlan: Facility["floorPlan"];
}

/** Most facilities have no pictures, and need none of it. */
const pictureReading = () => import("./read-picture.ts");

export async function readPictures(
  folder: string,
  facility: Facility,
  report: YamlReport,
): Promise<Pictures> {
  const { problems } = report;
  const read = new Map<string, InputFile | null>();
  const tell = (file: string, input: InputFile) => remarkOn(file, input, report);
  /** Reports what is wrong with a file at that file, and that it is missing where it is named. */
  const inputOf = async (file: string, named: Path): Promise<InputFile | null> => {
    const known = read.get(file);
    if (known !== undefined) return known;
    read.set(file, null);
    if (isOutside(file)) return null;
    const place = await placeInFolder(folder, file);
    if (place.kind !== "file") {
      report.value(named, place.problem ?? pictureMissing);
      return null;
    }
    const { readPicture } = await pictureReading();
    const { input, problem } = await readPicture(folder, file);
    if (problem !== null) problems.report({ file }, problem);
    read.set(file, input);
    if (input !== null) tell(file, input);
    return input;
  };
  for (const [i, { file }] of facility.attachments.entries()) await inputOf(file, ["attachments", i, "file"]);
  const floorPlan = facility.floorPlan;
  const image =
    floorPlan?.image === undefined ? null : await inputOf(floorPlan.image, ["floor_plan", "image"]);
  const listed = new Set(facility.attachments.map(({ file }) => file));
  const unlisted: Attachment[] = [];
  for (const file of await attachmentFiles(folder, listed, problems)) {
    if (listed.has(file) || file === floorPlan?.image) continue;
    const kind = await otherKind(join(folder, file));
    if (kind !== null) problems.report({ file }, attachmentNotRead.with({ kind }));
    else if ((await inputOf(file, [])) !== null)
      unlisted.push({ file, caption: null, readPoint: null, openPoint: null, taken: null });
  }
  for (const { file, caption } of [...facility.attachments, ...unlisted])
    if (caption === null) problems.report({ file }, pictureWithoutCaption.with({ file }));
  return {
    inputs: [...read.values()].filter((input) => input !== null).sort((a, b) => byCodePoint(a.path, b.path)),
    attachments: [...facility.attachments, ...unlisted],
    floorPlan: floorPlan === null || image === null ? floorPlan : withImage(floorPlan, image),
  };
}

/** The shape of the image gives the depth. */
function withImage(plan: NonNullable<Facility["floorPlan"]>, { picture }: InputFile): Facility["floorPlan"] {
  if (picture === undefined) return plan;
  const depth = (plan.widthMetres * picture.height) / picture.width;
  return { ...plan, depthMetres: Math.round(depth * 1000) / 1000 };
}

/** What a file is that merely lies there and is no picture; null where it is one, or cannot be looked at. */
async function otherKind(onDisk: string): Promise<string | null> {
  const head = Buffer.alloc(4096);
  const file = await open(onDisk).catch(() => null);
  if (file === null) return null;
  try {
    const { bytesRead } = await file.read(head, 0, head.length, 0);
    const start = head.subarray(0, bytesRead);
    const isPicture = /^(?:\xff\xd8\xff|\x89PNG)/.test(start.toString("latin1"));
    if (isPicture || /<(?:\w+:)?svg[\s>]/.test(start.toString("utf8"))) return null;
    const { kindOf } = await pictureReading();
    return kindOf(start);
  } finally {
    await file.close();
  }
}

function remarkOn(file: string, { picture }: InputFile, { problems }: YamlReport): void {
  if (picture === undefined) return;
  const { holds, leftOut } = picture;
  if (holds.length > 0) {
    const what = joined(holds.map((one) => besidesWords[one]));
    problems.report({ file }, pictureTellsMore.with({ what }));
  }
  if (leftOut.length > 0) problems.report({ file }, picturePartsLeftOut.with({ parts: leftOut }));
}

/** The paths of what lies in attachments/, by code point. */
async function attachmentFiles(
  folder: string,
  listed: ReadonlySet<string>,
  problems: ProblemList,
): Promise<string[]> {
  const room = "attachments";
  const place = await placeInFolder(folder, room);
  if (place.kind === "refused") problems.report({ file: room }, place.problem);
  if (place.kind !== "folder") return [];
  const names = (await namesIn(join(folder, room), room, problems)) ?? [];
  const files: string[] = [];
  for (const name of names.filter((each) => !each.startsWith("."))) {
    const path = `${room}/${name}`;
    const { kind, problem } = await placeInFolder(folder, path);
    if (kind === "file") files.push(path);
    else if (problem !== null) problems.report({ file: path }, problem);
    else if (![...listed].some((file) => file.startsWith(`${path}/`)))
      problems.report({ file: path }, fileNotRead.subfolder({ name, folder: room }));
  }
  return files;
}
