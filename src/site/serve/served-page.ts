import { escapeText } from "../../pages/pictures/svg.ts";

/** What a page is served with and no file of the site holds: how it stands with the last build, and what refreshes it. */
export interface Standing {
  /** Counts builds, the failed ones too: a page with another number is out of date. */
  build: number;
  /** Null where the last build succeeded. */
  failure: { builtAt: string; text: string } | null;
}

/** Below this folder the server answers itself: hidden files of a site are never served. */
export const servedFolder = "/.served";

/** The page with a script that refreshes it, and over an older verdict the reason why there is no newer one. */
export function servedPage(html: string, { build, failure }: Standing): string {
  const head = `<link rel="stylesheet" href="${servedFolder}/served.css"><script src="${servedFolder}/refresh.js" data-build="${build}" defer></script>\n</head>`;
  return html
    .replace("default-src 'none'", "default-src 'none'; connect-src 'self'")
    .replace("</head>", () => head)
    .replace(/<body[^>]*>/, (body) => `${body}\n${failure === null ? "" : banner(failure)}`);
}

function banner({ builtAt, text }: NonNullable<Standing["failure"]>): string {
  return `<div class="not-built" role="alert">
<p><b>Not built since ${escapeText(builtAt)}.</b> The last build failed, so what stands below is older than the files. This page refreshes itself once they are mended.</p>
<pre>${escapeText(text.trim())}</pre>
</div>
`;
}

export const servedStyle = `.not-built {
  margin: 0;
  padding: 0.8rem 1.5rem;
  border-bottom: 4px solid #a33b1f;
  background: #fff;
  color: #1d2530;
}
.not-built p {
  max-width: none;
  margin: 0 0 0.5rem;
}
.not-built pre {
  margin: 0;
  max-height: 14rem;
  overflow: auto;
  white-space: pre-wrap;
  font-size: 0.85rem;
}
.rebuilt {
  margin: 0;
  padding: 0.6rem 1.5rem;
  border-bottom: 2px solid #1f5a7a;
}
@media print {
  .not-built,
  .rebuilt {
    display: none;
  }
}
`;
