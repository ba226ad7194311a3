import { describe, expect, it } from "vitest";
import { readSvg } from "../../../src/intake/pictures/svg.ts";
import { svg } from "./made-pictures.ts";

const inertOf = (content: string) => {
  const { found, inert } = readSvg(svg(content));
  expect(found.problem).toBeNull();
  return { inert, leftOut: found.picture!.leftOut };
};

describe("an inert copy of a drawing", () => {
  it("keeps shapes, texts, gradients, styles and references to itself", () => {
    const content =
      '<defs><linearGradient id="g"><stop offset="0"/></linearGradient></defs><style>.a{fill:url(#g)}</style>' +
      '<g class="a" transform="scale(2)"><path d="M0 0h1" style="stroke:#fff"/><text x="1">5 &lt; 6 &amp; 7</text></g><use xlink:href="#g"/>';
    const { inert, leftOut } = inertOf(content);
    expect(leftOut).toEqual([]);
    for (const part of [
      "<linearGradient",
      ".a{fill:url(#g)}",
      'transform="scale(2)"',
      "5 &#60; 6 &#38; 7",
      'href="#g"',
    ])
      expect(inert).toContain(part);
  });

  it.each([
    [
      "what embeds another document",
      "<foreignObject><p xmlns='http://www.w3.org/1999/xhtml'>x</p></foreignObject>",
      "foreignObject",
    ],
    ["pictures", '<image href="http://example.invalid/x.png"/>', "image"],
    ["what moves", '<animate attributeName="x" to="1"/>', "animate"],
    ["references elsewhere", '<use href="other.svg#a"/>', "a reference in use"],
    [
      "imports of styles",
      "<style>@import url(http://example.invalid/x.css); .a{fill:red}</style>",
      "an import",
    ],
    ["fonts from elsewhere", "<style>@font-face{src:url(http://example.invalid/f)}</style>", "a font"],
    ["addresses in styles", '<g style="fill:url(http://example.invalid/x)"/>', "an address in a style"],
    [
      "addresses in a style of their own",
      '<style>.a{fill:url("http://example.invalid/x")}</style>',
      "an address in a style",
    ],
    ["addresses in attributes", '<g fill="url(http://example.invalid/x)"/>', "an address in a style"],
    [
      "addresses that are spelt out by escapes",
      "<style>.a{fill:\\75rl(http://example.invalid/x)}</style>",
      "style rules",
    ],
    ["other rules that may load", "<style>@media print{.a{fill:red}}</style>", "style rules"],
  ])("lacks %s, and says so", (_, content, what) => {
    const { inert, leftOut } = inertOf(`<rect width="1" height="1"/>${content}`);
    expect(leftOut).toContain(what);
    expect(inert).not.toMatch(/example\.invalid|foreignObject|@|<image|<animate/);
    expect(inert).toContain("<rect");
  });

  it("has nothing of who drew it", () => {
    const { inert } = inertOf(
      '<title>Una</title><desc>Una</desc><metadata>Una</metadata><!-- Una --><g xmlns:s="urn:s" s:label="Una" data-by="Una"/>',
    );
    expect(inert).not.toContain("Una");
  });

  it("keeps what a link held, and loses the link", () => {
    const { inert } = inertOf('<a href="http://example.invalid/"><rect width="1" height="1"/></a>');
    expect(inert).toContain("<g><rect");
    expect(inert).not.toContain("example.invalid");
  });

  it("shows what stands in for another document where that is left out", () => {
    const { inert } = inertOf("<switch><foreignObject/><text>Dock 1</text></switch>");
    expect(inert).toContain("<switch><text>Dock 1</text></switch>");
  });
});
