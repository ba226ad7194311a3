import { byCodePoint } from "../../model/order.ts";
import { Role } from "../../model/pass-log.ts";
import type { ProblemList } from "../problem-list.ts";
import { quoted } from "../quotation.ts";
import type { LogContext } from "./log-context.ts";
import { rowsByPass } from "./rows-by-pass.ts";

/** Whether each pass names each tag once, and either presents something or nothing. */
export function checkTags({ rows, passes, files }: LogContext, problems: ProblemList): void {
  const { order, starts } = rowsByPass(rows.pass, rows.length, passes.passes.length);
  const lastPass = new Int32Array(rows.tags.texts.length).fill(-1);
  for (const pass of passes.passes) {
    if (pass.form !== "itemised") continue;
    const { report, header } = files[pass.file]!;
    const tagField = header.fields.get("tag")!;
    let blankRow = -1;
    let presents = false;
    for (let i = starts[pass.index]!; i < starts[pass.index + 1]!; i += 1) {
      const row = order[i]!;
      const tag = rows.tag[row]!;
      if (rows.role[row] === Role.nothing) blankRow = row;
      else if (rows.role[row] === Role.presented) presents = true;
      if (tag < 0) continue;
      if (lastPass[tag] === pass.index) {
        report.cell(
          rows.record[row]!,
          tagField,
          "tag-twice",
          rows.tags.texts[tag]!,
          `each tag once in a pass, and pass ${quoted(pass.id)} already has it`,
          "Keep one row for the tag, with its strongest RSSI and all its reads; or give the other pass another name.",
        );
      }
      lastPass[tag] = pass.index;
    }
    if (blankRow < 0 || !presents) continue;
    report.cell(
      rows.record[blankRow]!,
      tagField,
      "pass-contradicts-itself",
      "",
      `a tag's code, since other rows of pass ${quoted(pass.id)} present tags`,
      "A row without a tag says that the pass presented nothing: remove it, or fill in its tag.",
    );
  }
  remarkOnCase(rows.tags.texts, problems);
}

/** The same code in capitals and small letters would pass for two tags. */
function remarkOnCase(tags: readonly string[], problems: ProblemList): void {
  const spellings = new Map<string, string>();
  const pairs: [string, string][] = [];
  for (const tag of tags) {
    const small = tag.toLowerCase();
    const other = spellings.get(small);
    if (other === undefined) spellings.set(small, tag);
    else pairs.push([other, tag].sort(byCodePoint) as [string, string]);
  }
  for (const [one, other] of pairs.sort((a, b) => byCodePoint(a[0], b[0]) || byCodePoint(a[1], b[1]))) {
    problems.add("passes", null, {
      severity: "warning",
      code: "tag-in-two-spellings",
      found: `${quoted(one)} and ${quoted(other)}`,
      expected: "one spelling for one tag",
      advice: "They are counted as two tags. If they are one, write its code the same way everywhere.",
    });
  }
}
