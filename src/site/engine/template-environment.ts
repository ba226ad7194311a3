import nunjucks from "nunjucks";
import { finishedContent } from "../../pages/html/finished.ts";
import options from "./nunjucks-options.json" with { type: "json" };
import { templateLoader } from "./template-loader.ts";

const unsafe = /[<\u2028\u2029]/g;

/** A value as JSON that can stand inside a script element: nothing in it can close the element or break a line. */
function jsonIsland(value: unknown): string {
  return JSON.stringify(value).replace(
    unsafe,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/** The one way that templates are rendered, by the engine and by tests. */
export function templateEnvironment(): nunjucks.Environment {
  const njk = new nunjucks.Environment(templateLoader(), options);
  njk.addFilter("json_island", (value: unknown) => new nunjucks.runtime.SafeString(jsonIsland(value)));
  njk.addFilter("picture", (svg: string) => new nunjucks.runtime.SafeString(svg));
  njk.addFilter(
    "finished",
    (content: string) => new nunjucks.runtime.SafeString(finishedContent(String(content))),
  );
  return njk;
}
