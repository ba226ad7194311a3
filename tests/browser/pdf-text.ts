import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";

/** The text of each page of a PDF, white space folded. */
export async function pdfPages(pdf: Uint8Array): Promise<string[]> {
  const document = await getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
  const pages: string[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const content = await (await document.getPage(number)).getTextContent();
    pages.push(foldSpaces(content.items.map((item) => ("str" in item ? item.str : "")).join(" ")));
  }
  return pages;
}

export function foldSpaces(text: string): string {
  return text.replace(/\s+/g, " ").trim();
}
