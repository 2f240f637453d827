/** Paths of books, against those of Node's own `path.posix`. */
import fc from "fast-check";
import { posix } from "node:path";
import { expect, test } from "vitest";
import { besides, pathBeside, tidyPath } from "../src/paths.js";

const path = fc
  .tuple(fc.boolean(), fc.array(fc.constantFrom("rules", "a.lore", "b.lore", ".", "..", ""), { minLength: 1, maxLength: 6 }))
  .map(([top, parts]) => (top ? "/" : "") + parts.join("/"));
const reference = (text: string): string => posix.normalize(text).replace(/(?<=.)\/$/, "");

test("a tidy path is the shortest that leads to the same place", () => {
  fc.assert(
    fc.property(path, (text) => {
      expect(tidyPath(text)).toBe(reference(text));
    }),
  );
});

test("a path beside a book is found from the book's folder", () => {
  fc.assert(
    fc.property(path, path, (own, wanted) => {
      const folder = own.slice(0, own.lastIndexOf("/") + 1);
      expect(besides(own, wanted)).toBe(reference(wanted.startsWith("/") ? wanted : folder + wanted));
    }),
  );
});

test("and is written as it is found", () => {
  const below = path.map((text) => tidyPath(`/${text}`)).filter((text) => text !== "/");
  fc.assert(
    fc.property(below, below, fc.boolean(), (own, other, fromTop) => {
      const [one, two] = fromTop ? [own, other] : [own.slice(1), other.slice(1)];
      const written = pathBeside(one, two);
      expect(written).not.toMatch(/^\//);
      expect(besides(one, written)).toBe(two);
    }),
  );
});
