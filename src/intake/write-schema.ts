import { writeFileSync } from "node:fs";
import { facilitySchemaText } from "./facility-schema-text.ts";

// Run in the repository after a change of the schema: node dist/src/intake/write-schema.js
writeFileSync("schemas/facility.schema.json", facilitySchemaText());
