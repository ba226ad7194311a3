import { readFile, realpath, stat } from "node:fs/promises";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import { extname, join } from "node:path";
import { liesIn } from "../output/output-place.ts";
import { compiledFolder } from "../package/package-folders.ts";
import { type Standing, servedFolder, servedPage, servedStyle } from "./served-page.ts";

/** The kinds of files that a site holds. */
const contentTypes: Record<string, string> = {
  ".html": "text/html; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json",
  ".csv": "text/csv; charset=utf-8",
  ".jsonl": "text/plain; charset=utf-8",
  ".sha256": "text/plain; charset=utf-8",
  ".txt": "text/plain; charset=utf-8",
  ".woff2": "font/woff2",
  ".yaml": "text/plain; charset=utf-8",
};

interface Answer {
  status: number;
  headers: Record<string, string>;
  body: Buffer | null;
}

/**
 * Serves the files of a site on this machine and nothing else. A browser must ask for this machine by its own name, so
 * that no page from elsewhere reads the site under another, and no link leads out of the site. Pages are told of each build.
 */
export class SiteServer {
  readonly server: Server;
  #standing: Standing = { build: 0, failure: null };
  readonly #listeners = new Set<ServerResponse>();

  constructor(site: string) {
    this.server = createServer(async (request, response) => {
      if (request.url === `${servedFolder}/events` && request.method === "GET" && isOwn(request)) {
        this.#listen(response);
        return;
      }
      const { status, headers, body } = await answerTo(request, site, this.#standing);
      response.writeHead(status, {
        "X-Content-Type-Options": "nosniff",
        "Cache-Control": "no-store",
        ...headers,
      });
      response.end(request.method === "HEAD" ? undefined : body);
    });
  }

  /** Tells every open page how the last build ended. */
  built(failure: Standing["failure"]): void {
    this.#standing = { build: this.#standing.build + 1, failure };
    for (const response of this.#listeners) this.#tell(response);
  }

  #listen(response: ServerResponse): void {
    response.writeHead(200, { "Content-Type": "text/event-stream", "Cache-Control": "no-store" });
    this.#listeners.add(response);
    response.on("close", () => this.#listeners.delete(response));
    this.#tell(response);
  }

  #tell(response: ServerResponse): void {
    response.write(`data: ${this.#standing.build}\n\n`);
  }
}

async function answerTo(request: IncomingMessage, site: string, standing: Standing): Promise<Answer> {
  if (!isOwn(request)) return refused(421);
  if (request.method !== "GET" && request.method !== "HEAD") return refused(405, { Allow: "GET, HEAD" });
  if (request.url === `${servedFolder}/served.css`) return found(".css", Buffer.from(servedStyle));
  if (request.url === `${servedFolder}/refresh.js`)
    return found(".js", await readFile(join(compiledFolder, "served", "refresh.js")));
  const names = namesIn(request.url ?? "");
  if (names === null) return refused(404);
  try {
    const root = await realpath(site);
    const named = await realpath(join(root, ...names));
    const isFolder = (await stat(named)).isDirectory();
    const file = isFolder ? await realpath(join(named, "index.html")) : named;
    if (!liesIn(file, root)) return refused(404);
    const body = await readFile(file);
    const extension = extname(file);
    if (extension !== ".html") return found(extension, body);
    return found(extension, Buffer.from(servedPage(body.toString("utf8"), standing)));
  } catch {
    // No such file, or the site is being replaced at this very moment.
    return refused(404);
  }
}

function found(extension: string, body: Buffer): Answer {
  const type = contentTypes[extension] ?? "application/octet-stream";
  return { status: 200, headers: { "Content-Type": type, "Content-Length": String(body.length) }, body };
}

function refused(status: number, headers: Record<string, string> = {}): Answer {
  return { status, headers, body: null };
}

function isOwn(request: IncomingMessage): boolean {
  return ownHosts(request).includes(request.headers.host?.toLowerCase() ?? "");
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
