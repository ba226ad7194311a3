import { problem } from "./card/problem.ts";
import { didYouMean, listing, quoted } from "./card/wording.ts";

/* The data folder, the folder of a facility, and files that cannot be read at all. */

export const dataFolderMissing = problem(
  {
    code: "data-folder-missing",
    severity: "error",
    means: "The data folder does not exist.",
    advice: "Name it with --data, or start one with `proofwalk new data/my-facility`.",
  },
  {
    with: ({ folder }: { folder: string }) => ({
      found: `no folder ${quoted(folder)}`,
      expected: "a data folder with one folder for each facility",
    }),
  },
);

export const dataFolderEmpty = problem(
  {
    code: "data-folder-empty",
    severity: "error",
    means: "The data folder holds no facility.",
    advice: "Start one with `proofwalk new data/my-facility`, or name another folder with --data.",
  },
  {
    with: ({ folder }: { folder: string }) => ({
      found: `no facility in ${quoted(folder)}`,
      expected: "one folder for each facility, with a facility.yaml in it",
    }),
  },
);

export const facilityUnknown = problem(
  {
    code: "facility-unknown",
    severity: "error",
    means: "--only names a facility that is not in the data folder.",
    advice: "The id of a facility is the name of its folder.",
  },
  {
    with: ({ id, known, journeys }: { id: string; known: string[]; journeys: readonly string[] }) => ({
      found: `--only ${quoted(id)}`,
      expected: `a facility of the data folder: ${listing(known)}${journeys.length === 0 ? "" : `; or a journey: ${listing(journeys)}`}`,
      advice: `${didYouMean(id, [...known, ...journeys])}The id of a facility is the name of its folder${journeys.length === 0 ? "" : ", that of a journey the name of its YAML file"}.`,
    }),
  },
);

export const facilityYamlMissing = problem(
  {
    code: "facility-yaml-missing",
    severity: "error",
    means: "A facility's folder has no facility.yaml.",
    advice: "Run `proofwalk new DIR` for one to start from.",
  },
  {
    inFolder: () => ({ found: "no facility.yaml", expected: "facility.yaml" }),
    amongFacilities: ({ folder }: { folder: string }) => ({
      found: `the folder ${quoted(folder)} without facility.yaml`,
      expected: "facility.yaml",
      advice:
        "Add a facility.yaml, or move the folder out of the data folder (a folder whose name starts with a dot is ignored).",
    }),
    misspelt: ({ folder, name }: { folder: string; name: string }) => ({
      found: `${quoted(name)} in the folder ${quoted(folder)}`,
      expected: "facility.yaml",
      advice: "Rename it to facility.yaml.",
    }),
  },
);

export const fileUnreadable = problem(
  {
    code: "file-unreadable",
    severity: "error",
    means: "A file cannot be opened or read.",
    advice: "Check the file and its permissions.",
  },
  {
    with: ({ reason }: { reason: string }) => ({
      found: quoted(reason),
      expected: "a file that can be read",
    }),
  },
);

export const folderUnreadable = problem(
  {
    code: "folder-unreadable",
    severity: "error",
    means: "A folder of the inputs cannot be listed.",
    advice: "Check the folder and its permissions: nothing in it was read, so nothing can be judged.",
  },
  {
    with: ({ reason }: { reason: string }) => ({
      found: quoted(reason),
      expected: "a folder that can be listed, or none",
    }),
  },
);

export const linkBroken = problem({
  code: "link-broken",
  severity: "error",
  means: "A symbolic link leads to nothing.",
  found: "a link to something that does not exist",
  expected: "a file, or a link to one in the facility's folder",
  advice: "Put the file there, or remove the link: a verdict without it would be on less than was walked.",
});

export const linkOutside = problem(
  {
    code: "link-outside",
    severity: "error",
    means: "A symbolic link leads out of the facility's folder.",
    advice: "Copy the file into the facility's folder: what lies outside could not be archived with it.",
  },
  {
    with: ({ target }: { target: string }) => ({
      found: `a link to ${quoted(target)}`,
      expected: "a file in the facility's folder",
    }),
  },
);

export const facilityNameUnusable = problem(
  {
    code: "facility-name-unusable",
    severity: "error",
    means: "The name of a facility's folder holds control characters.",
    advice: "Rename the folder: its name stands in every path and on every page.",
  },
  {
    with: ({ name }: { name: string }) => ({
      found: `the folder ${quoted(name)}`,
      expected: "a name without control characters",
    }),
  },
);

export const encodingNotUtf8 = problem(
  {
    code: "encoding-not-utf-8",
    severity: "error",
    means: "A file is not text in UTF-8.",
    advice: "Save the file again as UTF-8.",
  },
  {
    with: () => ({ found: "bytes that are not UTF-8", expected: "text in UTF-8" }),
    encoded: ({ encoding }: { encoding: string }) => ({
      found: encoding,
      expected: "text in UTF-8",
      advice: 'Save the file again as "CSV UTF-8".',
    }),
    nulInLine: ({ text }: { text: string }) => ({
      found: `a line with a NUL byte: ${quoted(text)}`,
      expected: "text in UTF-8",
      advice: "The file is damaged here, or not a text at all: export it again from where it came from.",
    }),
    inLine: ({ text }: { text: string }) => ({
      found: `a line that is not UTF-8: ${quoted(text)}`,
      expected: "text in UTF-8",
      advice: 'Save the file again as "CSV UTF-8".',
    }),
  },
);

export const noPassLog = problem({
  code: "no-pass-log",
  severity: "warning",
  means: "The folder passes/ holds no pass log.",
  found: "no pass log in passes/",
  expected: "at least one .csv file",
  advice: "Add the logs of the walks: until then everything is untested.",
});

export const folderNotRead = problem(
  {
    code: "folder-not-read",
    severity: "warning",
    means: "A folder is not read, although its name is nearly that of one that is.",
    advice: "Rename the folder to passes, manifests, power or attachments.",
  },
  {
    with: ({ name, near }: { name: string; near: string }) => ({
      found: `the folder ${quoted(name)}`,
      expected: "the folders passes, manifests, power and attachments",
      advice: `The folder was not read. Did you mean ${quoted(near)}?`,
    }),
  },
);

export const fileNotRead = problem(
  {
    code: "file-not-read",
    severity: "warning",
    means: "A file or folder lies where nothing is read, or is neither a .csv nor a .xlsx file.",
    advice:
      "Move it into passes/, manifests/ or power/ and save it as .xlsx, or as CSV in UTF-8, if it belongs to the report.",
  },
  {
    besideYaml: ({ name }: { name: string }) => ({
      found: `${quoted(name)} beside facility.yaml`,
      expected: "pass logs in passes/, manifests in manifests/ and power logs in power/",
      advice: "The file was not read. Move it into one of these folders if it belongs to the report.",
    }),
    noTable: ({ name, folder }: { name: string; folder: string }) => ({
      found: `${quoted(name)}, which is neither a .csv nor a .xlsx file`,
      expected: `.csv and .xlsx files in ${folder}/`,
      advice: "The file was not read. Save it as .xlsx, or as CSV in UTF-8, if it belongs to the report.",
    }),
    subfolder: ({ name, folder }: { name: string; folder: string }) => ({
      found: `the folder ${quoted(name)}`,
      expected: folder === "attachments" ? `pictures in ${folder}/` : `.csv and .xlsx files in ${folder}/`,
      advice: `The folder was not read. Put its files directly into ${folder}/.`,
    }),
  },
);
