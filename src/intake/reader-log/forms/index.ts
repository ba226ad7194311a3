import { eventStream } from "./event-stream.ts";
import type { Form, LogHead } from "./form.ts";
import { jsonDocument, jsonLists } from "./json.ts";
import { keyValues } from "./key-values.ts";
import { xmlReports } from "./xml.ts";

/** The first that recognises a log reads it. */
const forms: readonly Form[] = [eventStream, xmlReports, jsonDocument, jsonLists, keyValues];

/** The form of a log; null where it is a table, or one JSON object a line. */
export function formOf(head: LogHead): Form | null {
  return forms.find((form) => form.recognise(head)) ?? null;
}
