import { slug } from "../parts/paths.ts";
import { unbrokenUnits } from "../words/units.ts";

const heading = /<h([23])([^>]*)>([\s\S]*?)<\/h\1>/g;
const contentsPlace = /(<nav class="on-page[^>]*>)<\/nav>/;
/** What is code stays as it is. */
const code = /<(script|style|code|pre|textarea)\b[\s\S]*?<\/\1>/g;

/** Fewer sections than this are seen at a glance. */
const leastSections = 4;

/**
 * What holds of the content of every page, whatever its template: each heading can be linked to, a page that has a place for
 * a contents list leads to its sections, and no number is parted from its unit at the end of a line.
 */
export function finishedContent(html: string): string {
  const { named, sections } = namedHeadings(html);
  const list = sections.length < leastSections ? "" : contentsList(sections);
  const content = named.replace(contentsPlace, (_, opening: string) =>
    list === "" ? "" : `${opening}${list}</nav>`,
  );
  return unbrokenUnits(content, textPlaces(content));
}

/** Tells of places in a page, asked from its start on, which are text: neither inside a tag nor in code. */
function textPlaces(html: string): (at: number) => boolean {
  const codes = html.matchAll(code);
  let { value: next } = codes.next();
  return (at) => {
    while (next !== undefined && at >= next.index + next[0].length) ({ value: next } = codes.next());
    return (next === undefined || at < next.index) && html.lastIndexOf("<", at) <= html.lastIndexOf(">", at);
  };
}

interface Section {
  id: string;
  /** As it stands in the page, escaped, without tags. */
  title: string;
}

/** Gives every heading an id of its own, made of its words where its template gives none. */
function namedHeadings(html: string): { named: string; sections: Section[] } {
  // The content itself has one, outside of what is seen here.
  const taken = new Set(["content"]);
  for (const [, id] of html.matchAll(/\sid="([^"]*)"/g)) taken.add(id!);
  const sections: Section[] = [];
  const named = html.replace(heading, (whole, level: string, attributes: string, content: string) => {
    const title = content
      .replace(/<[^>]*>/g, "")
      .replace(/\s+/g, " ")
      .trim();
    const given = /\sid="([^"]*)"/.exec(attributes)?.[1];
    const id = given ?? freeId(slug(title), taken);
    if (level === "2") sections.push({ id, title });
    return given === undefined ? `<h${level} id="${id}"${attributes}>${content}</h${level}>` : whole;
  });
  return { named, sections };
}

function freeId(wanted: string, taken: Set<string>): string {
  let id = wanted;
  for (let number = 2; taken.has(id); number += 1) id = `${wanted}-${number}`;
  taken.add(id);
  return id;
}

function contentsList(sections: Section[]): string {
  const links = sections.map(({ id, title }) => `<li><a href="#${id}">${title}</a></li>`);
  return `<ul>${links.join("")}</ul>`;
}
