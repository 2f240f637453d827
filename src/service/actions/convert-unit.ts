/**
 * A quantity of a test in another unit: exactly where that is short, else rounded where the rounded value still tells the same steps
 * apart.
 *
 * Before (the selection in ‹ ›):
 * ```lore
 * condition water-temp: 33 to 95 °F, to the nearest 1 °F
 *   rising is warmer, falling is colder
 * pick speed: slow, fast
 * pattern "Cold fish do not chase"
 *   go with speed slow
 *   when water-temp is colder than ‹›60 °F
 * fall back on speed fast
 * ```
 * After (Write 15.5 °C):
 * ```lore
 * condition water-temp: 33 to 95 °F, to the nearest 1 °F
 *   rising is warmer, falling is colder
 * pick speed: slow, fast
 * pattern "Cold fish do not chase"
 *   go with speed slow
 *   when water-temp is colder than 15.5 °C
 * fall back on speed fast
 * ```
 */
import type { Fraction } from "fraction.js";
import { fixTitles } from "../../messages/fixes.js";
import { convert, convertDifference, printQuantity, readNumber, units, unitsOf, type Unit } from "../../model/quantities.js";
import type { Rewrite } from "./candidate.js";
import { replace, statementsAt } from "./edits.js";
import { quantitiesOf } from "./quantities.js";
import { holds } from "./written-tests.js";

export const convertUnit: Rewrite = {
  kind: "refactor.rewrite",
  *candidates(view, selection) {
    for (const { quantity, subject } of statementsAt(view, selection).flatMap(quantitiesOf)) {
      const unit = quantity.unit && units.get(quantity.unit.text);
      const value = readNumber(quantity.number)?.value;
      if (!holds(quantity, selection) || !unit || !value) continue;
      const domain = view.model.conditions.find(({ name }) => name === subject)?.domain;
      const step = domain?.kind === "measure" && domain.unit ? domain.step && { size: domain.step, unit: domain.unit } : undefined;
      // The condition's own unit first.
      const own = domain?.kind === "measure" && domain.unit ? [domain.unit.symbol] : [];
      for (const symbol of new Set([...own, ...unitsOf(unit.kind)]))
        if (symbol !== unit.symbol)
          for (const text of wordings(value, unit, units.get(symbol)!, step))
            yield { title: fixTitles.convert(text), edits: [replace(view, quantity.range, text)] };
    }
  },
};

/** The exact value if it reads well; else, where the measure has steps, values with few digits next to it. */
function wordings(
  value: Fraction,
  from: Unit,
  to: Unit,
  step: { readonly size: Fraction; readonly unit: Unit } | undefined,
): readonly string[] {
  const exact = convert(value, from, to);
  const text = printQuantity(exact, to);
  if (to.fractions ? exact.d <= 16n : 1000n % exact.d === 0n) return [text];
  if (!step) return [];
  const size = convertDifference(step.size, step.unit, to);
  const near = [1, 10]
    .flatMap((parts) => [exact.mul(parts).floor().div(parts), exact.mul(parts).ceil().div(parts)])
    .filter((one) => one.sub(exact).abs().lt(size));
  // Nearest first: the first that means the same is enough.
  return [...new Set(near.sort((a, b) => a.sub(exact).abs().compare(b.sub(exact).abs())).map((one) => printQuantity(one, to)))];
}
