import { decimalText, joined, statedNumber, thinSpace } from "../../model/number-words.ts";
import type { RadioResult } from "../../model/radio/radio-settings.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import { decimalColumn, statedColumn, yesOrNo } from "../parts/columns.ts";
import type { TableFiles } from "../parts/csv.ts";
import { type Column, type Figure, type TableFigureView, tableFigure } from "../parts/figure.ts";
import type { Names } from "../parts/names.ts";
import type { PageContext } from "../parts/page.ts";
import { atLeastText, atMostText } from "../words/radio.ts";

export interface RadioView {
  summary: string;
  settings: TableFigureView;
  exposure: TableFigureView | null;
  /** Beside the distances: what they are not. */
  cautions: string[];
  notes: string[];
}

/** The figures of the radio of a read point. */
export interface RadioFigures {
  settings: Figure<TableFigureView>;
  exposure: Figure<TableFigureView> | null;
}

const provenance: Record<NonNullable<RadioResult["mark"]>, string> = {
  read: "read in the rule",
  quoted: "as quoted by another source",
  memory: "from memory",
  stated: "as facility.yaml states it",
};

const dB = (value: number | null) => (value === null ? "not known" : atMostText(value));

/** Null where facility.yaml states nothing of it. */
export function radioFigures(
  { radio = [] }: ReadPointResult,
  names: Names,
  files: TableFiles,
): RadioFigures | null {
  if (radio.length === 0) return null;
  return {
    settings: tableFigure<RadioResult>({
      id: "radio-settings",
      caption: "What the antennas radiate in their main beam, and the limit.",
      howToRead:
        "EIRP: the power at the reader's port, less cable and connectors, plus the antenna's gain in one plane. e.r.p. is 2.15 dB less.",
      columns: settingColumns(names),
      rows: radio,
      tableCaption: "Radiated power by round",
      file: files("radio", "what the antennas radiate, and the limit, by round."),
    }),
    exposure: exposureFigure(radio, names, files),
  };
}

/** Null where no round states enough to reckon a distance. */
function exposureFigure(
  radio: readonly RadioResult[],
  names: Names,
  files: TableFiles,
): Figure<TableFigureView> | null {
  const rows = radio.flatMap(({ round, exposure, farFieldM }) =>
    exposure.map((one) => ({ round, farFieldM, ...one })),
  );
  if (rows.length === 0) return null;
  return tableFigure<(typeof rows)[number]>({
    id: "radio-exposure",
    caption: "Where the main beam falls to the limit for the general public: a planning aid, no clearance.",
    howToRead: "Reckoned for the far field with the transmitter on all the time.",
    columns: [
      {
        header: "round",
        value: ({ round }) => round,
        label: "Round",
        text: ({ round }) => names.round(round),
      },
      {
        header: "limit_source",
        value: ({ rule }) => rule,
        label: "Limit for the general public",
        text: ({ rule, mark }) => ({ text: rule, detail: provenance[mark] }),
      },
      decimalColumn(
        { header: "limit_w_m2", label: "W/m\u00b2", digits: 2 },
        ({ limitWPerM2 }) => limitWPerM2,
      ),
      {
        header: "distance_m",
        value: ({ distanceM }) => distanceM,
        label: "Distance, m",
        text: ({ distanceM, farFieldM }) => ({
          text: decimalText(Math.ceil(distanceM * 100 - 1e-9) / 100, 2),
          detail:
            farFieldM === null || farFieldM <= distanceM
              ? ""
              : `indicative: far field from ${decimalText(farFieldM, 2)}${thinSpace}m`,
        }),
        as: "strong number",
      },
    ],
    rows,
    tableCaption: "Distance at which the limit for the general public is met",
    file: files("radio-exposure", "where the main beam falls to the limit for the general public."),
  });
}

function settingColumns(names: Names): Column<RadioResult>[] {
  return [
    {
      header: "round",
      value: ({ round }) => round,
      label: "Round",
      text: ({ round, stated: { heightM, tiltDeg } }) => ({
        text: names.round(round),
        detail: [
          ...(heightM === null ? [] : [`at ${statedNumber(heightM)}${thinSpace}m`]),
          ...(tiltDeg === null ? [] : [`tilted ${statedNumber(tiltDeg)}${thinSpace}degrees`]),
        ].join(", "),
      }),
    },
    statedColumn(
      { header: "power_dbm", label: "Power, dBm", none: "not stated" },
      ({ powerDbm }) => powerDbm,
    ),
    statedColumn(
      { header: "cable_loss_db", label: "Cable, dB", none: "not stated" },
      ({ stated }) => stated.cableLossDb,
    ),
    {
      header: "antenna_gain",
      value: (radio) => radio.stated.antennaGainDbi ?? radio.stated.antennaGainDbic,
      label: "Gain",
      text: ({ stated: { antennaGainDbi, antennaGainDbic } }) =>
        antennaGainDbic !== null && antennaGainDbi === null
          ? `${statedNumber(antennaGainDbic)}${thinSpace}dBic`
          : antennaGainDbi === null
            ? "not stated"
            : `${statedNumber(antennaGainDbi)}${thinSpace}dBi`,
      as: "number",
    },
    { header: "gain_kind", value: (radio) => (radio.stated.antennaGainDbi === null ? "dBic" : "dBi") },
    {
      header: "eirp_dbm",
      value: ({ eirpDbm }) => eirpDbm,
      label: "EIRP, dBm",
      text: ({ eirpDbm, erpDbm }) => ({
        text: dB(eirpDbm),
        detail: erpDbm === null ? "" : `${dB(erpDbm)} e.r.p.`,
      }),
      as: "strong number",
    },
    { header: "erp_dbm", value: ({ erpDbm }) => erpDbm },
    { header: "conducted_dbm", value: ({ conductedDbm }) => conductedDbm },
    {
      header: "limit_dbm_eirp",
      value: ({ limitDbm }) => limitDbm,
      label: "Limit, dBm EIRP",
      text: ({ limitDbm }) => (limitDbm === null ? "none stated" : atLeastText(limitDbm)),
      as: "number",
    },
    { header: "conducted_limit_dbm", value: ({ conductedLimitDbm }) => conductedLimitDbm },
    {
      header: "over",
      value: ({ over, overByDb }) => (overByDb === null ? null : yesOrNo(over)),
      label: "Within",
      text: ({ over, overByDb, source, mark }) => ({
        text:
          overByDb === null
            ? "not known"
            : over
              ? `no: over by ${dB(overByDb)}${thinSpace}dB`
              : `yes: ${atLeastText(-overByDb)}${thinSpace}dB below`,
        detail: source === null || mark === null ? "" : `${source} (${provenance[mark]})`,
      }),
    },
    { header: "source", value: ({ source }) => source },
  ];
}

/** What a reader of the figures must know before relying on them. */
const radioCautions = [
  "These distances are a planning aid and no clearance: they reckon with one antenna in the open, no reflections and no second reader, and nearer than the far field begins (about 0.4 m for an antenna of 0.25 m) they only indicate. Whether a place may be used is for a competent person to say, under the rules that hold where it is.",
  "People with a pacemaker, a defibrillator or another active implant keep away from antennas until their physician or the implant's maker has said what is safe; a sign at the read point tells them.",
  "Switch the transmitter off before work within reach of an antenna. Mount antennas only with people and equipment that the site allows at height, and leave the mains to a qualified electrician.",
];

/** What the figures take for granted. */
function radioNotes({ radio = [] }: ReadPointResult): string[] {
  const rounds = radio.map((one) => one.stated);
  return [
    ...(rounds.some(
      ({ antennaGainDbi, antennaGainDbic }) => antennaGainDbic !== null && antennaGainDbi === null,
    )
      ? [
          "A gain in dBic is that of a circular antenna. In one plane it is about 3 dB less (from memory): that is what a tag of one plane can take, and what is counted here. Ask whether your rule counts one plane or both; the exposure distances count both.",
        ]
      : []),
    ...(radio.some((one) => one.eirpDbm !== null && one.stated.cableLossDb === null)
      ? ["No loss of cables is stated, so none is taken off."]
      : []),
  ];
}

function radioSummary({ radio = [] }: ReadPointResult, names: Names): string {
  const over = radio.filter((one) => one.over).map(({ round }) => names.round(round));
  if (over.length > 0) return `Radiated power: over its limit in ${joined(over)}; and exposure`;
  return radio.some(({ overByDb }) => overByDb !== null)
    ? "Radiated power: within its limit; and exposure"
    : "Radiated power and exposure";
}

export function radioView(
  readPoint: ReadPointResult,
  { settings, exposure }: RadioFigures,
  here: PageContext,
): RadioView {
  return {
    summary: radioSummary(readPoint, here.names),
    settings: settings.view(here),
    notes: radioNotes(readPoint),
    exposure: exposure?.view(here) ?? null,
    cautions: radioCautions,
  };
}
