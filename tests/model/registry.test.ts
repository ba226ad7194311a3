import { expect, test } from "vitest";
import { Registry } from "../../src/model/registry.ts";

const apple = { id: "apple", colour: "green" };
const plum = { id: "plum", colour: "blue" };

test("cards are kept in the order in which they were listed", () => {
  const fruit = new Registry([plum, apple]);
  expect(fruit.ids()).toEqual(["plum", "apple"]);
  expect(fruit.all()).toEqual([plum, apple]);
});

test("an unknown id is no card to find, and an error to get that names the cards there are", () => {
  const fruit = new Registry([apple, plum]);
  expect(fruit.find("pear")).toBeNull();
  expect(() => fruit.get("pear")).toThrow('No card "pear" among apple, plum');
  expect(fruit.get("plum").colour).toBe("blue");
});

test("a card that was added can be taken out again, and no id is taken twice", () => {
  const fruit = new Registry([apple]);
  const undo = fruit.add(plum);
  expect(fruit.find("plum")).toBe(plum);
  expect(() => fruit.add({ id: "plum", colour: "red" })).toThrow("is there already");
  undo();
  expect(fruit.ids()).toEqual(["apple"]);
});
