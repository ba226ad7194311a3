/**
 * A text as words and numbers by turns: `words[i]` stand before `numbers[i]`. Numbers are runs of digits with sign and
 * decimals wherever they stand, in codes too, and number words from two up; "one" is mostly a pronoun.
 */
interface WordsAndNumbers {
  words: string[];
  numbers: string[];
}

const number = /−?\d+(?:\.\d+)?|\b(?:two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\b/gi;

function wordsAndNumbers(text: string): WordsAndNumbers {
  const numbers = (text.match(number) ?? []).map((one) => one.toLowerCase());
  return { words: text.split(number), numbers };
}

/**
 * Numbers that no statement explains, each with the text around it.
 *
 * A statement is a stretch of page text: its numbers must follow each other on the page with none between, and its words
 * must stand where they stand in it; three dots stand for any words. What stands before the first number tells which
 * number is meant, so `Door … 9 of 12` explains no 9 of anything else.
 */
export function unexplained(text: string, statements: string[]): string[] {
  return explainer(statements)(text);
}

/** The same for many pages, with the statements taken apart once: looks up the numbers of a page that none explains. */
export function explainer(statements: string[]): (text: string) => string[] {
  const byFirstNumber = new Map<string, WordsAndNumbers[]>();
  for (const statement of statements.map(wordsAndNumbers)) {
    const [first] = statement.numbers;
    // What has no number explains none.
    if (first === undefined) continue;
    const alike = byFirstNumber.get(first);
    if (alike === undefined) byFirstNumber.set(first, [statement]);
    else alike.push(statement);
  }
  return (text) => {
    const page = wordsAndNumbers(text);
    const explained = new Set<number>();
    page.numbers.forEach((first, start) => {
      for (const statement of byFirstNumber.get(first) ?? []) {
        if (!stands(statement, page, start)) continue;
        for (let offset = 0; offset < statement.numbers.length; offset += 1) explained.add(start + offset);
      }
    });
    if (explained.size === page.numbers.length) return [];
    return [...text.matchAll(number)].flatMap(({ 0: found, index }, place) =>
      explained.has(place)
        ? []
        : [
            `${text.slice(Math.max(0, index - 90), index)}>>${found}<<${text.slice(index).slice(found.length, 50)}`,
          ],
    );
  };
}

/** Statements that stand nowhere in the text: figures that a page has dropped. */
export function unsaid(text: string, statements: string[]): string[] {
  const page = wordsAndNumbers(text);
  return statements.filter((statement) => {
    const parts = wordsAndNumbers(statement);
    return !page.numbers.some((_, start) => stands(parts, page, start));
  });
}

function stands(statement: WordsAndNumbers, page: WordsAndNumbers, start: number): boolean {
  return (
    statement.numbers.every((one, offset) => page.numbers[start + offset] === one) &&
    statement.words.every((words, offset) => {
      const there = page.words[start + offset] ?? "";
      return words.split("…").every((piece) => there.includes(piece.trim()));
    })
  );
}
