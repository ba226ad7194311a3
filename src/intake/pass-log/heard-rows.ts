import { canonicalCode } from "../../codes/canonical-code.ts";
import { Role } from "../../model/pass-log.ts";
import { type HeardTags, noHundredths } from "../reader-log/reader-log.ts";
import type { LogContext } from "./log-context.ts";

/**
 * Fills in what the readers heard: a tag of the load that was heard is read, a bystander that was heard is one heard, and
 * every other code heard in a pass is a stray. Returns, for each code heard, its index in the table of tags.
 */
export function fillHeard(heard: HeardTags, context: LogContext): Int32Array {
  const { rows, passes } = context;
  const tagOfCode = matchCodes(heard, context);
  const rowOf = new Map<number, number>();
  const key = (pass: number, tag: number) => pass * 2 ** 26 + tag;
  for (let row = 0; row < rows.length; row += 1) {
    const pass = rows.pass[row]!;
    if (passes.passes[pass]!.form === "timed" && rows.tag[row] !== -1)
      rowOf.set(key(pass, rows.tag[row]!), row);
  }
  for (let i = 0; i < heard.length; i += 1) {
    const pass = passes.passes[heard.pass[i]!]!;
    const tag = tagOfCode[heard.code[i]!]!;
    let row = rowOf.get(key(pass.index, tag));
    if (row === undefined) {
      row = rows.open(pass.index, pass.record);
      rows.tag[row] = tag;
      rows.role[row] = Role.stray;
      rowOf.set(key(pass.index, tag), row);
    }
    rows.reads[row] = 1;
    const rssi = heard.rssi[i]!;
    if (rssi === noHundredths || rssi / 100 <= rows.rssiDbm[row]!) continue;
    rows.rssiDbm[row] = rssi / 100;
    pass.rssiRecorded = true;
    const antenna = heard.antenna[i]!;
    rows.antenna[row] = antenna === -1 ? -1 : rows.antennas.idOf(heard.antennas[antenna]!);
  }
  for (const pass of passes.passes) if (pass.form === "timed") pass.rssiRecorded = hasRssi(heard);
  return tagOfCode;
}

function hasRssi(heard: HeardTags): boolean {
  return heard.rssi.subarray(0, heard.length).some((rssi) => rssi !== noHundredths);
}

/** Codes compare in their canonical form; a tag keeps the spelling that its manifest gives it. */
function matchCodes(heard: HeardTags, { manifests, rows }: LogContext): Int32Array {
  const tagOfCanonical = new Map<string, number>();
  for (const manifest of manifests.values()) {
    for (const { tag } of manifest.rows) {
      const read = canonicalCode(rows.tags.texts[tag]!, "hex");
      if (read.kind !== "refused" && !tagOfCanonical.has(read.code)) tagOfCanonical.set(read.code, tag);
    }
  }
  return Int32Array.from(heard.codes, (code) => tagOfCanonical.get(code) ?? rows.tags.idOf(code));
}
