/** `waterlore publish` as it is called, from what `npm run build` has made. */
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";

const root = join(import.meta.dirname, "../..");
let folder: string;
const run = (...words: readonly string[]) =>
  spawnSync(process.execPath, [join(root, "dist/cli/waterlore.js"), "publish", ...words, "--on", "2027-04-15"], {
    encoding: "utf8",
    cwd: folder,
  });

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "waterlore-publish-"));
  writeFileSync(join(folder, "good.lore"), 'book "Good"\ncondition sky: bright, dark\npick blade: round, leaf\nfall back on blade leaf\n');
  writeFileSync(
    join(folder, "bad.lore"),
    'book "Bad"\ncondition sky: bright, dark\npick blade: round, leaf\npattern "Dark"\n  go with blade round\n  when sky is dark\n',
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test("writes a page per book and an index, the same twice", () => {
  expect(run("good.lore", "--to", "site").status).toBe(0);
  expect(
    readdirSync(join(folder, "site"))
      .filter((name) => name.endsWith(".html"))
      .sort(),
  ).toEqual(["good.html", "index.html"]);
  const first = readFileSync(join(folder, "site/good.html"), "utf8");
  expect(first).toContain("default-src 'none'");
  run("good.lore", "--to", "site2");
  expect(readFileSync(join(folder, "site2/good.html"), "utf8")).toBe(first);
});

test("says what changed since the last edition, in the page and in a feed", () => {
  writeFileSync(
    join(folder, "last.lore"),
    'book "Good"\n  edition "spring"\ncondition sky: bright, dark\npick blade: round, leaf\nfall back on blade round\n',
  );
  expect(run("good.lore", "--to", "since", "--since", "last.lore", "--address", "https://shop.example/lore/").status).toBe(0);
  expect(readFileSync(join(folder, "since/good.html"), "utf8")).toContain("<summary>What changed since edition spring</summary><p>");
  const feed = readFileSync(join(folder, "since/editions.atom"), "utf8");
  expect(feed).toContain('<link rel="alternate" type="text/html" href="https://shop.example/lore/good.html"/>');
  expect(feed).toContain('<content type="html">');
  expect(readdirSync(join(folder, "since"))).toEqual(expect.arrayContaining(["lookup.js", "lookup.d.ts"]));
  expect(run("good.lore", "--to", "since", "--since", "nowhere.lore").status).toBe(2);
});

test("a book with errors is refused by name, and nothing is written", () => {
  const { status, stderr } = run("good.lore", "bad.lore", "--to", "refused");
  expect(status).toBe(1);
  expect(stderr).toContain("bad.lore");
  expect(stderr).not.toContain("good.lore,");
  expect(existsSync(join(folder, "refused"))).toBe(false);
});

test("or is marked as a draft, on every page", () => {
  expect(run("good.lore", "bad.lore", "--to", "draft", "--draft").status).toBe(0);
  for (const page of ["index.html", "bad.html", "good.html"])
    expect(readFileSync(join(folder, "draft", page), "utf8")).toContain("<title>");
  for (const page of ["index.html", "bad.html"]) expect(readFileSync(join(folder, "draft", page), "utf8")).toContain("(draft)</title>");
});

test("a book that is not there: exit 2, in a sentence", () => {
  const { status, stderr } = run("nowhere.lore", "--to", "x");
  expect(status).toBe(2);
  expect(stderr).toContain("nowhere.lore");
});
