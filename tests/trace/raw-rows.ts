import { readFile } from "node:fs/promises";
import { join } from "node:path";

/** One line of the log as it was typed. */
export interface RawRow {
  round: string;
  pass: string;
  speed: number;
  orientation: string;
  tag: string;
  presented: boolean;
  read: boolean;
  rssiDbm: number | null;
  antenna: string;
  voidReason: string;
  startedAt: string;
  note: string;
}

/** Splits a log at line ends and commas and nothing more: the log traced here has no quoted cell. */
export async function rawRows(facilityFolder: string): Promise<RawRow[]> {
  const text = await readFile(join(facilityFolder, "passes/walks.csv"), "utf8");
  if (text.includes('"')) throw new Error("a quoted cell: a naive split does not do");
  const [header, ...lines] = text.trimEnd().split("\n");
  const columns = header!.split(",");
  return lines.map((line) => {
    const cells = line.split(",");
    const cell = (column: string) => cells[columns.indexOf(column)]!;
    return {
      round: cell("round"),
      pass: cell("pass"),
      speed: Number(cell("speed_m_s")),
      orientation: cell("orientation"),
      tag: cell("tag"),
      presented: cell("presented") === "yes",
      read: cell("read") === "yes",
      rssiDbm: cell("rssi_dbm") === "" ? null : Number(cell("rssi_dbm")),
      antenna: cell("antenna"),
      voidReason: cell("void_reason"),
      startedAt: cell("started_at"),
      note: cell("note"),
    };
  });
}
