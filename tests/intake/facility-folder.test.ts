import { expect, test } from "vitest";
import { openFacility } from "../../src/intake/facility/facility.ts";
import { readFacility } from "../../src/intake/read-facility-folder.ts";
import { inFolder, places } from "./folder.ts";

test("a facility.yaml that is a folder cannot be read", async () => {
  const { input, problems } = await inFolder({ "facility.yaml/x": "" }, async (folder) =>
    readFacility(await openFacility(folder)),
  );
  expect(input).toBeNull();
  expect(places(problems)).toEqual(["error facility.yaml:-:- file-unreadable"]);
});
