import nunjucks from "nunjucks";
import nunjucksOptions from "./src/site/engine/nunjucks-options.json" with { type: "json" };

/**
 * Puts the templates into the program as functions, and into the tests: taking them apart costs a tenth of the time of a small
 * site, and tests build many.
 * @returns {{ name: string, load(id: string): { code: string, moduleType: "js" } | null }} A plugin of the bundler.
 */
export function templates() {
  const env = new nunjucks.Environment([], nunjucksOptions);
  /** @type {{ precompile(folder: string, options: object): string }} The package's types are of another signature. */
  const { precompile } = /** @type {any} */ (nunjucks);
  const functions = precompile("templates", {
    env,
    include: [/\.njk$/],
    exclude: [/^engine/],
    /** @param {{ name: string, template: string }[]} made */
    wrapper: (made) =>
      made.map(({ name, template }) => `${JSON.stringify(name)}: (() => {\n${template}})()`).join(",\n"),
  });
  const code = `import nunjucks from "nunjucks";
const templates = {\n${withoutUnread(functions)}\n};
export const templateLoader = () => new nunjucks.PrecompiledLoader(templates);`;
  return {
    name: "templates",
    load: (id) => (id.endsWith("template-loader.ts") ? { code, moduleType: "js" } : null),
  };
}

/**
 * A loop sets seven variables of its own in each of its turns: those whose names no template asks for are left out.
 * @param {string} functions
 */
function withoutUnread(functions) {
  return functions.replace(/^frame\.set\("loop\.(\w+)", .*\);\n/gm, (line, name) =>
    functions.includes(`,"${name}")`) ? line : "",
  );
}
