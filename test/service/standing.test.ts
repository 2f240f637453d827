/** How a book stands: what of it is answered, what to settle first, which promises hold. */
import { expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { standingOf } from "../../src/service/standing.js";
import { open } from "./marks.js";

const standing = (book: string) => {
  const { view } = open(book);
  return standingOf({ ...view, analysis: analyse(view.model) });
};

const book = `condition clarity: in order clear, stained, dirty, muddy
pick blade "Blade": round, leaf
pick speed: slow, fast
pattern "Mud" go with blade round when clarity is muddy
pattern "Murk" go with blade leaf when clarity is muddy or dirty
pattern "All" go with blade leaf when clarity is muddy or stained or dirty
fall back on speed slow
promise "Round in mud": blade must be round when clarity is muddy
promise "Slow": speed must be slow
`;

test("the least answered pick stands for the book, and what is widest is settled first", () => {
  const { picks, answered, open, promises } = standing(book);
  // Of four levels `clear` is a gap of blade.
  expect(picks.map(({ label, answered }) => [label, answered.toFraction()])).toEqual([
    ["Blade", "3/4"],
    ["speed", "1"],
  ]);
  expect(answered.toFraction()).toBe("3/4");
  expect(open.filter(({ severity }) => severity === "error").map(({ code }) => code)).toEqual(["gap"]);
  expect(promises.map(({ title, state }) => [title, state.kind])).toEqual([
    ["Round in mud", "holds"],
    ["Slow", "holds"],
  ]);
});

test("what cannot be read comes first, then errors by their share, then warnings", () => {
  const { open } = standing(book.replace("fall back on speed slow", "fall back on speed slwo"));
  expect(open.map(({ severity, share }) => [severity, share])).toEqual([
    ["error", undefined],
    ["error", "1/4"],
    ...open.slice(2).map(({ share }) => ["warning", share]),
  ]);
});
