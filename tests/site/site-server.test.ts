import { mkdir, mkdtemp, readFile, rename, symlink, writeFile } from "node:fs/promises";
import { request } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { SiteServer } from "../../src/site/serve/site-server.ts";

let room: string;
let site: string;
let served: SiteServer;
let server: SiteServer["server"];
let port: number;

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), "proofwalk-server-"));
  site = join(room, "site");
  await mkdir(join(site, "yard"), { recursive: true });
  await writeFile(join(site, "index.html"), "the index");
  await writeFile(join(site, "yard", "index.html"), "the yard");
  await writeFile(join(site, "yard", "a b.csv"), "a;b");
  await writeFile(join(site, ".htpasswd"), "hidden");
  await writeFile(join(room, "secret.html"), "secret");
  await symlink(join(room, "secret.html"), join(site, "link.html"));
  await symlink(room, join(site, "up"));
  await symlink("index.html", join(site, "inside.html"));
  served = new SiteServer(site);
  server = served.server;
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  port = (server.address() as AddressInfo).port;
});

afterAll(() => {
  server.closeAllConnections();
  server.close();
});

interface Asked {
  status: number;
  body: string;
  headers: NodeJS.Dict<string | string[]>;
}

/** The path goes as it is: a client with a mind of its own would take `..` out. */
function ask(path: string, method = "GET", host = `127.0.0.1:${port}`): Promise<Asked> {
  return new Promise((resolve, reject) => {
    const asked = request({ port, host: "127.0.0.1", path, method, headers: { host } }, (answer) => {
      let body = "";
      answer.on("data", (chunk: Buffer) => {
        body += chunk.toString();
      });
      answer.on("end", () => resolve({ status: answer.statusCode!, body, headers: answer.headers }));
    });
    asked.on("error", reject);
    asked.end();
  });
}

describe("a served page", () => {
  const page = `<html><head><meta content="default-src 'none'; img-src 'self'"></head><body class="page">old verdict</body></html>`;
  const file = () => join(site, "yard", "page.html");

  it("refreshes itself, and nothing of that is in the file on disk", async () => {
    await writeFile(file(), page);
    const { body, headers } = await ask("/yard/page.html");
    expect(body).toContain('<script src="/.served/refresh.js" data-build="0" defer>');
    expect(body).toContain("default-src 'none'; connect-src 'self'; img-src");
    expect(headers["content-length"]).toBe(String(body.length));
    expect(await readFile(file(), "utf8")).toBe(page);
    expect((await ask("/.served/refresh.js")).body).toContain("EventSource");
    expect((await ask("/.served/served.css")).headers["content-type"]).toMatch(/^text\/css/);
  });

  it("says over the older verdict that the last build failed, since when and why, until one succeeds", async () => {
    await writeFile(file(), page);
    served.built({ builtAt: "12:59:03", text: "passes/dock-2.csv:53: found <b>; expected yes or no\n" });
    const { body } = await ask("/yard/page.html");
    expect(body).toMatch(/Not built since 12:59:03\..+older than the files.+old verdict/s);
    expect(body).toContain("dock-2.csv:53: found &lt;b&gt;; expected yes or no");
    expect(await readFile(file(), "utf8")).toBe(page);
    served.built(null);
    expect((await ask("/yard/page.html")).body).not.toContain("Not built since");
  });

  it("is told of each build by the server, on this machine's own name only", async () => {
    const first = await new Promise<string>((resolve) => {
      const asked = request({ port, host: "127.0.0.1", path: "/.served/events" }, (answer) => {
        answer.once("data", (chunk: Buffer) => {
          resolve(chunk.toString());
          asked.destroy();
        });
      });
      asked.on("error", () => {});
      asked.end();
    });
    expect(first).toMatch(/^data: \d+\n\n$/);
    expect(await ask("/.served/events", "GET", "elsewhere.example")).toMatchObject({ status: 421, body: "" });
  });
});

describe("a served site", () => {
  it.each([
    ["/", "the index"],
    ["/index.html?x=1", "the index"],
    ["/yard/", "the yard"],
    ["/yard/a%20b.csv", "a;b"],
    ["/inside.html", "the index"],
  ])("answers %s with its file", async (path, body) => {
    const said = await ask(path);
    expect(said).toMatchObject({ status: 200, body });
    expect(said.headers["x-content-type-options"]).toBe("nosniff");
    expect(said.headers["content-length"]).toBe(String(body.length));
  });

  it.each([
    "/link.html",
    "/up/secret.html",
    "/../secret.html",
    "/%2e%2e/secret.html",
    "/..%2fsecret.html",
    "/..%5csecret.html",
    "/.htpasswd",
    "/%2ehtpasswd",
    "/nothing.html",
    "/%00",
    "/%",
  ])("answers %s with nothing: no way leads out of the site, no hidden file is shown", async (path) => {
    expect(await ask(path)).toMatchObject({ status: 404, body: "" });
  });

  it("answers this machine's own names only", async () => {
    for (const name of ["localhost", "127.0.0.1", "[::1]", "LOCALHOST"])
      expect((await ask("/", "GET", `${name}:${port}`)).status).toBe(200);
    for (const host of [
      "elsewhere.example",
      `elsewhere.example:${port}`,
      "localhost",
      `localhost:${port + 1}`,
    ])
      expect(await ask("/", "GET", host)).toMatchObject({ status: 421, body: "" });
  });

  it("answers GET and HEAD only", async () => {
    for (const method of ["POST", "PUT", "DELETE", "OPTIONS", "TRACE"]) {
      const said = await ask("/", method);
      expect(said).toMatchObject({ status: 405, body: "" });
      expect(said.headers.allow).toBe("GET, HEAD");
    }
    const head = await ask("/", "HEAD");
    expect(head).toMatchObject({ status: 200, body: "" });
    expect(head.headers["content-length"]).toBe("9");
  });

  it("answers again after a moment without a site", async () => {
    await rename(site, `${site}-aside`);
    expect((await ask("/")).status).toBe(404);
    await rename(`${site}-aside`, site);
    expect((await ask("/")).body).toBe("the index");
  });
});
