import { quoted } from "../quotation.ts";
import { trimmed } from "./cells.ts";
import type { LogContext, LogFile } from "./log-context.ts";
import type { OpenPass } from "./pass-book.ts";
import type { LogTime } from "./times.ts";

type Take = (pass: OpenPass, text: string, ordinal: number, field: number) => void;

/** What people write who take the column for a yes-or-no question. */
const answer = /^(?:yes|no|y|n|true|false|0|1|none|nil|n\/a|-+)$/i;

/** The columns that speak of the pass as a whole: they may stand in any of its rows, and must not contradict. */
export class PassColumns {
  readonly #context: LogContext;
  readonly #file: LogFile;
  readonly #fields: number[] = [];
  readonly #takes: Take[] = [];
  readonly #last: string[] = [];
  #lastPass: OpenPass | null = null;

  constructor(context: LogContext, file: LogFile) {
    this.#context = context;
    this.#file = file;
    this.#column("started_at", (pass, text, ordinal, field) => this.#start(pass, text, ordinal, field));
    this.#column("ended_at", (pass, text, ordinal, field) => this.#end(pass, text, ordinal, field));
    this.#column("void_reason", (pass, text, ordinal, field) => {
      if (answer.test(text)) this.#answer(text, ordinal, field);
      pass.voidReasons = withText(pass.voidReasons, text);
    });
    this.#column("walked_by", (pass, text) => {
      pass.walkedBy = withText(pass.walkedBy, text);
    });
    this.#column("note", (pass, text) => {
      pass.notes = withText(pass.notes, text);
    });
    for (const { name, field } of file.header.extras) {
      this.#fields.push(field);
      this.#takes.push((pass, text) => keepExtra(pass, name, text));
    }
  }

  #column(name: string, take: Take): void {
    const field = this.#file.header.fields.get(name);
    if (field === undefined) return;
    this.#fields.push(field);
    this.#takes.push(take);
  }

  take(pass: OpenPass, record: string[], ordinal: number): void {
    const fields = this.#fields;
    const last = this.#last;
    if (pass !== this.#lastPass) {
      last.fill("");
      this.#lastPass = pass;
    }
    for (let i = 0; i < fields.length; i += 1) {
      const cell = record[fields[i]!]!;
      if (cell === "" || cell === last[i]) continue;
      last[i] = cell;
      const text = trimmed(cell);
      if (text !== "") this.#takes[i]!(pass, text, ordinal, fields[i]!);
    }
  }

  #start(pass: OpenPass, text: string, ordinal: number, field: number): void {
    const time = this.#time(text, ordinal, field);
    if (time === null) return;
    if (pass.startedAt === null) {
      pass.startedAt = time;
      pass.startRecord = ordinal;
    } else if (pass.startedAt.epochMs !== time.epochMs)
      this.#contradiction(pass, text, pass.startedAt, ordinal, field);
  }

  #end(pass: OpenPass, text: string, ordinal: number, field: number): void {
    const time = this.#time(text, ordinal, field);
    if (time === null) return;
    if (pass.endedAt === null) {
      pass.endedAt = time;
      pass.endRecord = ordinal;
    } else if (pass.endedAt.epochMs !== time.epochMs)
      this.#contradiction(pass, text, pass.endedAt, ordinal, field);
  }

  #time(text: string, ordinal: number, field: number): LogTime | null {
    const time = this.#context.times.read(text);
    if ("epochMs" in time) return time;
    this.#file.report.cell(ordinal, field, time.code, text, time.expected, time.advice);
    return null;
  }

  #answer(text: string, ordinal: number, field: number): void {
    this.#file.report.cell(
      ordinal,
      field,
      "void-reason-unclear",
      text,
      "the reason why the pass does not count; blank for a pass that counts",
      "Any text here voids the pass: clear the cell, or say why the pass does not count.",
    );
  }

  #contradiction(pass: OpenPass, text: string, first: LogTime, ordinal: number, field: number): void {
    this.#file.report.cell(
      ordinal,
      field,
      "pass-contradicts-itself",
      text,
      `${first.local}, as an earlier row of pass ${quoted(pass.id)} has it`,
      "All rows of a pass share its times: correct one of the two, or give the other pass another name.",
    );
  }
}

function withText(texts: Set<string> | null, text: string): Set<string> {
  return texts === null ? new Set([text]) : texts.add(text);
}

export function keepExtra(pass: OpenPass, name: string, text: string): void {
  pass.extras ??= new Map();
  const texts = pass.extras.get(name);
  if (texts === undefined) pass.extras.set(name, new Set([text]));
  else texts.add(text);
}
