/** Where a finding is, in words that can be pasted after `when`; and the pattern that fills a gap, which is written with the same words. */
import { expect, test } from "vitest";
import { applied, check, codes } from "../check.js";

const words = `book "Words"
condition depth: 0 to 40 ft
condition wind: calm, windy
condition sky: bright, dark
condition day: days of the year
pick blade: colorado, willow
`;

const cases: readonly (readonly [what: string, when: string, gap: string])[] = [
  ["one stretch", "depth is below 10 ft or depth is at least 20 ft", "depth is at least 10 ft and depth is below 20 ft"],
  ["all but one stretch", "depth is at least 10 ft and depth is below 20 ft", "(depth is below 10 ft or depth is at least 20 ft)"],
  [
    "a stretch that two limits enclose, beside another",
    "(depth is at least 5 ft and depth is below 10 ft) or depth is at least 20 ft",
    "(depth is below 5 ft or (depth is at least 10 ft and depth is below 20 ft))",
  ],
  [
    "a stretch that two limits enclose, or something else",
    "(depth is below 10 ft or depth is at least 20 ft) and (sky is dark or wind is windy)",
    "(depth is at least 10 ft and depth is below 20 ft) or ((depth is below 10 ft or depth is at least 20 ft) and wind is calm and sky is bright)",
  ],
  [
    "part of a stretch that two limits enclose",
    "wind is windy or depth is below 10 ft or depth is at least 20 ft",
    "depth is at least 10 ft and depth is below 20 ft and wind is calm",
  ],
  ["days round the year's end", "day from mar 1 to nov 30", "day from dec 1 to feb 29"],
  ["everywhere", "depth is below 0 ft", "always"],
];

test.each(cases)("a gap that is %s", (_, when, gap) => {
  const text = `${words}pattern "A" go with blade colorado when ${when}\n`;
  const found = check(text).findings.find(({ code }) => code === "gap")!;
  expect(found.where).toBe(gap);

  // A pattern with just these words speaks wherever the first one does not, and nowhere else.
  const [stub] = found.fixes!;
  const filled = applied({ "book.lore": text }, stub!.edits)["book.lore"]!;
  expect(filled).toContain(gap === "always" ? "\n  go with blade colorado\n" : `\n  go with blade colorado\n  when ${gap}\n`);
  const otherwise = filled.replace(/(pattern "Fills the gap in blade"\s+go with blade) colorado/, "$1 willow");
  for (const book of [filled, otherwise]) expect(codes(check(book).findings.filter(({ severity }) => severity === "error"))).toEqual([]);
});

test("a gap where a tested pick has one answer or another, and not where it has either of the two", () => {
  const text = `book "Fronts"
condition clarity: in order clear, stained, muddy
pick family: spinnerbait, worm
pattern "Either" go with family worm or spinnerbait
pattern "Clear" go with family spinnerbait when clarity is clear
pattern "Stained" go with family worm when clarity is stained
pick blade: willow, colorado
pattern "Asks" lean off blade willow when family is spinnerbait
`;
  expect(check(text).findings.find(({ code, pick }) => code === "gap" && pick === "blade")!.where).toBe(
    "(family is spinnerbait or family is worm)",
  );
});
