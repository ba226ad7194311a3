import { measures } from "../../measures/index.ts";
import { noRssi, Role } from "../../model/pass-log.ts";
import { quoted } from "../quotation.ts";
import type { LogContext } from "./log-context.ts";

/** Objects to reads without a strength where a criterion ranks them by it: a gap is neither strong nor weak. */
export function checkRssi({ rows, passes, files, facility }: LogContext): void {
  const ranked = facility.readPoints.map((point) =>
    facility.criteria.find(
      (each) => measures.get(each.measure).log.rssi === true && each.readPoints.includes(point.id),
    ),
  );
  if (ranked.every((criterion) => criterion === undefined)) return;
  for (let row = 0; row < rows.length; row += 1) {
    if (rows.rssiDbm[row] !== noRssi || rows.reads[row] === 0 || rows.role[row] !== Role.presented) continue;
    const pass = passes.passes[rows.pass[row]!]!;
    const criterion = ranked[pass.readPoint];
    if (criterion === undefined || pass.voidReasons !== null || !pass.rssiRecorded) continue;
    const { report, header } = files[pass.file]!;
    report.cell(
      rows.record[row]!,
      header.fields.get("rssi_dbm")!,
      "rssi-blank",
      "",
      `the strongest RSSI of a tag that was read: criterion ${quoted(criterion.id)} ranks by it`,
      "Fill it in. A log without any RSSI leaves the column out; its passes are then not ranked.",
    );
  }
}
