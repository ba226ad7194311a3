import { SaxesParser, type SaxesTagNS } from "saxes";
import { byCodePoint } from "../../model/order.ts";
import { quoted, xmlFault } from "../problems/card/wording.ts";
import { pictureRunsCode, pictureTooLarge, pictureUnreadable } from "../problems/pictures.ts";
import { type Besides, type FoundPicture, refused } from "./found.ts";
import { pictureOf } from "./size.ts";
import { expandedSize } from "./svg-expansion.ts";

/*
 * SVG made inert. What would run is refused, since the file itself goes into the archive. What loads or embeds something, and
 * whatever is not known to be a shape or a text, is left out of the copy.
 */

const svg = "http://www.w3.org/2000/svg";
const xlink = "http://www.w3.org/1999/xlink";

/** Shapes, texts, and what paints them. Elements of SVG 1.1, from memory. */
const shapes = new Set(
  (
    "svg g defs symbol use switch path rect circle ellipse line polyline polygon text tspan textPath style " +
    "linearGradient radialGradient stop pattern clipPath mask marker"
  ).split(" "),
);

/** Words about the drawing, which a copy does not need. */
const silent = new Set(["title", "desc", "metadata"]);

/** How far references may blow a drawing up: more elements than any plan has, and few enough to draw. */
const mostElements = 200_000;
const deepest = 200;
/** Fine enough that rounding bends the shape of no drawing. */
const longestEdge = 30_000;

/** A drawing whose text would run, or is no SVG. */
class Refusal extends Error {
  readonly found: FoundPicture;
  constructor(found: FoundPicture) {
    super("The drawing is refused.");
    this.found = found;
  }
}

/** Reads a drawing, and writes it again with nothing in it but shapes and texts. */
export function readSvg(text: string): { found: FoundPicture; inert: string } {
  const reader = new SvgReader();
  try {
    reader.read(text);
    return { found: reader.found(), inert: reader.inert };
  } catch (fault) {
    if (fault instanceof Refusal) return { found: fault.found, inert: "" };
    throw fault;
  }
}

class SvgReader {
  readonly #parser = new SaxesParser({ xmlns: true });
  readonly #leftOut = new Set<string>();
  readonly #besides: Besides = new Set();
  /** One entry an open element: its closing tag; null where it is left out with all that is in it. */
  readonly #open: (string | null)[] = [];
  readonly #elements: { id: string | null; depth: number; references: string[] }[] = [];
  readonly #parts: string[] = [];
  #style: string | null = null;
  #size: { width: number; height: number } | null = null;

  constructor() {
    const parser = this.#parser;
    parser.on("error", ({ message }) => {
      throw damaged(`no well-formed SVG: ${xmlFault(message)}`);
    });
    parser.on("doctype", (doctype) => {
      // Entities may multiply without end, and hide what they stand for.
      if (doctype.includes("[")) throw damaged("an SVG that defines entities of its own");
    });
    parser.on("processinginstruction", ({ target }) => {
      if (/^xml-stylesheet$/i.test(target)) throw runs("a style sheet beside the drawing");
    });
    parser.on("comment", () => this.#besides.add("text"));
    parser.on("opentag", (tag) => this.#start(tag));
    parser.on("text", (text) => this.#text(text));
    parser.on("cdata", (text) => this.#text(text));
    parser.on("closetag", () => this.#end());
  }

  get inert(): string {
    return `${this.#parts.join("")}\n`;
  }

  read(text: string): void {
    this.#parser.write(text).close();
    if (expandedSize(this.#elements) > mostElements)
      throw new Refusal(
        refused(
          pictureTooLarge.with({
            found: "an SVG whose references blow it up, or lead in a circle",
            most: "200 000 elements once every reference is followed",
          }),
        ),
      );
  }

  found(): FoundPicture {
    if (this.#size === null) return damaged("an SVG without viewBox, width or height").found;
    const leftOut = [...this.#leftOut].sort(byCodePoint);
    const picture = pictureOf({
      kind: "svg",
      ...this.#size,
      orientation: 1,
      besides: this.#besides,
      leftOut,
    });
    return { picture, problem: null };
  }

  #start(tag: SaxesTagNS): void {
    const { local, uri } = tag;
    this.#refuseWhatRuns(tag);
    const isInside = this.#open.at(-1) !== null;
    if (this.#open.length === 0) {
      if (uri !== svg || local !== "svg") throw damaged(`an XML file of another kind: ${quoted(tag.name)}`);
      this.#size = sizeOf(tag);
    }
    if (this.#open.length >= deepest) throw damaged(`an SVG nested deeper than ${deepest} elements`);
    // What makers' own programs add changes nothing that is seen.
    if (uri !== svg) this.#besides.add("text");
    if (local === "metadata") this.#besides.add("text");
    if (/creator|author|rights/i.test(local) && uri !== svg) this.#besides.add("person");
    const isLink = uri === svg && local === "a";
    if (!isInside || uri !== svg || (!shapes.has(local) && !isLink)) {
      if (isInside && uri === svg && !silent.has(local)) this.#leftOut.add(local);
      this.#open.push(null);
      return;
    }
    const name = isLink ? "g" : local;
    const attributes = this.#attributes(tag, isLink);
    const namespace = this.#open.length === 0 ? ` xmlns="${svg}"` : "";
    this.#parts.push(`<${name}${namespace}${attributes}>`);
    this.#open.push(`</${name}>`);
    if (local === "style") this.#style = "";
  }

  #refuseWhatRuns({ name, local, attributes }: SaxesTagNS): void {
    if (local.toLowerCase() === "script") throw runs("a script");
    for (const attribute of Object.values(attributes)) {
      if (/^on/i.test(attribute.local))
        throw runs(`the handler ${quoted(attribute.name)} of ${quoted(name)}`);
      // Blanks and control characters inside a scheme are passed over by browsers.
      // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is passed over
      if (/(?:java|vb)script:|data:text\/html/i.test(attribute.value.replace(/[\u0000-\u0020]/g, "")))
        throw runs(`a link that runs, in ${quoted(name)}`);
    }
  }

  #attributes({ local: element, attributes }: SaxesTagNS, isLink: boolean): string {
    const references: string[] = [];
    let id: string | null = null;
    let text = "";
    for (const { local, prefix, uri, value } of Object.values(attributes)) {
      if (prefix === "xmlns" || (prefix === "" && local === "xmlns")) continue;
      if (local === "href" && (prefix === "" || uri === xlink)) {
        if (isLink) continue;
        if (/^#[^\s]+$/.test(value)) {
          references.push(value.slice(1));
          text += ` href="${escaped(value)}"`;
        } else this.#leftOut.add(`a reference in ${element}`);
        continue;
      }
      if (prefix !== "") {
        // `xml:space` belongs to the drawing; what other programs note down does not.
        if (prefix === "xml" && local === "space") text += ` xml:space="${escaped(value)}"`;
        else if (prefix !== "xml") this.#besides.add("text");
        continue;
      }
      const plain = local === "style" ? this.#plainStyle(value) : this.#plainValue(value);
      if (plain === "" || /^data-/.test(local)) continue;
      if (local === "id") id = value;
      references.push(...[...plain.matchAll(/url\(\s*["']?#([^\s"')]+)/gi)].map(([, name]) => name!));
      text += ` ${local}="${escaped(plain)}"`;
    }
    this.#elements.push({ id, depth: this.#open.length, references });
    return text;
  }

  /** A value that paints with something of the drawing itself; empty where it would load something. */
  #plainValue(value: string): string {
    if (!/url|\\|image|src/i.test(value)) return value;
    return this.#plainStyle(value) === value ? value : "";
  }

  /** Style rules without anything that loads: at-rules, escapes and addresses are left out. */
  #plainStyle(style: string): string {
    const bare = style.replace(/\/\*[\s\S]*?\*\//g, "");
    // A backslash may spell out anything.
    const isHidden = bare.includes("\\");
    const plain = isHidden
      ? ""
      : bare
          .replace(/@font-face\s*\{[^}]*\}/gi, () => this.#lost("a font"))
          .replace(/@(?:import|charset|namespace)[^;{}]*(?:;|$)/gi, (rule) =>
            /@import/i.test(rule) ? this.#lost("an import") : "",
          )
          .replace(/url\(\s*(?!["']?#)[^)]*\)?/gi, () => {
            this.#lost("an address in a style");
            return "none";
          })
          .replace(/(?:image|image-set|src|element|cross-fade)\(/gi, () => {
            this.#lost("an address in a style");
            return "none(";
          });
    if (isHidden || plain.includes("@")) {
      this.#lost("style rules");
      return "";
    }
    return plain;
  }

  #lost(what: string): string {
    this.#leftOut.add(what);
    return "";
  }

  #text(text: string): void {
    const closing = this.#open.at(-1);
    if (closing === undefined || closing === null) return;
    if (this.#style !== null) this.#style += text;
    else this.#parts.push(escaped(text));
  }

  #end(): void {
    const closing = this.#open.pop();
    if (closing === undefined || closing === null) return;
    if (this.#style !== null) {
      this.#parts.push(escaped(this.#plainStyle(this.#style)));
      this.#style = null;
    }
    this.#parts.push(closing);
  }
}

const damaged = (why: string) => new Refusal(refused(pictureUnreadable.damaged({ why })));
const runs = (what: string) => new Refusal(refused(pictureRunsCode.with({ what })));

function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (mark) => `&#${mark.charCodeAt(0)};`);
}

/** The shape of the drawing in whole units of its own, or of a fine raster; null where it states none. */
function sizeOf({ attributes }: SaxesTagNS): { width: number; height: number } | null {
  const stated = (name: string) => attributes[name]?.value.trim() ?? "";
  const box = stated("viewBox")
    .split(/[\s,]+/)
    .map(Number);
  const unit = (text: string) => /^(\d*\.?\d+(?:e[+-]?\d+)?)(px|pt|pc|mm|cm|in)?$/i.exec(text);
  const [width, height] = [unit(stated("width")), unit(stated("height"))];
  const isStated = width !== null && height !== null && width[2] === height[2];
  const edges = box.length === 4 ? [box[2]!, box[3]!] : isStated ? [Number(width[1]), Number(height[1])] : [];
  const [across = 0, down = 0] = edges;
  if (!(across > 0 && down > 0 && Number.isFinite(across) && Number.isFinite(down))) return null;
  const isWhole = Number.isInteger(across) && Number.isInteger(down) && Math.max(across, down) <= longestEdge;
  const scale = isWhole ? 1 : longestEdge / Math.max(across, down);
  return { width: Math.max(1, Math.round(across * scale)), height: Math.max(1, Math.round(down * scale)) };
}
