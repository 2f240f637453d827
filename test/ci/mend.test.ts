/** What `--fix` may not touch: a unit, however it is spelt, stays as it was written, for only a person knows which was meant. */
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { mend } from "../../src/faces/check/mend.js";
import { units, unitWords } from "../../src/model/quantities.js";

test.each(["mm", "mg", "km", "mi"])("%s is a unit of the language, and stays", (unit) => {
  const text = `book "B"\ncondition x: 0 to 100 ${unit}\npick act: a, b\npattern "P" go with act a when x is at least 4 ${unit}\n`;
  expect(mend({ path: "b.lore", text }, () => ({ problem: "is not here" }))).toEqual({ text, changes: [] });
});

test("no unit is rewritten, neither a known one nor one that is misspelt", { timeout: 60_000 }, () => {
  const spellings = [...units.keys(), ...unitWords.keys()].filter((unit) => /^[a-z]+$/.test(unit));
  const misspelt = fc
    .tuple(fc.constantFrom(...spellings), fc.nat(), fc.constantFrom(..."abcdefghijklmnopqrstuvwxyz", ""), fc.boolean())
    .map(([unit, at, letter, instead]) => {
      const place = at % (unit.length + 1);
      return unit.slice(0, place) + letter + unit.slice(place + (instead ? 1 : 0));
    })
    .filter((unit) => unit.length > 0);
  fc.assert(
    fc.property(
      fc.oneof(misspelt, fc.constantFrom(...spellings)),
      fc.constantFrom("ft", "°F", "oz", "mph"),
      fc.nat(40),
      (unit, own, amount) => {
        const text = `book "B"\ncondition x: 0 to 100 ${own}\npick act: a, b\npattern "P" go with act a when x is at least ${amount} ${unit}\n`;
        const mended = mend({ path: "b.lore", text }, () => ({ problem: "is not here" })).text;
        expect(/at least (.*)/.exec(mended)?.[1]).toBe(`${amount} ${unit}`);
      },
    ),
    { numRuns: 300 },
  );
});
