// Keeps the log in the browser's own storage, and never writes over what another tab wrote.
globalThis.aisleParts ??= {};
globalThis.aisleParts.store = (() => {
  // `storage` is asked for anew at each use, since asking alone may be refused.
  function open(key, storage, isState) {
    // What stood in the storage when this page last read or wrote it.
    let seen = null;

    function works() {
      try {
        const probe = `${key} probe`;
        storage().setItem(probe, "1");
        const kept = storage().getItem(probe) === "1";
        storage().removeItem(probe);
        return kept;
      } catch {
        return false;
      }
    }

    function stateIn(text) {
      if (text === null) return { kind: "empty" };
      try {
        const state = JSON.parse(text);
        if (isState(state)) return { kind: "state", state };
      } catch {
        // What cannot be read is handed to people as it is.
      }
      return { kind: "unreadable", text };
    }

    // empty, state, unreadable, or off where there is no storage to read.
    function read() {
      try {
        seen = storage().getItem(key);
      } catch {
        return { kind: "off" };
      }
      return stateIn(seen);
    }

    // kept; elsewhere, where another tab wrote since, whose state is now to be taken; off, where nothing is kept.
    function write(state) {
      let now;
      try {
        now = storage().getItem(key);
      } catch {
        return "off";
      }
      if (now !== seen) return "elsewhere";
      const text = JSON.stringify(state);
      try {
        storage().setItem(key, text);
      } catch {
        return "off";
      }
      seen = text;
      return "kept";
    }

    function changedElsewhere() {
      try {
        return storage().getItem(key) !== seen;
      } catch {
        return false;
      }
    }

    // An unreadable text is kept under a name of its own before a new log takes its place; false where that cannot be.
    function setAside() {
      try {
        let number = 1;
        while (storage().getItem(`${key} set aside ${number}`) !== null) number += 1;
        storage().setItem(`${key} set aside ${number}`, seen);
        storage().removeItem(key);
      } catch {
        return false;
      }
      seen = null;
      return true;
    }

    return { works, read, write, changedElsewhere, setAside };
  }

  return { open };
})();
