/**
 * A stretch of a measure, of the days or of the hours gets a name as a band, and the name stands wherever the stretch was asked for;
 * where there is such a band already, its name is written.
 *
 * Before (the selection in ‹ ›):
 * ```lore
 * condition water-temp: 33 to 95 °F, to the nearest 1 °F
 *   rising is warmer, falling is colder
 * pick speed: slow, fast
 * pattern "Cold fish do not chase"
 *   go with speed slow
 *   when water-temp is ‹colder› than 60 °F
 * pattern "Warm fish do"
 *   go with speed fast
 *   when water-temp is 60 °F or warmer
 * ```
 * After (Make it a band of water-temp, below-60-f):
 * ```lore
 * condition water-temp: 33 to 95 °F, to the nearest 1 °F
 *   rising is warmer, falling is colder
 * band water-temp: below-60-f below 60 °F, from-60-f
 * pick speed: slow, fast
 * pattern "Cold fish do not chase"
 *   go with speed slow
 *   when water-temp is below-60-f
 * pattern "Warm fish do"
 *   go with speed fast
 *   when water-temp is from-60-f
 * ```
 */
import { formOfName, fixTitles } from "../../messages/fixes.js";
import type { Axis, Condition, Model } from "../../model/model.js";
import { sayPosition } from "../../model/points.js";
import { complement, same, type Span } from "../../model/span.js";
import type { Test } from "../../syntax/tree.js";
import type { Rewrite } from "./candidate.js";
import { replace, statementsAt } from "./edits.js";
import { addDeclaration, freshName } from "./new-names.js";
import { boundTests, holds, nodesIn, placeKey, testsOf } from "./written-tests.js";

export const extractBand: Rewrite = {
  kind: "refactor.extract",
  *candidates(view, selection) {
    const { model } = view;
    const bound = boundTests(view);
    const spanOf = (test: Test): Span | undefined => {
      const own = bound.get(placeKey(test.range));
      return own?.kind === "axis" ? own.span : undefined;
    };
    for (const test of statementsAt(view, selection)
      .flatMap(testsOf)
      .flatMap((one) => [...nodesIn(one)])) {
      if (test.kind !== "compare" || !holds(test, selection)) continue;
      const condition = model.conditions.find(({ name }) => name === test.subject.text);
      const span = spanOf(test);
      if (!condition || !span || !["measure", "days", "times"].includes(condition.domain.kind)) continue;
      const known = model.bands.filter((band) => band.condition === condition.index);
      const itself = known.find((band) => same(band.span, span));
      if (itself && test.relation?.kind !== "is")
        yield { title: fixTitles.useBand(itself.name), edits: [replace(view, test.range, `${condition.name} is ${itself.name}`)] };
      if (known.length > 0) continue;
      const bands = bandsAround(model, condition, span);
      if (!bands) continue;
      const named = bands.map((band) => ({ ...band, name: freshName(view, band.name) }));
      const mine = named.find((band) => same(band.span, span))!;
      const uses = view.parsed.tree.statements
        .filter((one) => !view.parsed.broken.has(one))
        .flatMap(testsOf)
        .flatMap((one) => [...nodesIn(one)])
        .flatMap((one) => {
          const asked = one.kind === "compare" && one.subject.text === condition.name ? spanOf(one) : undefined;
          const band = asked && named.find((other) => same(other.span, asked));
          return band ? [replace(view, one.range, `${condition.name} is ${band.name}`)] : [];
        });
      const list = named.map(({ name, limit }) => `${name}${limit}`).join(", ");
      yield {
        title: fixTitles.band(mine.name, condition.name),
        edits: [addDeclaration(view, `band ${condition.name}: ${list}`, condition.name), ...uses],
        name: mine.name,
      };
    }
  },
};

interface NewBand {
  readonly name: string;
  /** What stands behind its name: ` below 60 °F`, ` from apr 15`. */
  readonly limit: string;
  readonly span: Span;
}

/** Bands of which one is the span; undefined where the language cannot cut there. */
function bandsAround(model: Model, { axes }: Condition, span: Span): readonly NewBand[] | undefined {
  const axis = model.axes[axes[0]!]!;
  const value = (position: number): string => sayPosition(model, axis.index, position);
  if (axis.cyclic) {
    const run = runRoundThe(axis, span);
    if (!run || run[0] === (run[1] + 1) % axis.size) return undefined;
    const after = (run[1] + 1) % axis.size;
    const band = (from: number, to: number, own: Span): NewBand => ({
      name: formOfName(`from ${value(from)} to ${value(to)}`),
      limit: ` from ${value(from)}`,
      span: own,
    });
    return [band(run[0], run[1], span), band(after, (run[0] - 1 + axis.size) % axis.size, complement(span, axis.size))];
  }
  const [from, to] = span;
  if (span.length !== 2 || from === undefined || to === undefined) return undefined;
  const cuts = [...(from > 0 ? [from] : []), ...(to < axis.size - 1 ? [to + 1] : [])];
  // A band begins at its limit: of a continuous measure never just behind a value.
  if (cuts.length === 0 || (axis.limits && cuts.some((cut) => cut % 2 === 1))) return undefined;
  return [...cuts, axis.size].map((end, i) => {
    const start = cuts[i - 1];
    const words =
      start === undefined ? `below ${value(end)}` : end < axis.size ? `from ${value(start)} to ${value(end)}` : `from ${value(start)}`;
    return { name: formOfName(words), limit: end < axis.size ? ` below ${value(end)}` : "", span: [start ?? 0, end - 1] };
  });
}

/** The one run of a span on a cycle, which may go over the end. */
function runRoundThe({ size }: Axis, span: Span): readonly [number, number] | undefined {
  if (span.length === 2) return [span[0]!, span[1]!];
  return span.length === 4 && span[0] === 0 && span[3] === size - 1 ? [span[2]!, span[1]!] : undefined;
}
