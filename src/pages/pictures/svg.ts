// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what XML forbids
const forbidden = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;
// biome-ignore lint/suspicious/noControlCharactersInRegex: as above
const special = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff&<>"']/;

/** Every text that enters a picture passes through here: markup shows as text, control characters are dropped. */
export function escapeText(text: string): string {
  // A picture has thousands of texts, nearly all of them plain.
  if (!special.test(text)) return text;
  return text
    .replace(forbidden, "\ufffd")
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/"/g, "&quot;")
    .replace(/'/g, "&#39;");
}

export type Attributes = Record<string, string | number | null>;

/** Two decimals are finer than any printer, and keep equal inputs equal in bytes. */
function numberText(value: number): string {
  return String(Math.round(value * 100) / 100 + 0);
}

/** An element; its content is markup that is already escaped. Attributes that are null are left out. */
export function element(name: string, attributes: Attributes, content = ""): string {
  let pairs = "";
  for (const key of Object.keys(attributes)) {
    const value = attributes[key]!;
    if (value !== null)
      pairs += ` ${key}="${typeof value === "number" ? numberText(value) : escapeText(value)}"`;
  }
  return content === "" ? `<${name}${pairs}/>` : `<${name}${pairs}>${content}</${name}>`;
}

/** A text element; the text is escaped here. */
export function textAt(x: number, y: number, text: string, attributes: Attributes = {}): string {
  return element("text", { x, y, ...attributes }, escapeText(text));
}

/** A figure in a column that ends at `x`; the one that counts is heavier than those beside it. */
export function figureAt(
  { x, y }: { x: number; y: number },
  text: string,
  { isHeavy, size = 13 }: { isHeavy: boolean; size?: number },
): string {
  return textAt(x, y, text, {
    "text-anchor": "end",
    "font-size": size,
    "font-weight": isHeavy ? 700 : null,
    class: isHeavy ? "figure ink" : "figure second",
    fill: isHeavy ? ink.text : ink.second,
  });
}

/** Lines of text, one below the other; `y` is the baseline of the first. */
export function textLines(
  texts: string[],
  { x, y, step }: { x: number; y: number; step: number },
  attributes: Attributes = {},
): string {
  return texts.map((text, index) => textAt(x, y + step * index, text, attributes)).join("");
}

/** A level line. */
export function horizontal(from: number, to: number, y: number, attributes: Attributes): string {
  return element("line", { x1: from, x2: to, y1: y, y2: y, ...attributes });
}

/** An upright line. */
export function vertical(x: number, from: number, to: number, attributes: Attributes): string {
  return element("line", { x1: x, x2: x, y1: from, y2: to, ...attributes });
}

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

export function rectangle({ x, y, width, height }: Box, attributes: Attributes): string {
  return element("rect", { x, y, width, height, ...attributes });
}

/** A fine line across a picture, between two rows. */
export function hairline(y: number, width: number): string {
  return horizontal(0, width, y, { class: "hair", stroke: ink.hair, "stroke-width": 0.75 });
}

interface Frame {
  /** Prefix of every id inside, unique on its page. */
  id: string;
  width: number;
  height: number;
  title: string;
  description: string;
  className: string;
}

/** One of the two forms of a picture. Its name is its class: the style sheet shows the form that fits. */
export function formFrame(
  { id, title, description }: Pick<Frame, "id" | "title" | "description">,
  { name, width, height }: { name: "wide" | "narrow"; width: number; height: number },
  parts: string[],
): string {
  return frame({ id: `${id}-${name}`, width, height, title, description, className: name }, parts.join(""));
}

/** Draws rows one below the other; each returns where it ends. */
export function stacked<Row, Drawn extends { bottom: number }>(
  rows: Row[],
  top: number,
  draw: (row: Row, y: number) => Drawn,
): { drawn: Drawn[]; bottom: number } {
  let bottom = top;
  const drawn = rows.map((row) => {
    const one = draw(row, bottom);
    bottom = one.bottom;
    return one;
  });
  return { drawn, bottom };
}

/** The picture's outermost element, with the title and description that stand for it where it cannot be seen. */
export function frame({ id, width, height, title, description, className }: Frame, content: string): string {
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      class: `picture ${className}`,
      viewBox: `0 0 ${numberText(width)} ${numberText(height)}`,
      width,
      height,
      // An image hides what is inside it from whoever listens to the page: a picture with links is a group.
      role: content.includes("<a ") ? "group" : "img",
      "aria-labelledby": `${id}-title ${id}-desc`,
      "font-family": "'Source Sans 3', Arial, sans-serif",
      "font-size": 13,
      fill: ink.text,
    },
    `<title id="${escapeText(id)}-title">${escapeText(title)}</title>` +
      `<desc id="${escapeText(id)}-desc">${escapeText(description)}</desc>${content}`,
  );
}

/** Colours for paper; on screen the style sheet may override them by class. */
export const ink = {
  text: "#1d2530",
  second: "#56616f",
  hair: "#cfd5dc",
  paper: "#ffffff",
  good: "#e9f1f0",
  met: "#14635f",
  "not-met": "#a33b1f",
  undecided: "#8a6400",
  untested: "#56616f",
} as const;

/** The style of text beside the figures. */
export const small = { "font-size": 12.5, class: "second", fill: ink.second };
export const smaller = { ...small, "font-size": 12 };

export const barInk = "#1f5a7a";
