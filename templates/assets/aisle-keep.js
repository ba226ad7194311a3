// Where the log is kept, what the page says when it is not, and how it leaves the browser as a file.
globalThis.aisleParts ??= {};
globalThis.aisleParts.keep = (() => {
  const { element, button } = globalThis.aisleParts.fields;
  const { log, csv } = globalThis.aisleParts;
  const at = (id) => document.getElementById(id);

  function newMark() {
    const letters = "abcdefghjkmnpqrstuvwxyz23456789";
    return Array.from({ length: 4 }, () => letters[Math.floor(Math.random() * letters.length)]).join("");
  }

  const notKept =
    "Nothing is kept by this browser: its storage is switched off, blocked or full, as in some private windows. The page works, but what is logged is gone once it is closed or loaded again. Save the log as a file after every few passes, and before leaving the page.";

  function notice(sentences, more = []) {
    at("notice").hidden = sentences.length === 0;
    at("notice").replaceChildren(...sentences.map((text) => element("p", { text })), ...more);
  }

  function textToCopy(label, text) {
    const area = element("textarea", { readonly: true, rows: "6", "aria-label": label, wrap: "off" });
    area.value = text;
    area.addEventListener("focus", () => area.select());
    return area;
  }

  // `changed` is called with every state that the page is to show.
  function open(data, changed) {
    const store = globalThis.aisleParts.store.open(data.key, () => window.localStorage, log.isState);
    let state = log.begun(newMark());
    let kept = store.works();

    function begin() {
      if (!kept) {
        notice([notKept], [offer()]);
        return state;
      }
      const found = store.read();
      if (found.kind === "state") state = found.state;
      if (found.kind === "unreadable") {
        kept = store.setAside();
        notice(
          [
            kept
              ? "What this browser had kept of this walk cannot be read. It was set aside, and a new log begun; here it is, to be copied."
              : `What this browser had kept of this walk cannot be read. Here it is, to be copied. ${notKept}`,
          ],
          [textToCopy("What was kept", found.text)],
        );
      }
      return state;
    }

    function put(next) {
      const outcome = kept || store.works() ? store.write(next) : "off";
      if (outcome === "elsewhere") {
        takeOver(next);
        return;
      }
      if (outcome === "off" && kept) notice([notKept], [offer()]);
      if (outcome === "kept" && !kept) notice([]);
      kept = outcome === "kept";
      state = next;
      changed(state);
    }

    // Another tab wrote since: its log is the one that is kept, and what was typed here is not lost on the way.
    function takeOver(mine) {
      const found = store.read();
      state = found.kind === "state" ? found.state : log.begun(newMark());
      const typed = typedIn(mine).filter((text) => !typedIn(state).includes(text));
      notice(
        [
          "This log was changed in another tab or window. This page now shows it as it stands there: look, and go on in one of the two.",
        ],
        [
          ...(typed.length === 0 ? [] : [textToCopy("Typed here and not kept", typed.join("\n"))]),
          button("Understood", () => notice([])),
        ],
      );
      changed(state, true);
    }

    function typedIn({ draft }) {
      const { note = "", voidReason = "", strayCodes = "" } = draft?.fields ?? {};
      return [note, voidReason, strayCodes].filter((text) => text.trim() !== "");
    }

    function lookElsewhere() {
      if (kept && store.changedElsewhere()) takeOver(state);
    }

    window.addEventListener("storage", lookElsewhere);
    document.addEventListener("visibilitychange", lookElsewhere);
    window.addEventListener("beforeunload", (event) => {
      if (!kept && state.changes !== state.saved) event.preventDefault();
    });

    function files() {
      return csv.files(data, state, log.standing(state).passes);
    }

    function offer() {
      return button("Save the log as CSV", saveFile);
    }

    function saveFile() {
      if (files().length === 0) {
        at("said").textContent = "Nothing is logged yet, so there is no file to save.";
        return;
      }
      for (const { name, text } of files()) {
        const url = URL.createObjectURL(new Blob([text], { type: "text/csv;charset=utf-8" }));
        element("a", { href: url, download: name }).click();
        setTimeout(() => URL.revokeObjectURL(url), 60_000);
      }
      put({ ...state, saved: state.changes });
    }

    function showText() {
      at("as-text").hidden = !at("as-text").hidden;
      at("show-text").setAttribute("aria-expanded", String(!at("as-text").hidden));
      if (!at("as-text").hidden) put({ ...state, saved: state.changes });
    }

    function render({ stage, current, passes }) {
      const none = passes.length === 0;
      at("save-file").disabled = none;
      at("show-text").disabled = none;
      const open = stage === "ready" ? "" : ` ${current.pass} is not in it before it is saved.`;
      const since = state.changes === state.saved ? "Nothing changed since it was last taken." : "";
      at("save-line").textContent = none ? `Nothing is logged yet.${open}` : `${since}${open}`.trim();
      if (none) at("as-text").hidden = true;
      if (!at("as-text").hidden) {
        at("as-text").replaceChildren(
          ...files().flatMap(({ name, text }) => [
            element("p", {
              class: "quiet",
              text: `Copy all of it into a text file named ${name}, in UTF-8.`,
            }),
            textToCopy(name, text.replace("\uFEFF", "")),
          ]),
        );
      }
      const mayClear = state.steps.length > 0 && state.changes === state.saved && stage === "ready";
      at("clear").disabled = !mayClear;
      at("clear-not").textContent =
        state.steps.length === 0 || mayClear
          ? ""
          : "It can be cleared once everything in it was saved as a file or shown as text.";
      if (!mayClear) at("clear-sure").hidden = true;
      at("clear-line").textContent =
        `${globalThis.aisleParts.shown.passes(passes.length)} will be gone from this browser. Is the file where it belongs?`;
    }

    at("save-file").addEventListener("click", saveFile);
    at("show-text").addEventListener("click", showText);
    at("clear").addEventListener("click", () => {
      at("clear-sure").hidden = false;
      at("clear-no").focus();
    });
    at("clear-no").addEventListener("click", () => {
      at("clear-sure").hidden = true;
      at("clear").focus();
    });
    at("clear-yes").addEventListener("click", () => {
      const { readPoint, walkedBy } = state;
      put({ ...log.begun(newMark()), readPoint, walkedBy });
    });

    return { begin, put, render };
  }

  return { open };
})();
