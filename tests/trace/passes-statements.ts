import { ofPresentations } from "./independent-interval.ts";
import * as common from "./pages-in-common.ts";
import { passRows } from "./pass-rows.ts";
import { spoken } from "./printed.ts";
import type { RawRow } from "./raw-rows.ts";
import { passesOf, tagsRead, voidPasses, withoutVoids } from "./recount.ts";
import type { Shed } from "./shed.ts";

/** What the page of all passes says, with the figures of the recount. */
export function passesStatements(shed: Shed): string[] {
  const rounds = [shed.before, shed.after];
  const logged = rounds.flatMap(passesOf).length;
  const voids = rounds.flatMap(voidPasses).length;
  return [
    ...common.onEveryPage(shed),
    `${logged} passes were logged at 1 read point; ${voids} of them is void. passes.csv`,
    ...rounds.flatMap((rows, index) => round(rows, shed.facts.rounds[index]!.title)),
  ];
}

function round(rows: RawRow[], title: string): string[] {
  const valid = withoutVoids(rows);
  const tags = tagsRead(valid);
  const voids = voidPasses(rows).length;
  const passes = `Door, ${title} ${passesOf(valid).length} passes${voids === 0 ? "" : `, ${voids} void`}`;
  return [
    passes,
    `${passes}. ${tags.k} of ${tags.n} tags read: ${spoken(ofPresentations(tags), "at least")}`,
    `More on Door ${passesOf(rows).length} passes in the order walked`,
    ...passRows(rows, `Door, ${title}: passes in the order walked`),
  ];
}
