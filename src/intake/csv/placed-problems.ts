import { join } from "node:path";
import type { Problem } from "../../model/problem.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import { csvPlaces, type PlaceFinder } from "./csv-file.ts";

/** The problems of a folder in their order, with the lines of what was found in CSV files. */
export async function placedProblems(problems: ProblemList, folder: string): Promise<Problem[]> {
  const finders = new Map<string, PlaceFinder>();
  for (const file of problems.openPlaces().keys()) finders.set(file, await csvPlaces(join(folder, file)));
  return problems.sorted((file, place) => finders.get(file)?.(place) ?? null);
}
