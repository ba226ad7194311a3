import { readFile, realpath, stat } from "node:fs/promises";
import { createServer, type IncomingMessage, type Server } from "node:http";
import { extname, join } from "node:path";
import { liesIn } from "./output-place.ts";

/** The kinds of files that a site holds. */
const contentTypes: Record<string, string> = {
  ".html": "text/html; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json",
  ".csv": "text/csv; charset=utf-8",
  ".sha256": "text/plain; charset=utf-8",
  ".woff2": "font/woff2",
};

interface Answer {
  status: number;
  headers: Record<string, string>;
  body: Buffer | null;
}

/**
 * Serves the files of a site on this machine and nothing else. A browser must ask for this machine by its own name, so
 * that no page from elsewhere reads the site under another, and no link leads out of the site.
 */
export function siteServer(site: string): Server {
  return createServer(async (request, response) => {
    const { status, headers, body } = await answerTo(request, site);
    response.writeHead(status, {
      "X-Content-Type-Options": "nosniff",
      "Cache-Control": "no-store",
      ...headers,
    });
    response.end(request.method === "HEAD" ? undefined : body);
  });
}

async function answerTo(request: IncomingMessage, site: string): Promise<Answer> {
  if (!ownHosts(request).includes(request.headers.host?.toLowerCase() ?? "")) return refused(421);
  if (request.method !== "GET" && request.method !== "HEAD") return refused(405, { Allow: "GET, HEAD" });
  const names = namesIn(request.url ?? "");
  if (names === null) return refused(404);
  try {
    const root = await realpath(site);
    const named = await realpath(join(root, ...names));
    const isFolder = (await stat(named)).isDirectory();
    const file = isFolder ? await realpath(join(named, "index.html")) : named;
    if (!liesIn(file, root)) return refused(404);
    const body = await readFile(file);
    const type = contentTypes[extname(file)] ?? "application/octet-stream";
    return { status: 200, headers: { "Content-Type": type, "Content-Length": String(body.length) }, body };
  } catch {
    // No such file, or the site is being replaced at this very moment.
    return refused(404);
  }
}

function refused(status: number, headers: Record<string, string> = {}): Answer {
  return { status, headers, body: null };
}

/** This machine, as the request may name it. */
function ownHosts(request: IncomingMessage): string[] {
  const port = request.socket.localPort;
  const names = ["localhost", "127.0.0.1", "[::1]"];
  return names.flatMap((name) => (port === 80 ? [name, `${name}:80`] : [`${name}:${port}`]));
}

/** The names on the way to a file; null where one is hidden, leads up or is no name at all. */
function namesIn(url: string): string[] | null {
  let path: string;
  try {
    path = decodeURIComponent(url.split(/[?#]/)[0]!);
  } catch {
    return null;
  }
  const names = path.split(/[\\/]/).filter((name) => name !== "");
  return names.some((name) => name.startsWith(".") || name.includes("\0")) ? null : names;
}
