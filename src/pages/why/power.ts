import { rounded } from "../../measures/rounding.ts";
import {
  counted,
  countedInWords,
  countText,
  statedNumber,
  statedPercent,
  thinSpace,
} from "../../model/number-words.ts";
import type { PowerCurve, PowerResult } from "../../model/radio/power-curves.ts";
import { countColumn } from "../parts/columns.ts";
import { type Column, figure, type Section, tableFigure } from "../parts/figure.ts";
import { powerCurvePicture } from "../pictures/power-curve.ts";
import { noPowerCurve, powerText } from "../words/power.ts";
import type { WhyContext } from "./why-context.ts";

type Step = PowerResult["steps"][number];
type Needed = PowerCurve["needed"][number];
/** What a share needs, by both links. */
interface NeededRow {
  share: number;
  logit: Needed;
  probit: Needed | null;
}

interface PowerContext extends WhyContext {
  /** The round judged. */
  round: string;
  /** To be read at the power in use; 0.99 where nothing asks for another. */
  share: number | undefined;
}

/** What the power log shows: the curve, the powers that shares need, and the margin of the power in use. */
export function powerSection(
  power: readonly PowerResult[] | undefined,
  context: PowerContext,
): Section | null {
  const own = power?.find(({ round }) => round === context.round) ?? power?.at(-1);
  if (power === undefined || own === undefined) return null;
  const earlier = power.filter((one) => one !== own).map((one) => neededSentence(one, context));
  const logit = curveOf(own, "logit");
  const isFitted = logit.state === "fitted";
  return {
    id: "power",
    title: "Power in hand",
    sentences: [neededSentence(own, context), ...marginSentence(own, context), ...earlier],
    figure: isFitted ? curveFigure(own, context) : null,
    tables: isFitted ? [neededTable(own, context)] : [stepTable(own, context)],
  };
}

function curveOf({ curves }: PowerResult, link: PowerCurve["link"]): PowerCurve {
  return curves.find((curve) => curve.link === link)!;
}

/** Powers that are needed are rounded up, and margins down: against whoever claims that there is enough. */
const dbm = (power: number) => rounded(power, 1, "up");
const db = (margin: number) => rounded(margin, 1, "down");

/** `27.4 to 32.0`; words where there are no limits. */
function within({ lowerDbm, upperDbm }: Needed): string {
  return lowerDbm === null || upperDbm === null ? "no limits" : `${dbm(lowerDbm)} to ${dbm(upperDbm)}`;
}

/** What the share asked for takes: the highest, where nothing asks for one. */
const asked = ({ needed }: PowerCurve, share: number | undefined) =>
  needed.find((one) => one.share === share) ?? needed.at(-1);

function neededSentence(power: PowerResult, { names, round, share }: PowerContext): string {
  const where = power.round === round ? "" : `In round ${names.round(power.round)}: `;
  const logit = curveOf(power, "logit");
  const needed = asked(logit, share);
  if (needed === undefined) return `${where}${noPowerCurve({ ...logit, why: logit.state })}`;
  const probit = asked(curveOf(power, "probit"), share);
  const other =
    probit === undefined
      ? ""
      : `, by the probit ${powerText(probit.powerDbm, "up")} (${within(probit)}). So far out the figure depends on the shape of the curve; verdicts go by the logit`;
  return `${where}${statedPercent(needed.share)} of the tags take a transmit power of ${powerText(needed.powerDbm, "up")} (${within(needed)}) by the logit${other}.`;
}

function marginSentence(power: PowerResult, { share }: PowerContext): string[] {
  const needed = asked(curveOf(power, "logit"), share);
  if (needed === undefined) return [];
  if (power.inUseDbm === null || needed.margin === null)
    return ["The settings of the round do not state the power in use, so there is no margin."];
  const { value, lower, upper } = needed.margin;
  const limits = lower === null || upper === null ? "no limits" : `${db(lower)} to ${db(upper)}`;
  return [
    `At the power in use, ${statedNumber(power.inUseDbm)}${thinSpace}dBm, that leaves a margin of ${db(value)}${thinSpace}dB (${limits}).`,
  ];
}

function curveFigure(power: PowerResult, { files, confidence }: PowerContext) {
  const total = (of: (step: Step) => number) => power.steps.reduce((sum, step) => sum + of(step), 0);
  const [lowest, highestPower] = [power.steps[0]!, power.steps.at(-1)!].map(({ powerDbm }) => powerDbm);
  return figure<Step>({
    id: "power-curve",
    caption: `${countText(total(({ read }) => read))} of ${counted(
      total(({ presented }) => presented),
      "tag",
      "tags",
    )} read at ${countedInWords(power.steps.length, "power", "powers")} from ${statedNumber(lowest!)} to ${statedNumber(highestPower!)}${thinSpace}dBm.`,
    howToRead: `A dot is the share of the tags read at a power. The line is the logistic curve, with the band that holds it at each power with ${statedPercent(confidence)} confidence; the dashed line is the probit. ${tagsWords(power)}`,
    picture: () =>
      powerCurvePicture({
        id: "power-curve",
        title: "Share of tags read, by transmit power",
        description:
          "The share read at each power, with the logistic curve and its band, the probit, and the power in use.",
        power,
      }),
    columns: [...stepColumns, ...fittedColumns(power)],
    rows: power.steps,
    tableCaption: "Tags read at each power",
    mostRows: 60,
    file: files("power", "how many tags were read at each transmit power, and the curves."),
  });
}

function tagsWords({ tagsNamed }: PowerResult): string {
  return tagsNamed
    ? "The log names its tags: where the same ones were presented at several powers, the band allows for it."
    : "The log does not name its tags: the band allows for the same ones at every power.";
}

function stepTable(power: PowerResult, { files }: PowerContext) {
  return tableFigure<Step>({
    id: "power-steps",
    caption: "Tags read at each power.",
    howToRead: "",
    columns: stepColumns,
    rows: power.steps,
    tableCaption: "Tags read at each power",
    mostRows: 60,
    file: files("power", "how many tags were read at each transmit power."),
  });
}

const stepColumns: Column<Step>[] = [
  {
    header: "power_dbm",
    value: ({ powerDbm }) => powerDbm,
    label: "Power, dBm",
    text: ({ powerDbm }) => statedNumber(powerDbm),
  },
  countColumn({ header: "tags_presented", label: "Presented" }, ({ presented }) => presented),
  countColumn({ header: "tags_read", label: "Read" }, ({ read }) => read),
  {
    header: "share_read",
    value: ({ presented, read }) => read / presented,
    label: "Share read, %",
    text: ({ presented, read }) => percentDown(read / presented),
    as: "strong number",
  },
];

/** What both curves give at the powers measured; in percent on the page, rounded down. */
function fittedColumns(power: PowerResult): Column<Step>[] {
  const logit = curveOf(power, "logit");
  const at = (curve: PowerCurve, { powerDbm }: Step) =>
    curve.band.find((point) => point.powerDbm === powerDbm) ?? null;
  return [
    { header: "logit_share", value: (step) => at(logit, step)?.share ?? null },
    { header: "logit_lower", value: (step) => at(logit, step)?.lower ?? null },
    { header: "logit_upper", value: (step) => at(logit, step)?.upper ?? null },
    {
      label: "Logit, %",
      text: (step) => {
        const { share, lower, upper } = at(logit, step)!;
        return { text: percentDown(share), detail: `${percentDown(lower)} to ${percentDown(upper)}` };
      },
      as: "number",
    },
    {
      header: "probit_share",
      value: (step) => at(curveOf(power, "probit"), step)?.share ?? null,
      label: "Probit, %",
      text: (step) => {
        const point = at(curveOf(power, "probit"), step);
        return point === null ? "no curve" : percentDown(point.share);
      },
      as: "number",
    },
  ];
}

function percentDown(share: number): string {
  return rounded(share * 100, 1, "down");
}

function neededTable(power: PowerResult, { files }: PowerContext) {
  const probit = curveOf(power, "probit");
  const rows = curveOf(power, "logit").needed.map((logit): NeededRow => {
    return {
      share: logit.share,
      logit,
      probit: probit.needed.find(({ share }) => share === logit.share) ?? null,
    };
  });
  const figures = (link: "logit" | "probit"): Column<NeededRow>[] => [
    { header: `${link}_power_dbm`, value: (row) => row[link]?.powerDbm ?? null },
    { header: `${link}_lower_dbm`, value: (row) => row[link]?.lowerDbm ?? null },
    { header: `${link}_upper_dbm`, value: (row) => row[link]?.upperDbm ?? null },
    {
      label: `By the ${link}, dBm`,
      text: (row) => {
        const needed = row[link];
        return needed === null ? "no curve" : { text: dbm(needed.powerDbm), detail: within(needed) };
      },
      as: link === "logit" ? "strong number" : "number",
    },
  ];
  return tableFigure<NeededRow>({
    id: "power-needed",
    caption: "The power that a share of the tags takes.",
    howToRead:
      "Below each power stand its limits by Fieller's method. The margin is the power in use less the power by the logit.",
    columns: [
      {
        header: "share_fraction",
        value: ({ share }) => share,
        label: "Share read",
        text: ({ share }) => statedPercent(share),
      },
      ...figures("logit"),
      ...figures("probit"),
      {
        header: "margin_db",
        value: ({ logit }) => logit.margin?.value ?? null,
        label: "Margin, dB",
        text: ({ logit: { margin } }) => (margin === null ? "not known" : db(margin.value)),
        as: "number",
      },
    ],
    rows,
    tableCaption: "Power by share read",
    file: files("power-needed", "the powers that shares of the tags take, and the margin."),
  });
}
