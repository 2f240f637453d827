/**
 * A value that lies between two steps of its measure: the steps on either side of it.
 *
 * Before (`range`):
 * ```lore
 * condition wind: 0 to 40 mph, to the nearest 1 mph
 * pick weight: 1/4 oz, 1/2 oz
 * pattern "Just the wind for it"
 *   go with weight 1/2 oz
 *   when wind is 10.4 mph
 * fall back on weight 1/4 oz
 * ```
 * After (Write 10 mph):
 * ```lore
 * condition wind: 0 to 40 mph, to the nearest 1 mph
 * pick weight: 1/4 oz, 1/2 oz
 * pattern "Just the wind for it"
 *   go with weight 1/2 oz
 *   when wind is 10 mph
 * fall back on weight 1/4 oz
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import { convert, printQuantity, readNumber, units } from "../../model/quantities.js";
import type { Mend } from "./candidate.js";
import { replace, statementsAt } from "./edits.js";
import { quantitiesOf } from "./quantities.js";

export const nearestStep: Mend = {
  codes: ["range"],
  *candidates(view, { range }) {
    for (const { quantity, subject } of statementsAt(view, range).flatMap(quantitiesOf)) {
      const domain = view.model.conditions.find(({ name }) => name === subject)?.domain;
      const written = readNumber(quantity.number)?.value;
      if (quantity.range.start !== range.start || !written || domain?.kind !== "measure" || !domain.step) continue;
      const unit = quantity.unit && units.get(quantity.unit.text);
      if (unit?.kind !== domain.unit?.kind) continue;
      const value = unit && domain.unit ? convert(written, unit, domain.unit) : written;
      const at = value.sub(domain.low).div(domain.step);
      const near = [at.floor(), at.ceil()]
        .map((rung) => domain.low.add(rung.mul(domain.step!)))
        .sort((a, b) => a.sub(value).abs().compare(b.sub(value).abs()));
      for (const one of near) {
        const text = printQuantity(one, domain.unit);
        yield { title: fixTitles.convert(text), edits: [replace(view, quantity.range, text)] };
      }
    }
  },
};
