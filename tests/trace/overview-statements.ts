import { ofPresentations } from "./independent-interval.ts";
import type { JudgedFinding } from "./judged-findings.ts";
import * as common from "./pages-in-common.ts";
import { bare, figures, groupFirst, limit, rateInWords, titleFirst } from "./pages-in-common.ts";
import { flanked, spelled } from "./printed.ts";
import { passesOf, strayPasses, tagsRead, voidPasses, withoutVoids } from "./recount.ts";
import type { Shed } from "./shed.ts";

/** The page spells out the weightiest finding of a read point and counts the others: which it is, is named here. */
const isSpelledOut = ({ group }: JudgedFinding) => group === "edge-on";

/** What the overview says, with the figures of the recount. */
export function overviewStatements(shed: Shed): string[] {
  const { findings, after, files, rows } = shed;
  return [
    ...common.onEveryPage(shed),
    ...common.picturesOfFindings(shed),
    ...findings
      .filter(isSpelledOut)
      .map((one) => `Door … ${titleFirst(one)} … ${rateInWords(one)}; ${limit(one)} … Look for the cause`),
    ...findings.map((finding) => {
      const { passes, count, tags } = finding;
      const counts = `${passes} ${count.k} of ${count.n} ${tags} different tag`;
      return `Door … ${groupFirst(finding)} … ${counts} … ${figures(finding)} … ${limit(finding)}`;
    }),
    `${spelled(findings.length - 1)} more findings are open here`,
    ...common.promises(shed),
    readPointRow(after),
    `Made from ${files.length} files with ${rows.length} rows`,
  ];
}

function readPointRow(after: Shed["after"]): string {
  const valid = withoutVoids(after);
  const tags = tagsRead(valid);
  const strays = strayPasses(valid);
  const fast = tagsRead(valid.filter(({ speed }) => speed > 1));
  return (
    `Door … ${passesOf(valid).length} + ${voidPasses(after).length} void ${tags.k} of ${tags.n} ` +
    `${flanked(ofPresentations(tags), "at least")} ${strays.k} of ${strays.n} 1 to 2 m/s, ${bare(fast.k / fast.n)} %`
  );
}
