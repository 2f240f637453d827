/** Random books of plain patterns alone: a few limits joined by `and`, one list or a lean. What most rules of thumb are, and what has short cuts of its own. */
import * as fc from "fast-check";
import type { Books } from "./books.js";

const die = fc.nat(997);
const limits = fc.array(fc.record({ condition: die, form: die, at: die }), { maxLength: 4 });
const plans = fc.record({
  patterns: fc.array(fc.record({ when: limits, options: fc.array(die, { minLength: 1, maxLength: 3 }), second: die, asks: die }), {
    minLength: 1,
    maxLength: 7,
  }),
  fallBack: die,
  impossible: limits,
  trust: die,
});

const conditions = `condition depth: 0 to 9 ft
condition wind: 0 to 6 mph
condition clarity: in order clear, stained, muddy
`;
const options = ["willow", "colorado", "indiana"];

export function plainBooks(): fc.Arbitrary<Books> {
  return fc.noBias(plans).map((plan) => {
    const limit = ({ condition, form, at }: { condition: number; form: number; at: number }): string => {
      const [name, low, unit] = (
        [
          ["depth", 2, "ft"],
          ["wind", 3, "mph"],
          ["clarity", 0, ""],
        ] as const
      )[condition % 3]!;
      if (name === "clarity") return `clarity is ${["clear", "stained", "muddy", "clear or stained"][form % 4]!}`;
      const value = low + (at % 3);
      return `${name} is ${[`below ${value} ${unit}`, `at least ${value} ${unit}`, `above ${value} ${unit}`, `at most ${value} ${unit}`][form % 4]!}`;
    };
    const when = (parts: readonly string[]): string => (parts.length > 0 ? `  when ${[...new Set(parts)].join(" and ")}\n` : "");
    const text =
      `book "Plain"\n${conditions}pick blade: ${options.join(", ")}\npick weight: 1/4 oz, 1/2 oz\n` +
      (plan.trust % 3 === 0 ? "trust clarity first, then wind\n" : "") +
      (plan.impossible.length > 2 ? `impossible when ${[...new Set(plan.impossible.map(limit))].join(" and ")}\n` : "") +
      plan.patterns
        .map((pattern, n) => {
          const onBlade = pattern.second % 5 > 0;
          const goes =
            pattern.second % 5 === 1
              ? `  lean to blade ${options[pattern.options[0]! % 3]!}`
              : `  go with ${onBlade ? `blade ${[...new Set(pattern.options.map((option) => options[option % 3]!))].join(pattern.asks % 2 === 0 ? " then " : " or ")}` : `weight ${["1/4 oz", "1/2 oz"][pattern.options[0]! % 2]!}`}`;
          const asked = !onBlade && pattern.asks % 3 === 0 ? [`blade is ${options[pattern.asks % 2]!}`] : [];
          return `pattern "Rule ${n}"\n${goes}\n${when([...pattern.when.map(limit), ...asked])}`;
        })
        .join("") +
      (plan.fallBack % 2 === 0 ? "fall back on blade willow\n" : "");
    return { root: "book.lore", texts: { "book.lore": text }, [fc.toStringMethod]: () => text };
  });
}
