import { problem } from "./card/problem.ts";
import { didYouMean, listing, quoted, shortened } from "./card/wording.ts";

/* Workbooks as such: the file, its sheets, and cells that hold no value. */

export const workbookUnreadable = problem(
  {
    code: "workbook-unreadable",
    severity: "error",
    means: "A file called .xlsx is no workbook, is damaged, or is protected by a password.",
    advice: "Open it in a spreadsheet program and save it as .xlsx without a password, or as CSV in UTF-8.",
  },
  {
    with: ({ reason }: { reason: string }) => ({
      found: `a file that could not be read as a workbook (${shortened(reason)})`,
      expected: "a workbook (.xlsx)",
    }),
  },
);

export const workbookTooLarge = problem(
  {
    code: "workbook-too-large",
    severity: "error",
    means: "A workbook is larger, unpacked, than any walk makes it.",
    advice: "Save the sheet as CSV in UTF-8, which has no such limit, or split the log.",
  },
  {
    with: ({ most }: { most: number }) => ({
      found: `a workbook of more than ${most / 1_000_000} MB when unpacked`,
      expected: `at most ${most / 1_000_000} MB`,
    }),
  },
);

export const sheetUnknown = problem(
  {
    code: "sheet-unknown",
    severity: "error",
    means: "A workbook has no sheet of the name that facility.yaml states, or none that is not hidden.",
    advice: "Correct the name under sheets in facility.yaml.",
  },
  {
    with: ({ name, known }: { name: string; known: string[] }) => ({
      found: `no sheet ${quoted(name)}`,
      expected: `one of its sheets: ${listing(known)}`,
      advice: `${didYouMean(name, known)}Correct the name under sheets in facility.yaml.`,
    }),
    noneVisible: ({ known }: { known: string[] }) => ({
      found: known.length === 0 ? "a workbook without sheets" : `hidden sheets only: ${listing(known)}`,
      expected: "a sheet that is not hidden",
      advice: "Unhide the sheet with the table, or name it under sheets in facility.yaml.",
    }),
  },
);

export const sheetsNotRead = problem(
  {
    code: "sheets-not-read",
    severity: "warning",
    means: "A workbook has further sheets, which were not read.",
    advice:
      "Name the sheets to read under sheets in facility.yaml. Nothing needs doing if the others do not belong to the report.",
  },
  {
    with: ({ read, others, path }: { read: string; others: string[]; path: string }) => ({
      found: `further sheets: ${listing(others)}`,
      expected: `one sheet; ${quoted(read)} was read, the first one`,
      advice: `If another belongs to the report, name it in facility.yaml: sheets: { ${JSON.stringify(path)}: [${[read, ...others].map((name) => JSON.stringify(name)).join(", ")}] }.`,
    }),
  },
);

export const cellWithError = problem(
  {
    code: "cell-with-error",
    severity: "error",
    means: "A formula of a workbook shows an error.",
    advice: "Correct the formula, or type the value.",
  },
  { with: ({ text }: { text: string }) => ({ found: quoted(text), expected: "a value" }) },
);

export const formulaWithoutValue = problem({
  code: "formula-without-value",
  severity: "error",
  means: "A formula of a workbook was saved without its value.",
  found: "a formula without its value",
  expected: "a value",
  advice: "Open the workbook in a spreadsheet program and save it again, or type the value.",
});

export const sheetsUnused = problem({
  code: "sheets-unused",
  severity: "error",
  means: "facility.yaml names the sheets of a workbook that is not in the folder, or several of a manifest.",
  expected: "the path of a workbook in passes/, manifests/ or power/, and one sheet for a manifest",
  advice: "Correct the path, or remove the entry.",
});
