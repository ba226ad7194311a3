import type { ReaderLogSpec } from "../../model/facility.ts";
import type { WrittenReaderLog } from "../reader-log-schema.ts";

/** One entry of `reader_logs` with its defaults filled in. */
export function builtReaderLog(written: WrittenReaderLog): ReaderLogSpec {
  const { columns, time } = written;
  return {
    files: Array.isArray(written.files) ? written.files : [written.files],
    readPoint:
      typeof written.read_point === "string"
        ? { kind: "fixed", readPoint: written.read_point }
        : { kind: "column", column: written.read_point.column, values: written.read_point.values },
    columns: {
      time: columns.time,
      epc: columns.epc,
      antenna: columns.antenna ?? null,
      rssi: columns.rssi ?? null,
      count: columns.count ?? null,
    },
    time: { unit: time?.unit ?? "iso", zone: time?.zone ?? null, format: time?.format ?? null },
    rssiUnit: written.rssi_unit ?? "dBm",
    delimiter: written.delimiter ?? null,
    decimal: written.decimal ?? ".",
    header: written.header ?? "yes",
    clockOffsetS: written.clock_offset_s ?? 0,
    epcForm: written.epc_form ?? "hex",
  };
}
