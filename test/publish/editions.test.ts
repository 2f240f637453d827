/** Editions: what changed since the last one, and the feed against what RFC 4287 (The Atom Syndication Format) asks of one. */
import { SaxesParser } from "saxes";
import { describe, expect, test } from "vitest";
import { compare } from "../../src/compare/compare.js";
import { editionsFeed, sinceLast, type Edition } from "../../src/publish/editions.js";
import { check } from "../check.js";

const book = (edition: string, blade: string): string => `book "Blades"
  edition "${edition}"
condition clarity "Water clarity": clear, muddy
pick blade "Blade": round, leaf
pattern "Mud & <stumps>" go with blade ${blade} when clarity is muddy
fall back on blade round
`;
const changes = sinceLast(compare(check(book("2026", "round")).model, check(book("2027", "leaf")).model));

const feed = { title: "Blades & more", author: "Hollin Landing", site: "https://shop.example/lore", name: "editions.atom" };
const editions: readonly Edition[] = [
  { title: "Blades", edition: "2026", published: "2026-03-01T08:00:00Z", page: "2026/blades.html" },
  { title: "Blades", edition: "2027 \u0007spring", published: "2027-03-01T08:00:00-05:00", page: "./blades.html", changes },
];

interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Element[];
  text: string;
}

/** Throws where it is not well formed, or a prefix has no namespace. */
function parsed(document: string): Element {
  const top: Element = { name: "", attributes: {}, children: [], text: "" };
  const open = [top];
  const parser = new SaxesParser({ xmlns: true });
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("opentag", ({ local, uri, attributes }) => {
    expect(uri).toBe("http://www.w3.org/2005/Atom");
    const element: Element = {
      name: local,
      attributes: Object.fromEntries(Object.values(attributes).map(({ name, value }) => [name, value])),
      children: [],
      text: "",
    };
    open.at(-1)!.children.push(element);
    open.push(element);
  });
  parser.on("text", (text) => void (open.at(-1)!.text += text));
  parser.on("closetag", () => void open.pop());
  parser.write(document).close();
  return top.children[0]!;
}

const named = ({ children }: Element, name: string): readonly Element[] => children.filter((child) => child.name === name);
// RFC 3339, section 5.6, as sections 3.3 of RFC 4287 narrows it.
const dateTime = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})$/;

describe("the feed", () => {
  const text = editionsFeed(feed, editions)!;
  const top = parsed(text);
  const entries = named(top, "entry");

  test("has what sections 4.1.1 and 4.1.2 ask of a feed and of an entry", () => {
    expect(top.name).toBe("feed");
    for (const element of [top, ...entries]) {
      for (const name of ["id", "title", "updated"]) expect(named(element, name), name).toHaveLength(1);
      expect(() => new URL(named(element, "id")[0]!.text)).not.toThrow();
      expect(named(element, "updated")[0]!.text).toMatch(dateTime);
      expect(named(element, "link").filter(({ attributes }) => attributes["rel"] === "alternate")).toHaveLength(1);
    }
    // An author in the feed stands for all entries.
    expect(named(top, "author").map((author) => named(author, "name")[0]!.text)).toEqual(["Hollin Landing"]);
    expect(named(top, "link").find(({ attributes }) => attributes["rel"] === "self")!.attributes["href"]).toBe(
      "https://shop.example/lore/editions.atom",
    );
    expect(new Set(entries.map((entry) => named(entry, "id")[0]!.text)).size).toBe(2);
  });

  test("has the newest edition first, and is as new as that", () => {
    expect(entries.map((entry) => named(entry, "title")[0]!.text)).toEqual(["Blades, 2027 \ufffdspring", "Blades, 2026"]);
    expect(named(top, "updated")[0]!.text).toBe("2027-03-01T08:00:00-05:00");
    expect(entries.map((entry) => named(entry, "link")[0]!.attributes["href"])).toEqual([
      "https://shop.example/lore/blades.html",
      "https://shop.example/lore/2026/blades.html",
    ]);
  });

  test("says what changed, as HTML in which the book's own signs are only text", () => {
    expect(named(entries[0]!, "summary")[0]!.text).toBe("Recommendations change for Blade.");
    const content = named(entries[0]!, "content")[0]!;
    expect(content.attributes["type"]).toBe("html");
    expect(content.text).not.toMatch(/<(?!\/?(p|h2|ul|li)>)/);
    expect(content.text).toContain("&amp;");
    expect(named(entries[1]!, "summary")[0]!.text).toBe("The first edition.");
    expect(named(entries[1]!, "content")).toEqual([]);
  });

  test("is the same bytes whatever the order it is given", () => expect(editionsFeed(feed, [...editions].reverse())).toBe(text));

  test.each([
    ["no edition", feed, []],
    ["no whole address", { ...feed, site: "lore/" }, editions],
    ["an address that runs", feed, [{ ...editions[0]!, page: "javascript:alert(1)" }]],
    ["a page outside the site", feed, [{ ...editions[0]!, page: "../x.html" }]],
    ["a day that is in no calendar", feed, [{ ...editions[0]!, published: "2027-02-30T00:00:00Z" }]],
    ["a day without a time", feed, [{ ...editions[0]!, published: "2027-02-20" }]],
  ])("%s: none", (_, about, list) => expect(editionsFeed(about, list)).toBeUndefined());
});

test("what changed since the last edition", () => {
  expect(changes).toMatchObject({ from: "2026", to: "2027", different: true, headline: "Recommendations change for Blade." });
  expect(changes.sections[0]!.items[0]).toEqual({
    text: "Before: round. Now: leaf. In 50 % of all conditions (1/2).",
    details: [
      "Where clarity is muddy.",
      "For example: clarity muddy.",
      "Before and now from “Mud & <stumps>”.",
      "“Mud & <stumps>” says something else.",
    ],
  });
  expect(JSON.parse(JSON.stringify(changes))).toEqual(changes);
});
