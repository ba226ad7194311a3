import { describe, expect, it } from "vitest";
import { finishedContent } from "../../src/pages/html/finished.ts";

const place = '<nav class="on-page" aria-label="On this page"></nav>';

describe("the content of a page", () => {
  it("has a heading that can be linked to in every section, under a name of its own", () => {
    const html = finishedContent(
      '<h2 id="open">Open</h2><h3>Dock <bdi>door</bdi> 2</h3><h3>Dock door 2</h3><h3 class="x">Open</h3><h2>Content</h2>',
    );
    expect([...html.matchAll(/<h[23] id="([^"]*)"/g)].map(([, id]) => id)).toEqual([
      "open",
      "dock-door-2",
      "dock-door-2-2",
      "open-2",
      "content-2",
    ]);
    expect(html).toContain('<h3 id="open-2" class="x">');
  });

  it("leads to its sections where they are too many to be seen at a glance, and has no empty list", () => {
    const sections = ["One", "Two &amp; three", "Four", "Five"].map((title) => `<h2>${title}</h2>`);
    expect(finishedContent(place + sections.join(""))).toContain(
      '<nav class="on-page" aria-label="On this page"><ul><li><a href="#one">One</a></li><li><a href="#two-amp-three">Two &amp; three</a></li>',
    );
    expect(finishedContent(place + sections.slice(1).join(""))).not.toContain("<nav");
  });

  it("parts no number from its unit at the end of a line, in anybody's words", () => {
    const words = "<p>97 % at 0.4 m/s, 500 ms, \u221267 dBm; 12 m.</p>";
    expect(finishedContent(words)).toBe(words.replace(/(?<=\d) /g, "\u00a0"));
  });

  it("tells the text before, between and after codes and tags from what is in them", () => {
    const html = '<p title="1 m">2 m <code>3 m</code> 4 m<pre>5 < 6 m</pre> 7 m</p><img alt="8 m"> 9 m';
    const expected = html.replace(/(?<=[2479]) m/g, "\u00a0m");
    expect(finishedContent(html)).toBe(expected);
  });

  it("leaves codes, data, addresses and words that only begin like a unit as they are", () => {
    for (const kept of [
      "<code>30 m</code>",
      '<script type="application/json">"2 m"</script>',
      '<a href="inputs/5 m.csv">log</a>',
      "<p>2 metres, 3 men, 4 Wide and 5 in the aisle</p>",
    ])
      expect(finishedContent(kept)).toBe(kept);
  });
});
