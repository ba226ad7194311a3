import type { ColumnName } from "../../../model/facility.ts";

/** A column that tells reads from other events, and its values in reads. */
export interface EventChoice {
  index: number;
  name: ColumnName;
  values: string[];
  /** Its values in other events; blank where they lack it. */
  others: string[];
}

interface EventColumn {
  name: ColumnName;
  values: readonly string[];
  /** Whether it stands for nothing else. */
  isFree: boolean;
}

/** Kinds of events that carry a code and are no reads of it: common practice, no source. */
const noReads =
  /^(?:.*[-_. ])?(?:lost|gone|left|leave|departed|departure|exit|removed|vanished|write|written|kill|killed|lock|locked|error|fault|alive|heartbeat|keepalive|status)$/i;

/** Ends of names under which logs say what kind of event a row is: common practice, no source. */
const kindNames =
  /(?:^|[^a-z])(?:type|kind|event|msg|message|topic|action|category|class|op|operation|record)(?:type|kind|name)?$/i;

const mostKinds = 12;

/** The column that parts rows with a code from rows without one, or whose name and values say that some rows with a code are no reads. */
export function eventsOf(columns: readonly EventColumn[], codes: readonly number[]): EventChoice[] {
  if (codes.length === 0) return [];
  const rows = columns[codes[0]!]!.values.map((_, row) =>
    codes.some((code) => columns[code]!.values[row] !== ""),
  );
  const choices = columns.flatMap(({ name, values, isFree }, index): EventChoice[] => {
    if (!isFree) return [];
    const inReads = new Set(values.filter((_, row) => rows[row]));
    const outside = new Set(values.filter((_, row) => !rows[row]));
    if (inReads.size > mostKinds || outside.size > mostKinds || inReads.has("")) return [];
    if ([...inReads].some((value) => outside.has(value))) return [];
    const isKind = typeof name === "string" && kindNames.test(wordsOf(name));
    const lost = isKind ? [...inReads].filter((value) => noReads.test(wordsOf(value))) : [];
    const wanted = [...inReads].filter((value) => !lost.includes(value));
    const isTelling = isKind
      ? outside.size + lost.length > 0
      : rows.filter((isRead) => !isRead).length >= fewestOthers;
    if (wanted.length === 0 || !isTelling) return [];
    return [{ index, name, values: wanted, others: [...outside, ...lost] }];
  });
  const isKind = ({ name }: EventChoice) => kindNames.test(wordsOf(String(name)));
  return [choices.find(isKind) ?? choices.find(({ others }) => others.length > 0)].filter(
    (choice) => choice !== undefined,
  );
}

/** With a mark between words that only capitals part. */
function wordsOf(name: string): string {
  return name.replace(/([a-z])([A-Z])/g, "$1_$2");
}

/** Rows without a code that a column without a telling name has to part from the others: fewer are broken ones. */
const fewestOthers = 3;
