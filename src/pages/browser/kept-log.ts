import { type LogFile, logFiles } from "../aisle/log-files.ts";
import { begun, isState, type Standing, type State, standing } from "../aisle/steps.ts";
import { Store } from "../aisle/store.ts";
import type { WalkData } from "../aisle/walk-data.ts";
import { at, button, element } from "./elements.ts";
import { passes } from "./shown.ts";

const notKept =
  "This browser keeps nothing: its storage is switched off, blocked or full, as in some private windows. The page works, but the log is lost when the page is closed or loaded again. Save the log as a file after every few passes, and before leaving the page.";
const setAside =
  "The log that this browser kept of this walk cannot be read. It was set aside and a new log was started; copy the old one from here.";
const unreadable = `The log that this browser kept of this walk cannot be read. Copy it from here. ${notKept}`;
const changedElsewhere =
  "This log was changed in another tab or window. This page now shows the changed log: check it, and continue in one of the two.";

function newMark(): string {
  const letters = "abcdefghjkmnpqrstuvwxyz23456789";
  return Array.from({ length: 4 }, () => letters[Math.floor(Math.random() * letters.length)]).join("");
}

function notice(sentence: string | null, more: Node[] = []): void {
  at("notice").hidden = sentence === null;
  at("notice").replaceChildren(...(sentence === null ? [] : [element("p", { text: sentence })]), ...more);
}

function textToCopy(label: string, text: string): HTMLTextAreaElement {
  const area = element("textarea", { readonly: true, rows: "6", "aria-label": label, wrap: "off" });
  area.value = text;
  area.addEventListener("focus", () => area.select());
  return area;
}

function typedIn({ draft }: State): string[] {
  const { note = "", voidReason = "", strayCodes = "" } = draft?.fields ?? {};
  return [note, voidReason, strayCodes].filter((text) => text.trim() !== "");
}

/** Where the log is kept, what the page says when it is not, and how it leaves the browser as a file. */
export class KeptLog {
  readonly #data: WalkData;
  readonly #changed: (state: State, elsewhere: boolean) => void;
  readonly #store: Store<State>;
  #state: State;
  #kept: boolean;

  /** `changed` is called with every state that the page is to show, and whether it was made elsewhere. */
  constructor(data: WalkData, changed: (state: State, elsewhere: boolean) => void) {
    this.#data = data;
    this.#changed = changed;
    this.#store = new Store(data.key, () => window.localStorage, isState);
    this.#kept = this.#store.works();
    this.#state = this.#begin();
    window.addEventListener("storage", () => this.#lookElsewhere());
    document.addEventListener("visibilitychange", () => this.#lookElsewhere());
    window.addEventListener("beforeunload", (event) => {
      if (!this.#kept && this.#state.changes !== this.#state.saved) event.preventDefault();
    });
    at("save-file").addEventListener("click", () => this.#saveFiles());
    at("show-text").addEventListener("click", () => this.#showText());
    this.#listenToClearing();
  }

  get state(): State {
    return this.#state;
  }

  put(next: State): void {
    const outcome = this.#kept || this.#store.works() ? this.#store.write(next) : "off";
    if (outcome === "elsewhere") {
      this.#takeOver(next);
      return;
    }
    if (outcome === "off" && this.#kept) notice(notKept, [this.#saveButton()]);
    if (outcome === "kept" && !this.#kept) notice(null);
    this.#kept = outcome === "kept";
    this.#state = next;
    this.#changed(next, false);
  }

  render({ stage, current, passes: logged }: Standing): void {
    const none = logged.length === 0;
    const saved = this.#state.changes === this.#state.saved;
    at("save-file").disabled = none;
    at("show-text").disabled = none;
    const open = stage === "ready" ? "" : ` ${current.pass} is added once you save it.`;
    const since = saved ? "Nothing has changed since it was last saved." : "";
    at("save-line").textContent = none ? `Nothing is logged yet.${open}` : `${since}${open}`.trim();
    if (none) at("as-text").hidden = true;
    if (!at("as-text").hidden) at("as-text").replaceChildren(...this.#files().flatMap(asText));
    const empty = this.#state.steps.length === 0;
    const mayClear = !empty && saved && stage === "ready";
    at("clear").disabled = !mayClear;
    at("clear-not").textContent =
      empty || mayClear
        ? ""
        : "It can be cleared once everything in it was saved as a file or shown as text.";
    if (!mayClear) at("clear-sure").hidden = true;
    at("clear-line").textContent =
      `${passes(logged.length)} will be gone from this browser. Is the file where it belongs?`;
  }

  #begin(): State {
    if (!this.#kept) notice(notKept, [this.#saveButton()]);
    const found = this.#kept ? this.#store.read() : { kind: "off" as const };
    if (found.kind === "state") return found.state;
    if (found.kind === "unreadable") {
      this.#kept = this.#store.setAside();
      notice(this.#kept ? setAside : unreadable, [textToCopy("What was kept", found.text)]);
    }
    return begun(newMark());
  }

  #lookElsewhere(): void {
    if (this.#kept && this.#store.changedElsewhere()) this.#takeOver(this.#state);
  }

  /** Another tab wrote since: its log is the one that is kept, and what was typed here is not lost on the way. */
  #takeOver(mine: State): void {
    const found = this.#store.read();
    this.#state = found.kind === "state" ? found.state : begun(newMark());
    const typedThere = typedIn(this.#state);
    const typed = typedIn(mine).filter((text) => !typedThere.includes(text));
    notice(changedElsewhere, [
      ...(typed.length === 0 ? [] : [textToCopy("Typed here and not kept", typed.join("\n"))]),
      button("Understood", () => notice(null)),
    ]);
    this.#changed(this.#state, true);
  }

  #files(): LogFile[] {
    return logFiles(this.#data, this.#state, standing(this.#state).passes);
  }

  #saveButton(): HTMLButtonElement {
    return button("Save the log as CSV", () => this.#saveFiles());
  }

  #saveFiles(): void {
    const files = this.#files();
    if (files.length === 0) {
      at("said").textContent = "Nothing is logged yet, so there is no file to save.";
      return;
    }
    for (const { name, text } of files) {
      const url = URL.createObjectURL(new Blob([text], { type: "text/csv;charset=utf-8" }));
      element("a", { href: url, download: name }).click();
      setTimeout(() => URL.revokeObjectURL(url), 60_000);
    }
    this.put({ ...this.#state, saved: this.#state.changes });
  }

  #showText(): void {
    at("as-text").hidden = !at("as-text").hidden;
    at("show-text").setAttribute("aria-expanded", String(!at("as-text").hidden));
    if (!at("as-text").hidden) this.put({ ...this.#state, saved: this.#state.changes });
  }

  #listenToClearing(): void {
    at("clear").addEventListener("click", () => {
      at("clear-sure").hidden = false;
      at("clear-no").focus();
    });
    at("clear-no").addEventListener("click", () => {
      at("clear-sure").hidden = true;
      at("clear").focus();
    });
    at("clear-yes").addEventListener("click", () => {
      const { readPoint, walkedBy } = this.#state;
      this.put({ ...begun(newMark()), readPoint, walkedBy });
    });
  }
}

function asText({ name, text }: LogFile): HTMLElement[] {
  const advice = `Copy all of it into a text file named ${name}, in UTF-8.`;
  return [element("p", { class: "quiet", text: advice }), textToCopy(name, text.replace("\uFEFF", ""))];
}
