import { mkdir, mkdtemp, rename, symlink, writeFile } from "node:fs/promises";
import { request } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { siteServer } from "../../src/site/site-server.ts";

let room: string;
let site: string;
let server: ReturnType<typeof siteServer>;
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
  server = siteServer(site);
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  port = (server.address() as AddressInfo).port;
});

afterAll(() => void server.close());

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
