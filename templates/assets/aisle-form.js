// What is said about a pass once it was walked. Each touch hands the fields on, so that nothing typed is held here alone.
globalThis.aisleParts ??= {};
globalThis.aisleParts.form = (() => {
  const { element, apart, button, conditionField, stepper } = globalThis.aisleParts.fields;
  const { record } = globalThis.aisleParts;
  const reasons = ["Walked otherwise than planned", "Load slipped", "Reader was not running", "Broken off"];
  const at = (id) => document.getElementById(id);

  function open(data, changed) {
    let pass = null;
    let fields = null;
    let shownFor = "";
    const listed = at("tags") !== null;
    const tags = listed ? globalThis.aisleParts.tags.open(at("tags"), at("find-tag"), toggle) : null;

    function set(part) {
      fields = { ...fields, ...part };
      mark();
      changed(fields);
    }

    function toggle(code) {
      const { missed } = fields;
      set({ missed: missed.includes(code) ? missed.filter((one) => one !== code) : [...missed, code] });
    }

    // Built anew for each pass; while one is being typed about only its marks are renewed.
    function show(shownPass, shownFields, key) {
      pass = shownPass;
      fields = shownFields;
      if (key !== shownFor) build();
      shownFor = key;
      mark();
      at("after").hidden = false;
    }

    function hide() {
      shownFor = "";
      at("after").hidden = true;
      showFaults([]);
    }

    function build() {
      const named = pass.manifest !== null;
      if (listed) {
        at("find-tag").parentElement.hidden = !named;
        at("tags").hidden = !named;
        const codes = data.load?.tags ?? [];
        tags.build(named ? [...codes, ...fields.missed.filter((code) => !codes.includes(code))] : []);
      }
      at("counts").replaceChildren(...(named ? [] : countFields()));
      at("strays-heard").replaceChildren(named ? strayCodes() : strayCount());
      at("is-void").checked = fields.isVoid;
      at("void-reason").value = fields.voidReason;
      at("note").value = fields.note;
      const hidden = pass.columns.length === 0;
      at("as-walked").hidden = hidden;
      at("as-walked").open = pass.columns.some((column) => fields.conditions[column] === "");
      at("walked-conditions").replaceChildren(...pass.columns.map(walkedCondition));
      for (const radio of document.getElementsByName("strays")) radio.checked = radio.value === fields.strays;
    }

    function countFields() {
      return [
        stepper("Tags missed", "missed-count", fields.missedCount, 0, (missedCount) => set({ missedCount })),
        stepper("Tags that went through", "presented", fields.presented, 0, (presented) =>
          set({ presented }),
        ),
      ];
    }

    function strayCount() {
      return stepper("Tags heard", "stray-count", fields.strayCount, 1, (count) =>
        set({ strayCount: count }),
      );
    }

    function strayCodes() {
      const input = element("textarea", {
        id: "stray-codes",
        rows: "2",
        autocapitalize: "characters",
        spellcheck: "false",
        on: { input: () => set({ strayCodes: input.value }) },
      });
      input.value = fields.strayCodes;
      return element("div", { class: "field" }, [
        element("label", { for: "stray-codes", text: "Their codes, with blanks between them" }),
        input,
      ]);
    }

    function walkedCondition(name, i) {
      const column = data.columns.find((one) => one.column === name);
      const planned = pass.conditions[name];
      const banded = planned !== undefined && record.statedValue(name, planned, data) === "";
      const hint = banded
        ? `Planned: ${globalThis.aisleParts.fields.valueText(planned, column)}.`
        : pass.manifest !== null && !pass.varied.includes(name)
          ? "Leave it open where the list of the load says it of each tag."
          : "";
      const values = banded ? [] : column.values;
      return conditionField(column, `walked-${i}`, fields.conditions[name] ?? "", { values, hint }, (text) =>
        set({ conditions: { ...fields.conditions, [name]: text } }),
      );
    }

    function mark() {
      const named = pass.manifest !== null;
      const missed = named ? fields.missed.length : fields.missedCount;
      const of = named ? pass.tagsPerPass : fields.presented;
      at("missed-line").replaceChildren(
        missed === 0 ? `None of ${of} missed.` : `${missed} of ${of} missed`,
        ...(named && missed > 0 ? [": ", apart(fields.missed.join(" "))] : []),
      );
      if (!named && of < pass.tagsPerPass) {
        at("missed-line").append(
          ` The plan asks for ${pass.tagsPerPass}: with fewer its combination stays short.`,
        );
      }
      if (named) tags.mark(fields.missed);
      at("strays-heard").hidden = fields.strays !== "heard";
      at("void-why").hidden = !fields.isVoid;
    }

    function showFaults(faults) {
      at("faults").hidden = faults.length === 0;
      at("faults").replaceChildren(...faults.map(({ text }) => element("p", { text })));
      if (faults.some(({ field }) => field.startsWith("condition "))) at("as-walked").open = true;
      if (faults.length > 0) at("faults").scrollIntoView({ block: "center" });
    }

    for (const radio of document.getElementsByName("strays")) {
      radio.addEventListener("change", () => set({ strays: radio.value }));
    }
    at("is-void").addEventListener("change", () => set({ isVoid: at("is-void").checked }));
    at("void-reason").addEventListener("input", () => set({ voidReason: at("void-reason").value }));
    at("note").addEventListener("input", () => set({ note: at("note").value }));
    at("void-reasons").replaceChildren(
      ...reasons.map((text) =>
        button(text, () => {
          at("void-reason").value = text;
          set({ voidReason: text });
        }),
      ),
    );

    return { show, hide, showFaults };
  }

  return { open };
})();
