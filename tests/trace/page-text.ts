const entities: Record<string, string> = { amp: "&", lt: "<", gt: ">", quot: '"', nbsp: " " };

function character(whole: string, name: string): string {
  return name.startsWith("#") ? String.fromCodePoint(Number(name.slice(1))) : (entities[name] ?? whole);
}

/**
 * What a reader sees of a page: the text nodes of its body parted by blanks, the words of pictures and the figures behind
 * the chart on screen among them; the list of contents says its headings again.
 */
export function pageText(html: string): string {
  const from = html.indexOf("<body");
  if (from < 0) throw new Error("a page without a body");
  return html
    .slice(from)
    .replace(/<(script)(?![^>]*application\/json)\b[\s\S]*?<\/\1>/g, " ")
    .replace(/<nav class="on-page[\s\S]*?<\/nav>/, " ")
    .replace(/<[^>]*>/g, " ")
    .replace(/&(#?\w+);/g, character)
    .replace(/\s+/g, " ")
    .replace(/ (?=[,.;:)])/g, "")
    .trim();
}
