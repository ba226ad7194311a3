import type { Files } from "../intake/folder.ts";

/*
 * A door with timed passes at 10:00 and 10:30, each a minute long, and reads of three tags between them: L1 of the load stays near, C1 travels
 * past on a run from 10:10 to 10:20 and is heard again at 10:25, B1 is its carrier.
 */
export const facility: Files = {
  "hall/facility.yaml": `name: Hall
time_zone: UTC
report: { number: T-1, revision: A, issued: 2026-06-20 }
rounds: [{ id: r1 }]
read_points: [{ id: door }, { id: side }]
criteria: [{ id: idle, measure: idle-read-rate, at_most: 5, read_points: [door] }]
reader_logs:
  - { files: reads.csv, read_point: door, columns: { time: time, epc: epc } }
`,
  "hall/manifests/load.csv": "tag\n3034257BF7194E40000000A1\n",
  "hall/passes/p.csv": `pass,read_point,started_at,ended_at,manifest
P1,door,2026-06-15T10:00:00Z,2026-06-15T10:01:00Z,load
P2,door,2026-06-15T10:30:00Z,2026-06-15T10:31:00Z,load
`,
  "hall/reads.csv": `time,epc
2026-06-15T10:00:30Z,3034257BF7194E40000000A1
2026-06-15T10:05:00Z,3034257BF7194E40000000A1
2026-06-15T10:10:00Z,3034257BF7194E40000000C1
2026-06-15T10:15:00Z,3034257BF7194E40000000C1
2026-06-15T10:15:20Z,3034257BF7194E40000000B1
2026-06-15T10:20:00Z,3034257BF7194E40000000C1
2026-06-15T10:20:01Z,3034257BF7194E40000000C1
2026-06-15T10:25:00Z,3034257BF7194E40000000C1
2026-06-15T10:30:30Z,3034257BF7194E40000000A1
2026-06-15T10:30:40Z,3034257BF7194E40000000C1
`,
};

/** A journey with that read point for its only leg. */
export const journeyAt = (readPoint: string): Files => ({
  "journeys/crate.yaml": `title: Past the door
report: { number: J-1, revision: A, issued: 2026-06-20 }
legs: [{ id: past, facility: hall, read_point: ${readPoint} }]
carrier: { column: carrier, at: [past], within_s: 60 }
criteria: [{ id: l, measure: leg-sighting-rate, at_least: 0.1 }, { id: w, measure: carrier-sighting-rate, at_least: 0.1 }]
`,
  "journeys/crate/runs.csv":
    "run,tag,carrier,started_at,ended_at\nR1,3034257BF7194E40000000C1,3034257BF7194E40000000B1,2026-06-15T10:10:00Z,2026-06-15T10:20:00Z\n",
});
