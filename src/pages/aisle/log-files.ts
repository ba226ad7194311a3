import { csvText, forPassLogs, markedText } from "../parts/csv-text.ts";
import type { LoggedPass } from "./pass.ts";
import type { State } from "./steps.ts";
import type { WalkData } from "./walk-data.ts";

export interface LogFile {
  name: string;
  text: string;
}

/**
 * The pass log as CSV, in the form its passes have: with a load the tags are named, without one they are counted. A log
 * that holds both, since the plan was changed on the way, is two files.
 */
export function logFiles(data: WalkData, { walk }: Pick<State, "walk">, passes: LoggedPass[]): LogFile[] {
  const listed = passes.filter(({ manifest }) => manifest !== null);
  const counted = passes.filter(({ manifest }) => manifest === null);
  const stem = `${data.fileStem}-${walk}`;
  const files: LogFile[] = [];
  if (listed.length > 0) files.push({ name: `${stem}.csv`, text: logText(data, listed, listedColumns) });
  if (counted.length > 0) {
    const name = listed.length > 0 ? `${stem}-counted.csv` : `${stem}.csv`;
    files.push({ name, text: logText(data, counted, countedColumns) });
  }
  return files;
}

type Columns = Record<string, (pass: LoggedPass) => string>;

const codes = (list: string[]) => (list.length === 0 ? "none" : list.join(" "));

const listedColumns: Columns = {
  manifest: ({ manifest }) => manifest!,
  missed_tags: ({ missed }) => codes(missed!),
  stray_tags: ({ strays }) => (strays === null ? "" : codes(strays.codes)),
};

const countedColumns: Columns = {
  tags_presented: ({ presented }) => String(presented),
  tags_read: ({ presented, missedCount }) => String(presented - missedCount),
  stray_tags: ({ strays }) => (strays === null ? "" : String(strays.count)),
};

function logText(data: WalkData, passes: LoggedPass[], own: Columns): string {
  const asked = data.columns.map(({ column }) => column);
  const walked = passes.flatMap(({ conditions }) => Object.keys(conditions));
  const conditions = [...new Set([...asked, ...walked])].map((column): [string, Columns[string]] => [
    column,
    (pass) => pass.conditions[column] ?? "",
  ]);
  const columns: [string, Columns[string]][] = [
    ["round", ({ round }) => round],
    ["pass", ({ pass }) => pass],
    ["read_point", ({ readPoint }) => readPoint],
    ["started_at", ({ startedAt }) => startedAt.text],
    ["ended_at", ({ endedAt }) => endedAt.text],
    ...conditions,
    ...Object.entries(own),
    ["void_reason", ({ voidReason }) => voidReason],
    ["walked_by", ({ walkedBy }) => walkedBy],
    ["note", ({ note }) => note],
  ];
  const header = columns.map(([name]) => name);
  const rows = passes.map((pass) => columns.map(([, cell]) => cell(pass)));
  return markedText(csvText([header, ...rows], forPassLogs));
}
