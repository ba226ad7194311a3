export interface ChangedPage {
  text: string;
  /** The digits changed, with what stands around them. */
  where: string;
}

/** A page twice for every figure on it, with the last digit of that figure one higher and one lower, round the clock. */
export function offByOne(text: string): ChangedPage[] {
  return [...text.matchAll(/\d(?!\d|\.\d)/g)].flatMap(({ index }) =>
    [1, 9].map((step) => {
      const changed = String((Number(text[index]) + step) % 10);
      return {
        text: text.slice(0, index) + changed + text.slice(index + 1),
        where: `${text.slice(Math.max(0, index - 50), index)}>>${text[index]} as ${changed}<<${text.slice(index + 1, index + 30)}`,
      };
    }),
  );
}
