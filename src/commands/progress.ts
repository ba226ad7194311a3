import type { Terminal } from "./terminal.ts";

const patienceMs = 1000;
const wipe = "\r\u001b[K";

/** A line that says how far a long command has come: shown to somebody watching, and only past a second. */
export interface Progress {
  step(text: string): void;
  done(): void;
}

export function progressOn(terminal: Terminal, now: () => number = () => performance.now()): Progress {
  const began = now();
  let shown = false;
  return {
    step(text) {
      if (!terminal.watched || now() - began < patienceMs) return;
      shown = true;
      terminal.err(`${wipe}${text}`);
    },
    done() {
      if (shown) terminal.err(wipe);
    },
  };
}
