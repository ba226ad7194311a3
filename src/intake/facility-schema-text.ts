import { facilityJsonSchema } from "./facility-schema.ts";

/** The file that editors complete and check facility.yaml with. */
export function facilitySchemaText(): string {
  return `${JSON.stringify(facilityJsonSchema(), null, 2)}\n`;
}
