import { writeFileSync } from "node:fs";
import { journeyResultSchemaText } from "../model/journey/journey-result.ts";
import { resultSchemaText } from "../model/result/result.ts";
import { facilitySchemaText } from "./facility/facility-schema.ts";
import { journeySchemaText } from "./journey/journey-schema.ts";
import { problemsPage } from "./problems/index.ts";

// Run in the repository after a change of a schema or of a problem: node dist/src/intake/write-documents.js
writeFileSync("schemas/facility.schema.json", facilitySchemaText());
writeFileSync("schemas/journey.schema.json", journeySchemaText());
writeFileSync("schemas/journey-result.schema.json", journeyResultSchemaText());
writeFileSync("schemas/result.schema.json", resultSchemaText());
writeFileSync("docs/problems.md", problemsPage());
