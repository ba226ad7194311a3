import nunjucks from "nunjucks";
import { templatesFolder } from "./package-folders.ts";

const unsafe = /[<\u2028\u2029]/g;

/** A value as JSON that can stand inside a script element: nothing in it can close the element or break a line. */
function jsonIsland(value: unknown): string {
  return JSON.stringify(value).replace(
    unsafe,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/**
 * The templates with the only two ways around escaping: a picture and a JSON island, both made by the pages themselves. A
 * field that a view does not have is an error.
 */
export function templateEngine(): nunjucks.Environment {
  const engine = new nunjucks.Environment(new nunjucks.FileSystemLoader(templatesFolder), {
    autoescape: true,
    throwOnUndefined: true,
    trimBlocks: true,
    lstripBlocks: true,
  });
  engine.addFilter("json_island", (value: unknown) => new nunjucks.runtime.SafeString(jsonIsland(value)));
  engine.addFilter("picture", (svg: string) => new nunjucks.runtime.SafeString(svg));
  return engine;
}
