import { BaseSequencer, type TestSpecification } from "vitest/node";

/** The longest first: begun last, one of them would keep a single core busy at the end. */
const slow = [
  "/tests/package/packed-tool",
  // The first to ask for the demonstration's site builds it.
  "/tests/browser/every-page",
  "/tests/site/from-result",
  "/tests/intake/describe/describe-log",
  "/tests/intake/describe/described-and-judged",
  "/tests/commands/killed-build",
  "/tests/commands/command-line",
  "/tests/bench/fuzz",
  "/tests/intake/reader/log-recount",
  "/tests/intake/reader/",
  "/tests/bench/simulation/",
  "/tests/intake/describe/",
  "/tests/browser/",
  "/tests/commands/",
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
