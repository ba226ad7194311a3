import type { Result } from "../../model/result.ts";
import { fileStem } from "../file-stem.ts";
import type { SiteFile } from "../page.ts";
import { facilityPaths } from "../paths.ts";
import { facilityTables } from "./facility-tables.ts";
import { type Figure, readPointTables } from "./read-point-tables.ts";
import type { Table } from "./table.ts";

/** All tables of one facility: its own, and by read point id those behind each figure of that page. */
export interface FacilityTables {
  folder: string;
  facility: Table[];
  readPoints: Map<string, Map<Figure, Table>>;
}

export function tablesOf(result: Result): FacilityTables {
  const paths = facilityPaths(result);
  return {
    folder: `${paths.folder}/tables`,
    facility: facilityTables(result),
    readPoints: new Map(
      result.readPoints.map((readPoint) => {
        const name = fileStem(paths.readPoints.get(readPoint.id) ?? "");
        return [readPoint.id, readPointTables(result, readPoint, name)];
      }),
    ),
  };
}

/** The tables as files of the site. */
export function tableFiles(result: Result): SiteFile[] {
  const { folder, facility, readPoints } = tablesOf(result);
  const all = [...facility, ...[...readPoints.values()].flatMap((tables) => [...tables.values()])];
  return all.map((made) => ({ path: `${folder}/${made.file}`, text: made.text() }));
}
