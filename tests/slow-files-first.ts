import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Files in these start browsers and programs: begun last, one of them would keep a single core busy at the end. */
const slow = [
  "/tests/browser/",
  "/tests/site/",
  "/tests/commands/",
  "/tests/package/",
  "/tests/intake/reader/",
];

const placeOf = ({ moduleId }: TestSpecification) => {
  const place = slow.findIndex((folder) => moduleId.includes(folder));
  return place === -1 ? slow.length : place;
};

/** The order of a run that remembers none before it, as a fresh clone's does. */
export class SlowFilesFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).sort((a, b) => placeOf(a) - placeOf(b));
  }
}
