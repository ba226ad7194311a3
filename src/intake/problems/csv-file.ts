import { counted } from "../../model/number-words.ts";
import { problem } from "./card/problem.ts";
import { didYouMean, listing, quoted } from "./card/wording.ts";

/* CSV files as such: their separators, their quotes, their header. */

export const separatorsMixed = problem(
  {
    code: "separators-mixed",
    severity: "error",
    means: "The cells of a file are not all separated by the same mark, or by tabs.",
    advice: "Save the file with one separator; put double quotes around a name that contains another.",
  },
  {
    inHeader: ({ separators }: { separators: string[] }) => ({
      found: `${separators.join(" and ")} in the header`,
      expected: "commas between the cells (or semicolons throughout)",
      ...(separators.length === 1 ? { advice: "Save the file as CSV with commas instead of tabs." } : {}),
    }),
    inRow: ({ cells, width, separator }: RowFacts) => ({
      ...widthOf(cells, width),
      advice: `The cells of the header are separated by ${separator}s, those of this row are not. Save the whole file with one separator.`,
    }),
  },
);

export const rowWidth = problem(
  {
    code: "row-width",
    severity: "error",
    means: "A row has fewer cells than the header, or more.",
    advice: "Count the separators in the row. A cell that contains one needs double quotes around it.",
  },
  {
    with: ({ cells, width, separator }: RowFacts) => ({
      ...widthOf(cells, width),
      advice: `Count the ${separator}s in this row. A cell that contains a ${separator} or a line break needs double quotes around it.`,
    }),
  },
);

interface RowFacts {
  cells: string[];
  width: number;
  /** `comma`. */
  separator: string;
}

function widthOf(cells: string[], width: number) {
  return {
    found: `${counted(cells.length, "cell", "cells")}, beginning ${quoted(cells[0] ?? "")}`,
    expected: `${width} cells, as in the header`,
  };
}

export const headerRepeated = problem({
  code: "header-repeated",
  severity: "error",
  means: "A row of a pass log or manifest repeats the header.",
  found: "the header again",
  expected: "one header, in the first line of the file",
  advice:
    "Remove the row. Was another file pasted below the first? Then check that its columns are the same.",
});

export const quotesUnbalanced = problem(
  {
    code: "quotes-unbalanced",
    severity: "error",
    means: "A double quote is never closed, or stands inside a cell.",
    advice:
      'Close the quote, or write "" for a quote that belongs to the text. Nothing after it could be read.',
  },
  {
    with: ({ isOpen }: { isOpen: boolean }) => ({
      found: isOpen ? "a double quote that is never closed" : "a double quote inside a cell",
      expected: "double quotes around a whole cell, and doubled inside it",
    }),
  },
);

export const rowTooLong = problem(
  {
    code: "row-too-long",
    severity: "error",
    means: "A row of a pass log or manifest is longer than any row can be.",
    advice: "Is a double quote never closed, or the file not a table? Nothing after this row was read.",
  },
  {
    with: ({ most }: { most: number }) => ({
      found: `a row of more than ${most} bytes`,
      expected: `rows of at most ${most} bytes`,
    }),
  },
);

export const rowsTooMany = problem(
  {
    code: "rows-too-many",
    severity: "error",
    means: "A table of a facility has more rows than can be read.",
    advice:
      "Is it the log of a reader? Then name it in reader_logs. Otherwise divide the walk into several facilities.",
  },
  {
    with: ({ most }: { most: number }) => ({
      found: `more than ${most} rows`,
      expected: `at most ${most} rows in one table`,
    }),
  },
);

export const columnsTooMany = problem(
  {
    code: "columns-too-many",
    severity: "error",
    means: "A row of a pass log or manifest has more cells than any table can have columns.",
    advice: "Is the line break after the header missing? Nothing after this row was read.",
  },
  {
    with: ({ cells, most }: { cells: number; most: number }) => ({
      found: `a row of ${cells} cells`,
      expected: `at most ${most} columns`,
    }),
  },
);

export const semicolonSeparated = problem({
  code: "semicolon-separated",
  severity: "warning",
  means: "The columns of a file are separated by semicolons.",
  found: "semicolons between the columns",
  expected: "commas between the columns, points in decimal numbers",
  advice: "The file was read with decimal commas. Nothing needs doing if the numbers look right.",
});

export const fileEmpty = problem(
  {
    code: "file-empty",
    severity: "warning",
    means: "A pass log, power log or manifest is empty.",
    advice: "Fill in the file, or remove it if it was left by mistake.",
  },
  {
    with: ({ rows }: { rows: string }) => ({
      found: "an empty file",
      expected: `a header and rows of ${rows}`,
    }),
  },
);

export const fileWithoutRows = problem(
  {
    code: "file-without-rows",
    severity: "warning",
    means: "A pass log, power log or manifest has a header and no rows.",
    advice: "Fill in the file, or remove it if it was left by mistake.",
  },
  {
    with: ({ rows }: { rows: string }) => ({
      found: "a header and nothing below it",
      expected: `a header and rows of ${rows}`,
    }),
  },
);

export const columnUnnamed = problem(
  {
    code: "column-unnamed",
    severity: "error",
    means: "A column has no name.",
    advice: "Name the column, or remove it.",
  },
  {
    with: ({ number }: { number: number }) => ({
      found: `a value in column ${number}, which has no name`,
      expected: "a name for each column that holds values",
    }),
  },
);

export const columnMisspelt = problem(
  {
    code: "column-misspelt",
    severity: "error",
    means: "The name of a column resembles a known one.",
    advice: "Correct the header.",
  },
  {
    with: ({ written, meant }: { written: string; meant: string }) => ({
      found: `the column ${quoted(written)}`,
      expected: `${meant}, or a name that does not resemble it`,
      advice: `Did you mean ${quoted(meant)}? Correct the header.`,
    }),
  },
);

export const columnReadAs = problem(
  {
    code: "column-read-as",
    severity: "warning",
    means:
      "Columns have other names than their own: another case, blanks, a unit, or a usual word such as EPC.",
    advice: "They were read under the names on the right. Nothing needs doing if that is what they hold.",
  },
  {
    with: ({ renamed }: { renamed: readonly { written: string; name: string }[] }) => ({
      found: listing(
        renamed.map(({ written }) => written),
        30,
      ),
      expected: renamed.map(({ name }) => name).join(", "),
      advice:
        renamed.length === 1
          ? "The column was read as that. Nothing needs doing if that is what it holds."
          : "The columns were read as those, in this order. Nothing needs doing if that is what they hold.",
    }),
  },
);

export const columnUnit = problem(
  {
    code: "column-unit",
    severity: "error",
    means: "A column states another unit than the one that its values must have.",
    advice: "Convert the values, and rename the column.",
  },
  {
    with: ({ written, name, unit }: { written: string; name: string; unit: string }) => ({
      found: `the column ${quoted(written)}`,
      expected: `${name}, in ${unit}`,
      advice: `Convert the values to ${unit} where they are in another unit, and call the column ${quoted(name)}.`,
    }),
  },
);

export const titleAboveHeader = problem(
  {
    code: "title-above-header",
    severity: "warning",
    means: "Lines stand above the header, such as a title.",
    advice: "They were passed over. Nothing needs doing if the line below them is the header.",
  },
  {
    with: ({ title, lines }: { title: string; lines: number }) => ({
      found:
        lines === 1
          ? `the line ${quoted(title)} above the header`
          : `${quoted(title)} and ${counted(lines - 1, "more line", "more lines")} above the header`,
      expected: "the header in the first line",
      advice: `${lines === 1 ? "The line was" : "The lines were"} passed over. Nothing needs doing if the header follows.`,
    }),
  },
);

export const columnDuplicate = problem(
  {
    code: "column-duplicate",
    severity: "error",
    means: "Two columns have the same name.",
    advice: "Rename or remove one of the two.",
  },
  {
    with: ({ name, first }: { name: string; first: number }) => ({
      found: `the column ${quoted(name)} again`,
      expected: "each column once",
      advice: `Column ${first} already has this name: rename or remove one of the two.`,
    }),
  },
);

interface AnotherColumn {
  name: string;
  /** `times`. */
  look: string;
  example: string;
  wanted: readonly string[];
}

export const columnUndeclared = problem(
  {
    code: "column-undeclared",
    severity: "warning",
    means: "A column is neither known to the tool nor declared in facility.yaml.",
    advice:
      "The column is kept and shown with each pass. To judge by it, declare it under conditions in facility.yaml.",
  },
  {
    with: ({ name, file }: { name: string; file: string }) => ({
      found: `the column ${quoted(name)}`,
      expected: `a column of the ${file} or a condition of facility.yaml`,
    }),
    inPowerLog: ({ name }: { name: string }) => ({
      found: `the column ${quoted(name)}`,
      expected: "a column of the power log",
      advice: "The column is not read. The file is kept with it among the inputs.",
    }),
    inJourney: ({ name, file }: { name: string; file: string }) => ({
      found: `the column ${quoted(name)}`,
      expected: `a column of ${file}`,
      advice: "The column is not read. The file is kept with it among the inputs.",
    }),
    /** Its values look like what another column would hold, and the file has no such column. */
    likeAnother: ({ name, look, example, wanted }: AnotherColumn) => ({
      found: `the column ${quoted(name)} with ${look}: ${quoted(example)}`,
      expected: `${wanted.join(" or ")} for ${look}`,
      advice: `Is it ${wanted.map(quoted).join(" or ")}? Then rename it: as it is, it is shown with each pass, and nothing is made of it.`,
    }),
  },
);

export const columnMissing = problem(
  {
    code: "column-missing",
    severity: "error",
    means: "A pass log, power log or manifest lacks a column that it needs.",
    advice: "Add the column, or correct its name.",
  },
  {
    with: ({ name, file, others }: { name: string; file: string; others: string[] }) => ({
      found: `no column ${quoted(name)}`,
      expected: `${name}, which ${file} needs`,
      advice: `${didYouMean(name, others)}Add the column, or correct its name.`,
    }),
    /** Where the values of other columns look like those of the missing one. */
    likely: ({ name, file, likely }: { name: string; file: string; likely: string[] }) => ({
      found: `no column ${quoted(name)}`,
      expected: `${name}, which ${file} needs`,
      advice: `Is it ${likely.map(quoted).join(" or ")}? Then call that column ${quoted(name)}.`,
    }),
    round: ({ file }: { file: string }) => ({
      found: 'no column "round"',
      expected: `round, which ${file} needs`,
      advice: "The facility has several rounds: say for each row which one it belongs to.",
    }),
    /** Where the log may be meant to be of another form. */
    orElse: ({ name, file, advice }: { name: string; file: string; advice: string }) => ({
      found: `no column ${quoted(name)}`,
      expected: `${name}, which ${file} needs`,
      advice: `Add the column; or, ${advice}`,
    }),
    tags: ({ near }: { near: string | null }) => ({
      found: 'no column "tag"',
      expected: "tag, which a manifest needs",
      advice:
        near === null ? "Add the column." : `Is ${quoted(near)} the tag code? Then call the column "tag".`,
    }),
  },
);

export const formUnclear = problem(
  {
    code: "form-unclear",
    severity: "error",
    means: "The header does not tell which form a pass log has.",
    advice: "Keep the columns of one form, and move the others into a log of their own.",
  },
  {
    none: ({ forms }: { forms: string[] }) => ({
      found: "columns of no form",
      expected: `one form: ${forms.join("; ")}`,
      advice: "Add the columns of the form that the log is meant to have.",
    }),
    several: ({ columns, forms }: { columns: string[]; forms: string[] }) => ({
      found: `columns of several forms: ${listing(columns)}`,
      expected: `one form: ${forms.join("; ")}`,
    }),
  },
);

export const columnOfAnotherForm = problem(
  {
    code: "column-of-another-form",
    severity: "error",
    means: "A column belongs to another form of pass log.",
    advice: "Remove the column.",
  },
  {
    with: ({
      name,
      file,
      own,
      advice,
    }: {
      name: string;
      file: string;
      own: readonly string[];
      advice: string;
    }) => ({
      found: `the column ${quoted(name)}`,
      expected: `columns of ${file}: ${listing(own)}`,
      advice,
    }),
    inManifest: ({ name }: { name: string }) => ({
      found: `the column ${quoted(name)}`,
      expected: "tag, presented, and what describes the tags",
      advice: "A manifest lists a load; what happened in a pass belongs in the pass log.",
    }),
  },
);

export const manifestNameTwice = problem(
  {
    code: "manifest-name-twice",
    severity: "error",
    means: "Two manifests have the same name.",
    advice: "Rename one of the two.",
  },
  {
    with: ({ name, other }: { name: string; other: string }) => ({
      found: `a second manifest called ${quoted(name)}`,
      expected: "one file for each name",
      advice: `${other} has the same name: rename one of the two.`,
    }),
  },
);

export const fileCopied = problem(
  {
    code: "file-copied",
    severity: "either",
    means: "A pass log, power log or manifest is a copy of another, byte by byte.",
    advice: "Remove one of the two.",
  },
  {
    log: ({ path, original }: CopyFacts) => ({
      severity: "error",
      found: `${path}, which is a copy of ${original}`,
      expected: "each pass log once",
      advice: "Remove one of the two. If it was meant to hold other passes, put those in its place.",
    }),
    powerLog: ({ path, original }: CopyFacts) => ({
      severity: "error",
      found: `${path}, which is a copy of ${original}`,
      expected: "each power log once",
      advice: "Remove one of the two: its tags would be counted twice.",
    }),
    manifest: ({ path, original }: CopyFacts) => ({
      severity: "warning",
      found: `${path}, which is a copy of ${original}`,
      expected: "each load once",
      advice: "Both loads have the same tags. If one was meant to have others, write them into it.",
    }),
  },
);

interface CopyFacts {
  path: string;
  original: string;
}
