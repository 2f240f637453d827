/**
 * A number in a unit that does not measure the condition gets one that does: the condition's own unit first.
 *
 * Before (`unit`):
 * ```lore
 * condition temp: 33 to 90 °F
 * pick blade: colorado, willow
 * pattern "Warm wants flash"
 *   go with blade willow
 *   when temp is above 60 ft
 * fall back on blade colorado
 * ```
 * After (Write 60 °F):
 * ```lore
 * condition temp: 33 to 90 °F
 * pick blade: colorado, willow
 * pattern "Warm wants flash"
 *   go with blade willow
 *   when temp is above 60 °F
 * fall back on blade colorado
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import { unitsOf } from "../../model/quantities.js";
import type { Mend } from "./candidate.js";
import { replace, statementsAt } from "./edits.js";
import { quantitiesOf } from "./quantities.js";
import { holds } from "./written-tests.js";

export const ownUnit: Mend = {
  codes: ["unit"],
  *candidates(view, { range, fixes = [] }) {
    if (fixes.length > 0) return;
    for (const { quantity, subject } of statementsAt(view, range).flatMap(quantitiesOf)) {
      const domain = view.model.conditions.find(({ name }) => name === subject)?.domain;
      if (!holds(quantity, range) || domain?.kind !== "measure" || !domain.unit) continue;
      for (const symbol of new Set([domain.unit.symbol, ...unitsOf(domain.unit.kind)])) {
        const text = `${quantity.number} ${symbol}`;
        yield { title: fixTitles.convert(text), edits: [replace(view, quantity.range, text)] };
      }
    }
  },
  enough: 2,
};
