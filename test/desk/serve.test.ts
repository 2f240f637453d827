/** The desk's own server: nobody but its page reads or writes, and nothing but books and lists inside its folder. */
import { request as ask, type IncomingMessage, type RequestOptions } from "node:http";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, realpathSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { mayRead, mayWrite } from "../../src/faces/desk/contract.js";
import { serveDesk, type Serving } from "../../src/faces/desk/serve.js";
import { openShopFolder } from "../../src/faces/desk/shop-folder.js";

let outside: string;
let folder: string;
let serving: Serving;
let host: string;
let cookie: string;

beforeAll(async () => {
  outside = realpathSync(mkdtempSync(join(tmpdir(), "waterlore-desk-")));
  folder = join(outside, "shop");
  mkdirSync(join(folder, "rules"), { recursive: true });
  mkdirSync(join(folder, ".git"));
  writeFileSync(join(folder, "rules/pond.lore"), 'book "Pond"\n');
  writeFileSync(join(folder, "shelf.csv"), "item\n");
  writeFileSync(join(folder, "waterlore.json"), "{}");
  writeFileSync(join(folder, "notes.txt"), "no book");
  writeFileSync(join(folder, ".git/hook.lore"), 'book "Hidden"\n');
  writeFileSync(join(outside, "secret.lore"), 'book "Secret"\n');
  symlinkSync(join(outside, "secret.lore"), join(folder, "way-out.lore"));
  symlinkSync(outside, join(folder, "up"));
  symlinkSync(join(outside, "nowhere.lore"), join(folder, "dangling.lore"));
  serving = await serveDesk(openShopFolder(folder), { html: "<p>The desk", policy: "default-src 'none'" }, 0);
  const url = new URL(serving.address);
  host = url.host;
  const opened = await send("GET", url.pathname + url.search);
  cookie = opened.headers["set-cookie"]![0]!.split(";")[0]!;
});
afterAll(async () => {
  await serving.close();
  rmSync(outside, { recursive: true, force: true });
});

interface Reply {
  readonly status: number;
  readonly headers: IncomingMessage["headers"];
  readonly text: string;
}

/** Just as said: no client tidies the path or adds a header. */
function send(
  method: string,
  path: string,
  headers: Readonly<Record<string, string>> = {},
  body: string | Uint8Array = "",
): Promise<Reply> {
  const [name, port] = new URL(serving.address).host.split(":");
  const options: RequestOptions = { host: name, port, method, path, headers: { host, ...headers } };
  return new Promise((done, fail) => {
    const sent = ask(options, (response) => {
      let text = "";
      response.setEncoding("utf8");
      response.on("data", (part: string) => (text += part));
      response.on("end", () => done({ status: response.statusCode!, headers: response.headers, text }));
    });
    sent.on("error", fail);
    sent.end(body);
  });
}

const own = () => ({ cookie, origin: `http://${host}` });
const put = (path: string, text: string | Uint8Array, more: Readonly<Record<string, string>>) =>
  send("PUT", `/file/${path}`, { ...own(), ...more }, text);
const versionOf = async (path: string): Promise<string> => (await send("GET", `/file/${path}`, own())).headers.etag!;
const problemIn = ({ text }: Reply): unknown => (JSON.parse(text) as { readonly problem: unknown }).problem;

describe("who is answered", () => {
  test("the address opens once", async () => {
    const again = await send("GET", new URL(serving.address).pathname + new URL(serving.address).search);
    expect(again.status).toBe(403);
    expect(problemIn(again)).toContain("has been used");
    expect((await send("GET", "/", own())).text).toBe("<p>The desk");
  });

  test.each([
    ["no cookie", {}],
    ["a wrong one", { cookie: "desk-1=nonsense" }],
    ["a key of another start", { cookie: "" }],
  ])("%s: refused", async (_, headers) => {
    for (const path of ["/", "/files", "/changes", "/file/rules/pond.lore", "/?key=nonsense"])
      expect((await send("GET", path, headers)).status).toBe(403);
  });

  test("another name that was made to lead here is refused, whoever asks", async () => {
    for (const other of ["shop.example", `localhost:${host.split(":")[1]!}`, "127.0.0.1"])
      expect((await send("GET", "/files", { ...own(), host: other })).status).toBe(403);
  });

  test("another page is refused, and so is a write that does not say where it comes from", async () => {
    for (const origin of ["http://shop.example", "null", "http://127.0.0.1:1"])
      expect((await send("GET", "/files", { cookie, origin })).status).toBe(403);
    const headers = { cookie, "if-none-match": "*" };
    expect((await send("PUT", "/file/new.lore", headers, "x")).status).toBe(403);
    expect(existsSync(join(folder, "new.lore"))).toBe(false);
  });

  test("its page brings its rules along, and nothing of it is kept or shown elsewhere", async () => {
    const { headers } = await send("GET", "/", own());
    expect(headers["content-security-policy"]).toBe("default-src 'none'");
    expect(headers["cache-control"]).toBe("no-store");
    expect(headers["x-content-type-options"]).toBe("nosniff");
  });
});

describe("what can be read", () => {
  test("books, lists and settings inside, and nothing else", async () => {
    const { text } = await send("GET", "/files", own());
    expect(JSON.parse(text)).toEqual({ folder: "shop", files: ["rules/pond.lore", "shelf.csv", "waterlore.json"] });
    expect((await send("GET", "/file/rules/pond.lore", own())).text).toBe('book "Pond"\n');
  });

  test.each([
    "../secret.lore",
    "rules/../../secret.lore",
    "%2e%2e/secret.lore",
    "..%2fsecret.lore",
    "rules%2F..%2F..%2Fsecret.lore",
    "..%5csecret.lore",
    "%00.lore",
    "rules//pond.lore",
    "/etc/passwd",
    "c:%5cbook.lore",
    "notes.txt",
    ".git/hook.lore",
    "way-out.lore",
    "up/secret.lore",
    "dangling.lore",
    "%E0%A4%A",
    "",
  ])("%j is not given out, nor written", async (path) => {
    const read = await send("GET", `/file/${path}`, own());
    expect([403, 404]).toContain(read.status);
    expect(read.text).not.toContain("Secret");
    const written = await put(path, "x", { "if-none-match": "*" });
    expect([403, 404]).toContain(written.status);
    expect(readFileSync(join(outside, "secret.lore"), "utf8")).toContain("Secret");
    expect(existsSync(join(outside, "nowhere.lore"))).toBe(false);
  });

  test("law: whatever the path, what may be written lies inside, is not hidden, and is a book or a list", () => {
    const part = fc.oneof(
      fc.constantFrom("..", ".", "", "a", ".git", "a.lore", ".lore", "b.csv", "node_modules", "C:", "waterlore.json"),
      fc.string({ maxLength: 6 }),
    );
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 5 }), (parts) => {
        const path = parts.join("/");
        if (mayWrite(path)) {
          expect(mayRead(path)).toBe(true);
          expect(/\.(lore|csv)$/.test(path)).toBe(true);
          expect(join("/shop", path)).toBe(`/shop/${path}`);
          expect(path.split("/").some((name) => name.startsWith(".") || name === "node_modules")).toBe(false);
        }
      }),
    );
  });
});

describe("what is written", () => {
  test("a new book is made, with the folder it stands in, and not over another", async () => {
    expect((await put("new/cove.lore", 'book "Cove"\n', { "if-none-match": "*" })).status).toBe(200);
    expect(readFileSync(join(folder, "new/cove.lore"), "utf8")).toBe('book "Cove"\n');
    expect((await put("new/cove.lore", "other", { "if-none-match": "*" })).status).toBe(412);
    expect(readFileSync(join(folder, "new/cove.lore"), "utf8")).toBe('book "Cove"\n');
  });

  test("of two who write, the second is told, and the first is kept", async () => {
    const before = await versionOf("rules/pond.lore");
    const first = await put("rules/pond.lore", 'book "First"\n', { "if-match": before });
    const second = await put("rules/pond.lore", 'book "Second"\n', { "if-match": before });
    expect([first.status, second.status]).toEqual([200, 412]);
    expect(problemIn(second)).toBe("rules/pond.lore has been changed in the folder meanwhile.");
    expect(readFileSync(join(folder, "rules/pond.lore"), "utf8")).toBe('book "First"\n');
    expect(first.headers.etag).toBe(await versionOf("rules/pond.lore"));
  });

  test("without a version, of a book that is gone, too large or no text: refused, nothing lost", async () => {
    const text = readFileSync(join(folder, "rules/pond.lore"), "utf8");
    const version = await versionOf("rules/pond.lore");
    expect((await put("rules/pond.lore", "x", {})).status).toBe(428);
    expect((await put("gone.lore", "x", { "if-match": version })).status).toBe(412);
    expect((await put("rules/pond.lore", new Uint8Array([0xff, 0xfe, 0]), { "if-match": version })).status).toBe(422);
    expect((await put("rules/pond.lore", "x".repeat(30_000_000), { "if-match": version })).status).toBe(422);
    expect((await put("waterlore.json", "{}", { "if-none-match": "*" })).status).toBe(403);
    expect(readFileSync(join(folder, "rules/pond.lore"), "utf8")).toBe(text);
  });

  test("a file that is no text is said to be none", async () => {
    writeFileSync(join(folder, "binary.lore"), new Uint8Array([1, 0, 2]));
    const read = await send("GET", "/file/binary.lore", own());
    expect(read.status).toBe(422);
    expect(problemIn(read)).toBe("binary.lore cannot be read: it is not a text file.");
  });
});

test("what another program changes is told", async () => {
  const [name, port] = host.split(":");
  const told = await new Promise<string>((done) => {
    const stream = ask({ host: name, port, path: "/changes", headers: { host, ...own() } }, (response) => {
      response.setEncoding("utf8");
      response.on("data", (part: string) => {
        if (!part.startsWith("data:")) writeFileSync(join(folder, "shelf.csv"), "item,blade\n");
        // What the tests before have written may be told first.
        if (!part.includes("shelf.csv")) return;
        stream.destroy();
        done(part);
      });
    });
    stream.end();
  });
  expect(told).toContain('data: "shelf.csv"\n\n');
});
