/** Books and folders moved: every `builds on` leads where it led, and nothing else of any text is another. */
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { besides, pathBeside } from "../../src/paths.js";
import { mendedPaths, movedPath, namedIn, type Move } from "../../src/service/moves.js";
import { parse } from "../../src/syntax/parse.js";

const folders = ["/shop", "/shop/rules", "/shop/rules/ponds", "/shop/common", "/shop/rules-old"];
const books = ["base.lore", "pier.lore", "Muße #1.lore"];
const all = folders.flatMap((folder) => books.map((book) => `${folder}/${book}`));

/** Ways to write one path. */
const written = (own: string, target: string, style: number): string => {
  const plain = pathBeside(own, target);
  return [plain, `./${plain}`, target, plain.replace(/\/(?=[^/]*$)/, "//"), `../${own.split("/").at(-2)!}/${plain}`][style]!;
};
const move: fc.Arbitrary<Move> = fc.oneof(
  fc
    .tuple(fc.constantFrom(...all), fc.constantFrom(...folders), fc.constantFrom(...books, "new.lore"))
    .map(([from, folder, name]) => ({ from, to: `${folder}/${name}` })),
  fc
    .tuple(fc.constantFrom(...folders.slice(1)), fc.constantFrom("/shop/waters", "/shop/rules/new/deep", "/elsewhere"))
    .map(([from, to]) => ({ from, to })),
);

test("every path leads where it led", () => {
  const link = fc.tuple(fc.constantFrom(...all), fc.constantFrom(...all), fc.nat(4));
  let mended = 0;
  fc.assert(
    fc.property(
      fc.array(link, { minLength: 1, maxLength: 8 }),
      fc.array(move, { minLength: 1, maxLength: 2 }),
      fc.constantFrom(...all),
      (links, moves, gone) => {
        for (const own of new Set(links.map(([from]) => from))) {
          const paths = links.filter(([from]) => from === own).map(([, to, style]) => written(own, to, style));
          const text = `book "Own"\n${paths.map((path) => `builds on "${path}" -- as it is\n`).join("")}`;
          const isThere = (path: string): boolean => all.includes(path) && path !== gone;
          const edits = mendedPaths(own, namedIn(text, parse(text, own).tree), moves, isThere);
          mended += edits.length;
          let after = text;
          for (const { range, path: put } of edits.toReversed()) after = after.slice(0, range.start) + put + after.slice(range.end);
          const now = namedIn(after, parse(after, own).tree).map(({ path }) => path);
          expect(now.length).toBe(paths.length);
          const ownThen = movedPath(own, moves);
          for (const [i, path] of paths.entries()) {
            const target = besides(own, path);
            const then = movedPath(target, moves);
            if (then === target && !isThere(target)) expect(now[i]).toBe(path);
            else expect(besides(ownThen, now[i]!)).toBe(then);
            // What was right stays as it was written.
            if (besides(ownThen, path) === then) expect(now[i]).toBe(path);
            expect(now[i]!.startsWith("/")).toBe(path.startsWith("/"));
          }
          expect(after.replace(/"[^"\n]*" --/g, "")).toBe(text.replace(/"[^"\n]*" --/g, ""));
        }
      },
    ),
    { numRuns: 300 },
  );
  expect(mended).toBeGreaterThan(100);
});
