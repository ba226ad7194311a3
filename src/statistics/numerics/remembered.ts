const most = 1000;

/**
 * The same function, which keeps the answers to the last thousand arguments or fewer: for what costs much and is asked again and
 * again, as quantiles are in a search for a sample size. Arguments are told apart as the keys of a Map are.
 */
export function remembered<Key, Value>(compute: (key: Key) => Value): (key: Key) => Value {
  const known = new Map<Key, Value>();
  return (key) => {
    const found = known.get(key);
    if (found !== undefined) return found;
    if (known.size >= most) known.clear();
    const made = compute(key);
    known.set(key, made);
    return made;
  };
}
