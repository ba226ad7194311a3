import { longDate } from "./printed.ts";
import type { RawRow } from "./raw-rows.ts";
import { bystanders, passesOf, presented } from "./recount.ts";

/** `0 to 1`: the first band closed, the next without its lower edge. */
export const bandOf = (speed: number) => (speed <= 1 ? "0 to 1" : "1 to 2");

/** One statement a pass of a round: when, how fast, what was read and what was missed or heard. */
export function passRows(rows: RawRow[], lead: string): string[] {
  const passes = passesOf(rows).map((pass) => passRow(rows.filter((row) => row.pass === pass)));
  // The first follows the heading of the table and each other one the row before, so that none stands for another.
  return passes.map((row, index) => (index === 0 ? `${lead} … ${row}` : row));
}

function passRow(rows: RawRow[]): string {
  const [first] = rows;
  const [date, time] = first!.startedAt.split(" ");
  const tags = presented(rows);
  const missed = tags.filter(({ read }) => !read).map(({ tag }) => tag);
  const strays = rows.filter(({ presented, read }) => !presented && read).map(({ tag }) => tag);
  const placed = bystanders(rows).length;
  return [
    `${first!.pass} ${longDate(date!)}, ${time} Speed: ${bandOf(first!.speed)} m/s … `,
    tags.length === 0 ? "nothing presented" : `${tags.length - missed.length} of ${tags.length}`,
    missed.length === 0 ? "none" : missed.join(" "),
    strays.length === 0 ? "none" : strays.join(" "),
    first!.voidReason === "" ? "" : `Void: ${first!.voidReason}`,
    first!.note,
    placed === 0 ? "" : `${placed} bystander placed`,
  ]
    .filter((cell) => cell !== "")
    .join(" ");
}
