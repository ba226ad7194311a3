import { expect, test } from "vitest";
import { nearMiss, suggest } from "../../src/intake/problems/card/wording.ts";

test("a slip of the pen finds the word that was meant", () => {
  const words = ["dock-1", "dock-2", "gate"];
  expect(suggest("dock1", words)).toBe("dock-1");
  expect(suggest("Dock 2", words)).toBe("dock-2");
  expect(suggest("gaet", words)).toBe("gate");
  expect(suggest("lorry", words)).toBeNull();
  expect(suggest("x".repeat(5000), words)).toBeNull();
});

test("a short word is only near what it differs from by nothing that people see", () => {
  expect(nearMiss("Tag", ["tag"])).toBe("tag");
  expect(nearMiss("bag", ["tag"])).toBeNull();
  expect(nearMiss("notes", ["note"])).toBe("note");
  expect(nearMiss("lane", ["load"])).toBeNull();
});
