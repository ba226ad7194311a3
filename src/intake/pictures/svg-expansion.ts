/** An element of a drawing, in document order. */
export interface DrawnElement {
  id: string | null;
  /** How many elements it is inside of. */
  depth: number;
  /** The ids that it refers to. */
  references: string[];
}

/**
 * How many elements a drawing comes to once every reference is followed: a few lines that refer to each other ten times each
 * are a million. Infinity where references lead in a circle.
 */
export function expandedSize(elements: readonly DrawnElement[]): number {
  const indexOf = new Map<string, number>();
  elements.forEach(({ id }, index) => {
    if (id !== null && !indexOf.has(id)) indexOf.set(id, index);
  });
  const sizes = new Map<number, number>();
  const sizeOf = (start: number): number => {
    const known = sizes.get(start);
    if (known !== undefined) return known;
    // Met again before it is known: it contains itself.
    sizes.set(start, Number.POSITIVE_INFINITY);
    const { depth } = elements[start]!;
    let size = 0;
    for (let i = start; i < elements.length && (i === start || elements[i]!.depth > depth); i += 1) {
      size += 1;
      for (const id of elements[i]!.references) {
        const target = indexOf.get(id);
        if (target !== undefined) size += sizeOf(target);
      }
    }
    sizes.set(start, size);
    return size;
  };
  return elements.length === 0 ? 0 : sizeOf(0);
}
