/** Marks that a terminal obeys or that turn the text around them; in a YAML file they would hide. */
const hidden = /[\u007f-\u009f\u061c\u200b-\u200f\u2028-\u202e\u2066-\u2069\ufeff]/g;

/** Words that YAML readers take for something else than text. */
const meant = /^(?:y|n|yes|no|on|off|true|false|null|nan|inf)$/i;

/** A text or number as YAML keeps it on one line: bare where that is safe, else in double quotes. */
export function yamlScalar(value: string | number): string {
  if (typeof value === "number") return String(value);
  if (/^[A-Za-z][A-Za-z0-9_./-]*$/.test(value) && !meant.test(value)) return value;
  return JSON.stringify(value).replace(
    hidden,
    (mark) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/** Values as YAML keeps them on one line, in braces, or a list of them in brackets. */
export function yamlFlow(values: object): string {
  if (Array.isArray(values)) return flowValue(values);
  const pairs = Object.entries(values).map(([key, value]) => `${yamlScalar(key)}: ${flowValue(value)}`);
  return `{ ${pairs.join(", ")} }`;
}

function flowValue(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(flowValue).join(", ")}]`;
  return typeof value === "object" && value !== null ? yamlFlow(value) : yamlScalar(value as string | number);
}
