import { BaseSequencer, type TestSpecification } from "vitest/node";

/** The longest first: begun last, one of them would keep a single core busy at the end. */
const slow = [
  "/tests/package/packed-tool",
  // The first to ask for the demonstration's site builds it.
  "/tests/browser/every-page",
  "/tests/site/from-result",
  "/tests/commands/killed-build",
  "/tests/intake/describe/",
  "/tests/commands/",
  "/tests/browser/",
  "/tests/intake/reader/",
  "/tests/bench/",
  "/tests/archive/",
  "/tests/site/",
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
