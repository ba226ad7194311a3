import type { Setting, Why } from "../../model/diagnosis/why.ts";
import { counted } from "../../model/number-words.ts";
import { yesNoColumn } from "../parts/columns.ts";
import { type Section, tableFigure } from "../parts/figure.ts";
import { settingLabel } from "../words/labels.ts";
import type { WhyContext } from "./why-context.ts";

/** The settings that the reader's logs state, against those that the round declares. */
export function loggedSettings(found: Why["settings"], { files }: WhyContext): Section | null {
  if (found === null || found.length === 0) return null;
  const differing = found.filter(({ agrees }) => !agrees);
  const valuesOf = ({ logged }: Setting) => [...new Set(logged.flatMap(({ values }) => values))].join(", ");
  const sentences =
    differing.length === 0
      ? [
          found.length === 1
            ? "The one setting that the reader's log states agrees with what the round declares."
            : `All ${counted(found.length, "setting", "settings")} that the reader's log states agree with what the round declares.`,
        ]
      : differing.map(
          (setting) =>
            `${settingLabel(setting.setting)}: the reader's log states ${valuesOf(setting)}, the round declares ${setting.declared ?? "nothing"}.`,
        );
  return {
    id: "settings",
    title: "Settings in the reader's log",
    sentences,
    tables: [
      tableFigure<Setting>({
        id: "logged-settings",
        caption: "What the reader's log states, and what the round declares.",
        howToRead: "",
        columns: [
          {
            header: "setting",
            value: ({ setting }) => setting,
            label: "Setting",
            text: ({ setting }) => settingLabel(setting),
          },
          {
            header: "declared",
            value: ({ declared }) => declared,
            label: "Declared",
            text: ({ declared }) => declared ?? "not declared",
          },
          {
            header: "logged",
            value: valuesOf,
            label: "In the log",
            text: (setting) => ({
              text: valuesOf(setting),
              detail: setting.logged.map(({ file }) => file).join(", "),
            }),
          },
          yesNoColumn({ header: "agrees", label: "Agree" }, ({ agrees }) => agrees),
        ],
        rows: found,
        tableCaption: "Settings",
        file: files("why-settings", "the settings that the reader's log states, and those declared."),
      }),
    ],
  };
}
