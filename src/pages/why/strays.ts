import type { Strays, Why } from "../../model/diagnosis/why.ts";
import { counted, decimalText, nonEmpty } from "../../model/number-words.ts";
import { codeColumns, countColumn, shownIf, strongestColumn } from "../parts/columns.ts";
import { type Column, type Section, tableFigure } from "../parts/figure.ts";
import type { Names } from "../parts/names.ts";
import { countOf } from "../parts/rate-columns.ts";
import type { WhyContext } from "./why-context.ts";

type Stray = Strays["tags"][number];

const inPasses = {
  id: "strays",
  title: "Unexpected tags, and where they belong",
  table: "Codes read in passes that did not present them",
};
const between = {
  id: "idle-tags",
  title: "Tags read between the passes, and where they belong",
  table: "Codes read between the passes",
};

export const strays = (found: Why["strays"], context: WhyContext) => section(found, context, inPasses);
export const idleTags = (found: Why["idleTags"], context: WhyContext) => section(found, context, between);

const sources: Record<Stray["source"], string> = {
  "this-job": "this job",
  neighbour: "a neighbour",
  stranger: "unknown here",
};

function section(
  found: Strays | null,
  { names, files }: WhyContext,
  { id, title, table }: typeof inPasses,
): Section | null {
  if (found === null || found.tags.length === 0) return null;
  const sentences = nonEmpty([
    found.passes === null || found.ofPasses === null
      ? ""
      : `${countOf({ k: found.passes, n: found.ofPasses })} passes read a tag that they did not present.`,
    `${found.bySource.map((source) => sourceText(source, names)).join("; ")}.`,
    found.leftOut === 0
      ? ""
      : `${counted(found.leftOut, "further code is", "further codes are")} not listed.`,
  ]);
  return {
    id,
    title,
    sentences,
    tables: [
      tableFigure({
        id: `${id}-table`,
        caption: `${table}, and where else the facility's own logs know them.`,
        howToRead:
          "This job: presented here in another pass. A neighbour: presented or listed at another read point, or read by another reader in the same minute. Unknown here: in none of the facility's logs and manifests.",
        columns: columns(found, names),
        rows: found.tags,
        tableCaption: table,
        mostRows: 60,
        file: files(`why-${id}`, `${table.toLowerCase()}, and where they belong.`),
      }),
    ],
  };
}

function sourceText({ source, readPoint, tags, passes }: Strays["bySource"][number], names: Names): string {
  const whose = readPoint === null ? sources[source] : names.readPoint(readPoint);
  const where = passes === null ? "" : ` (${counted(passes, "pass", "passes")})`;
  return source === "stranger"
    ? `${counted(tags, "code is", "codes are")} ${whose}${where}`
    : `${counted(tags, "code belongs", "codes belong")} to ${whose}${where}`;
}

function columns({ passes, tags }: Strays, names: Names): Column<Stray>[] {
  const whereText = ({ where }: Stray) =>
    where
      .slice(0, 3)
      .map(({ readPoint, round, manifest, minute }) =>
        nonEmpty([
          manifest === null ? "" : `manifest ${manifest}`,
          readPoint === null ? "" : names.readPoint(readPoint),
          round === null ? "" : names.round(round),
          minute === null ? "" : `read at ${minute}`,
        ]).join(", "),
      )
      .join("; ");
  return [
    ...codeColumns<Stray>(),
    {
      header: "source",
      value: ({ source }) => source,
      label: "Belongs to",
      text: (stray) => ({ text: sources[stray.source], detail: whereText(stray) }),
    },
    { header: "where", value: whereText },
    ...(passes === null
      ? []
      : [countColumn<Stray>({ header: "passes", label: "Passes", none: "" }, ({ passes }) => passes)]),
    shownIf(
      tags.some(({ reads }) => reads !== null),
      countColumn({ header: "reads", label: "Reads", none: "not recorded" }, ({ reads }) => reads),
    ),
    shownIf(
      tags.some(({ strongestDbm }) => strongestDbm !== null),
      strongestColumn(),
    ),
    shownIf(
      tags.some(({ antennas }) => antennas.length > 0),
      {
        header: "antennas",
        value: ({ antennas }) => antennas.join("; "),
        label: "Antennas",
        text: ({ antennas }) => antennas.join(", "),
      },
    ),
    shownIf(
      tags.some(({ firstMs }) => firstMs !== null),
      {
        header: "first_read_ms",
        value: ({ firstMs }) => firstMs,
        label: "First read, s",
        text: ({ firstMs }) => (firstMs === null ? "" : decimalText(firstMs / 1000, 1)),
        as: "number",
      },
    ),
  ];
}
