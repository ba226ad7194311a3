import { z } from "zod";

/** A schema as JSON Schema draft-07, for editors. */
export function editorSchema(schema: z.ZodType): Record<string, unknown> {
  return z.toJSONSchema(schema, {
    target: "draft-7",
    io: "input",
    override: ({ jsonSchema }) => {
      const node = jsonSchema as Record<string, unknown>;
      if (node.digitsToo === true) {
        node.type = ["string", "number"];
        delete node.digitsToo;
      }
      // Editors check dates by their format; the pattern behind it explains nothing to anybody.
      if (node.format === "date") delete node.pattern;
    },
  });
}
