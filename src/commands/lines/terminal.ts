/** Where a command speaks: results to standard output, everything else to standard error. */
export interface Terminal {
  out(text: string): void;
  err(text: string): void;
  /** Shows how far a command has come in place of what was shown before; null wipes it away. */
  progress(text: string | null): void;
  /** Whether somebody is watching standard error: only then is progress shown. */
  watched: boolean;
  /** Resolves when the person at the terminal asks for the end; listens no longer once `until` is aborted. */
  interrupted(until: AbortSignal): Promise<unknown>;
}

/** Which facilities a command is about. */
export interface Source {
  data: string;
  /** Ids; empty means all. */
  only: string[];
}

const patienceS = 1;

/** A line that says how far a long command has come: shown to somebody watching, and only past a second. */
export interface Progress {
  step(text: string): void;
  done(): void;
}

export function progressOn(terminal: Terminal): Progress {
  const began = process.uptime();
  let shown = false;
  return {
    step(text) {
      if (!terminal.watched || process.uptime() - began < patienceS) return;
      shown = true;
      terminal.progress(text);
    },
    done() {
      if (shown) terminal.progress(null);
    },
  };
}
