import { open } from "node:fs/promises";
import { lineFields } from "./line-fields.ts";
import type { LogLayout, LogSource } from "./log-source.ts";

/** Slices looked at, evenly over the file: read points are walked one after another, so its start does not know them all. */
const slices = 128;
const sliceBytes = 1 << 13;

export interface WrittenVoice {
  reader: string;
  epc: string;
  antenna: string;
}

/** Voices in a sample of a delimited text's lines. No result depends on what the sample holds. */
export async function sampleVoices(source: LogSource, layout: LogLayout): Promise<WrittenVoice[]> {
  const { reader, epc, antenna } = layout.columns;
  const found = new Map<string, WrittenVoice>();
  const file = await open(source.place);
  try {
    const buffer = Buffer.alloc(sliceBytes);
    const step = Math.max(sliceBytes, Math.floor(source.bytes / slices));
    for (let at = 0; at < source.bytes; at += step) {
      const { bytesRead } = await file.read(buffer, 0, sliceBytes, at);
      // The first line and the last one may be cut.
      const lines = buffer.toString("utf8", 0, bytesRead).split(/\r?\n/).slice(1, -1);
      for (const line of lines) {
        const fields = lineFields(line, source.delimiter);
        if (fields?.length !== layout.width) continue;
        const text = (index: number | string | null) =>
          index === null ? "" : (fields[Number(index) - 1] ?? "");
        const voice = { reader: text(reader), epc: text(epc), antenna: text(antenna) };
        found.set(`${voice.reader}\u001f${voice.epc}\u001f${voice.antenna}`, voice);
      }
    }
  } finally {
    await file.close();
  }
  return [...found.values()];
}
