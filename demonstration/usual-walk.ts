import type { PassColumn } from "./log-text.ts";
import type { Cell, Radio } from "./walk.ts";

/* What the walks of all facilities have in common. */

export const speed: PassColumn = { name: "speed_m_s", value: (pass) => pass.speedMetresPerSecond ?? "" };

export const ofCell = (name: string): PassColumn => ({ name, value: (pass) => pass.values[name] ?? "" });

/** Nothing moves, nothing is carried and nothing stands beside. */
export const still: Cell = {
  values: {},
  speedMetresPerSecond: null,
  load: () => [],
  bystanders: [],
  manifest: null,
  penalty: 0,
};

/** A door with four antennas. */
export const portal: Radio = {
  base: -9.4,
  orientation: { facing: 0, flat: 0.5, "edge-on": 1.1 },
  level: { bottom: 0.2, middle: 0, top: 0.3 },
  edgeOnTop: 0,
  perMetrePerSecond: 0.4,
  passScatter: 0.6,
  tagScatter: 0.6,
  antennas: 4,
  silentAntenna: null,
  rssiDbm: -53,
  bystanderHeard: 0,
  strayHeard: 0,
};
