import type { ReaderLogSpec } from "../../model/facility.ts";
import { byCodePoint } from "../../model/order.ts";
import { readerLogStraysUnknown, readerLogTagsUnknown } from "../problems/reader-log.ts";
import type { YamlReport } from "../problems/reports.ts";
import { type ReaderLogs, readPointsOf } from "../reader-log/reader-log.ts";
import type { FacilityLogs } from "./read.ts";

/**
 * Reports passes that a row spans without an instant in them: of a tag of the pass's manifest an error, since it may have
 * been read or missed; of other codes a warning, and the strays of the pass are then not recorded. A void pass is in no rate
 * but the one with voids, where such a tag counts as missed.
 *
 * @param tags the tags of the manifests by canonical code
 */
export function checkUnknownReads(
  { unknown, tags }: { unknown: ReaderLogs["unknown"]; tags: ReadonlyMap<string, number> },
  { passes, facility, table }: FacilityLogs,
  report: YamlReport,
): void {
  const kinds = { ofLoad: new Map<number, Found>(), strays: new Map<number, Found>() };
  for (const { pass: number, code } of unknown) {
    const pass = passes[number]!;
    if (pass.voidReasons !== null) continue;
    const tag = tags.get(code);
    const isOfLoad = tag !== undefined && pass.manifest?.items.has(tag) === true;
    if (!isOfLoad) pass.straysRecorded = false;
    const found = isOfLoad ? kinds.ofLoad : kinds.strays;
    const here = found.get(pass.readPoint) ?? { passes: new Set(), tags: new Set() };
    found.set(pass.readPoint, here);
    here.passes.add(pass.id);
    here.tags.add(tag === undefined ? code : table.tags.texts[tag]!);
  }
  const tell = (found: ReadonlyMap<number, Found>, problem: typeof readerLogTagsUnknown) => {
    for (const [point, { passes, tags }] of [...found].sort(([a], [b]) => a - b)) {
      const readPoint = facility.readPoints[point]!.id;
      const entry = facility.readerLogs.findIndex((spec) => isOfPoint(spec, readPoint));
      report.value(
        ["reader_logs", entry],
        problem.with({ readPoint, passes: [...passes], tags: [...tags].sort(byCodePoint) }),
      );
    }
  };
  tell(kinds.ofLoad, readerLogTagsUnknown);
  tell(kinds.strays, readerLogStraysUnknown);
}

interface Found {
  passes: Set<string>;
  tags: Set<string>;
}

function isOfPoint(spec: ReaderLogSpec, readPoint: string): boolean {
  return spec.columns.lastTime !== null && readPointsOf(spec).includes(readPoint);
}
