import { problem } from "./card/problem.ts";
import { listing, quoted } from "./card/wording.ts";

/* Photographs and drawings. */

const kinds = "a JPEG, PNG or SVG file";

export const pictureMissing = problem({
  code: "picture-missing",
  severity: "error",
  means: "facility.yaml names a photograph or drawing that is not there.",
  expected: "a file of the facility's folder",
  advice: "Correct the name, or put the file there: photographs and drawings belong into attachments/.",
});

export const pictureUnreadable = problem(
  {
    code: "picture-unreadable",
    severity: "error",
    means: "A photograph or drawing is damaged, or of a kind that is not read.",
    advice: "Save it again as JPEG, PNG or plain SVG.",
  },
  {
    otherKind: ({ kind }: { kind: string }) => ({ found: kind, expected: kinds }),
    damaged: ({ why }: { why: string }) => ({
      found: why,
      expected: `${kinds} that is whole`,
      advice: "The file is cut off or damaged: copy it again from where it came from.",
    }),
    unsupported: ({ what }: { what: string }) => ({ found: what, expected: kinds }),
  },
);

export const pictureTooLarge = problem(
  {
    code: "picture-too-large",
    severity: "error",
    means: "A photograph or drawing is larger than what is taken into memory.",
    advice: "Save it smaller: a report shows no more than about 1600 pixels of an edge.",
  },
  { with: ({ found, most }: { found: string; most: string }) => ({ found, expected: `at most ${most}` }) },
);

export const pictureRunsCode = problem(
  {
    code: "picture-runs-code",
    severity: "error",
    means: "An SVG holds something that a browser would run.",
    advice:
      "Save it again as plain SVG, or as PNG: the file itself goes into the site and the archive, where somebody may open it.",
  },
  { with: ({ what }: { what: string }) => ({ found: what, expected: "a drawing that runs nothing" }) },
);

export const picturePartsLeftOut = problem(
  {
    code: "picture-parts-left-out",
    severity: "warning",
    means: "The copy of an SVG on the pages lacks parts that load or embed something.",
    advice: "Compare the page with the drawing. If it lacks something that matters, save the drawing as PNG.",
  },
  {
    with: ({ parts }: { parts: string[] }) => ({
      found: `${listing(parts)} in the drawing`,
      expected: "shapes and texts only",
    }),
  },
);

export const pictureTellsMore = problem(
  {
    code: "picture-tells-more",
    severity: "warning",
    means:
      "The file of a photograph or drawing tells more than the picture: a place, a name, a device's number.",
    advice:
      "The copies on the pages are without it. The original has it, in inputs/ and in the archive: keep it out with --inputs none, or take it out before the report is issued.",
  },
  {
    with: ({ what }: { what: string }) => ({
      found: `besides the picture: ${what}`,
      expected: "a picture only",
    }),
  },
);

export const pictureWithoutCaption = problem(
  {
    code: "picture-without-caption",
    severity: "warning",
    means: "A photograph or drawing has no caption.",
    advice: "Say under `attachments` in facility.yaml what it shows, and of which read point or open point.",
  },
  {
    with: ({ file }: { file: string }) => ({
      found: `${quoted(file)} without caption`,
      expected: "a caption in facility.yaml",
    }),
  },
);

export const attachmentNotRead = problem(
  {
    code: "attachment-not-read",
    severity: "warning",
    means:
      "A file in attachments/ is no photograph or drawing that can be shown, so it is not part of the record.",
    advice: "Save it as JPEG, PNG or plain SVG if it belongs to the report.",
  },
  { with: ({ kind }: { kind: string }) => ({ found: kind, expected: kinds }) },
);

export const floorPlanDepth = problem(
  {
    code: "floor-plan-depth",
    severity: "error",
    means: "A floor plan has both an image and a depth, or neither.",
    advice: "With image, leave depth_m out; without, state it.",
  },
  {
    both: () => ({
      expected: "width_m alone beside image",
      advice: "Remove depth_m: the shape of the image gives the depth.",
    }),
    neither: () => ({
      found: "a floor plan with neither image nor depth_m",
      expected: "image, or depth_m",
      advice: "Name an image in the facility's folder, or state the depth of the drawing in metres.",
    }),
  },
);
