import { expect, test } from "vitest";
import { readFacilityFolder } from "../../src/intake/read-facility-folder.ts";
import { inFolder, places } from "./folder.ts";

test("a facility.yaml that is a folder cannot be read", async () => {
  const { input, problems } = await inFolder({ "facility.yaml/x": "" }, readFacilityFolder);
  expect(input).toBeNull();
  expect(places(problems)).toEqual(["error facility.yaml:-:- file-unreadable"]);
});
