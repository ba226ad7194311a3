import { describeYamlFaults } from "./yaml-fault.ts";

const entry = (text: string) => `reader_logs:\n  - { ${text} }\n`;
const columns = "columns: { time: t, epc: e }";

describeYamlFaults("an entry of reader_logs", [
  {
    claim: "names logs below the facility's folder",
    change: ["", entry(`files: ../reads.csv, read_point: dock-1, ${columns}`)],
    code: "path-outside",
    at: "../reads.csv",
    says: /below the facility's folder/,
  },
  {
    claim: "names each log of a list below the facility's folder",
    change: ["", entry(`files: [reads/a.csv, C:/b.csv], read_point: dock-1, ${columns}`)],
    code: "path-outside",
    at: "C:/b.csv",
    says: /into the facility's folder/,
  },
  {
    claim: "of a log without a header counts its columns",
    change: ["", entry(`files: a.csv, read_point: dock-1, header: "no", columns: { time: 1, epc: e }`)],
    code: "reader-column-unclear",
    at: "e }",
    says: /from 1/,
  },
  {
    claim: "of a log with a header names its columns",
    change: [
      "",
      entry("files: a.csv, read_point: { column: 3, values: { a: dock-1 } }, columns: { time: t, epc: e }"),
    ],
    code: "reader-column-unclear",
    at: "3, values",
    says: /names in the header/,
  },
  {
    claim: "has a format only for times in words",
    change: [
      "",
      entry(`files: a.csv, read_point: dock-1, ${columns}, time: { unit: ms, format: "%d.%m.%Y" }`),
    ],
    code: "time-format-unused",
    at: '"%d',
    says: /Times in ms are numbers/,
  },
  {
    claim: "knows its time zone",
    change: ["", entry(`files: a.csv, read_point: dock-1, ${columns}, time: { zone: Europe/Dubln }`)],
    code: "time-zone-unknown",
    at: "Europe/Dubln",
    says: /Did you mean "Europe\/Dublin"/,
  },
  {
    claim: "maps readers to read points that exist",
    change: [
      "",
      entry("files: a.csv, read_point: { column: r, values: { a: dock-7 } }, columns: { time: t, epc: e }"),
    ],
    code: "reference-unknown",
    at: "dock-7",
    says: /Did you mean/,
  },
]);
