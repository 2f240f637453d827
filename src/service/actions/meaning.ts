/**
 * What a book means, as one text: two books with the same text answer the same at every point, whatever words they use for it.
 *
 *     wind is above 10 mph                      ┐
 *     choppy   (situation choppy: wind is …)    ├──▶  axis 7, positions 11 to 40
 *     wind is at least 11 mph                   ┘
 *
 * Places, labels, reasons and names of stretches are left out; tests are written as positions on the axes.
 */
import { Fraction } from "fraction.js";
import type { Model, Pattern, Test } from "../../model/model.js";

export function meaningOf(model: Model): string {
  const meaning = known.get(model) ?? tell(model);
  known.set(model, meaning);
  return meaning;
}
const known = new WeakMap<Model, string>();

function tell(model: Model): string {
  return JSON.stringify(
    {
      conditions: model.conditions.map(({ name, domain }) => [name, domain]),
      axes: model.axes.map(({ size, limits }) => [size, limits]),
      impossible: model.impossible.map(({ when }) => bare(when)),
      picks: model.picks.map((pick) => [
        pick.name,
        pick.judgement,
        pick.options.map(({ text }) => text),
        pick.ordered,
        bare(pick.onlyWhen),
        pick.sameAs,
        pick.fallBack?.places,
        pick.sayNothing.map(({ when, book, everything }) => [bare(when), book, everything]),
        pick.trust,
      ]),
      patterns: model.patterns.map((pattern) => meaningOfPattern(model, pattern)),
      cautions: model.cautions.map(({ title, when }) => [title, bare(when)]),
      promises: model.promises.map(({ title, pick, must, options, when }) => [title, pick, must, options, bare(when)]),
      held: model.held.map(({ picks, when }) => [picks, bare(when)]),
    },
    plain,
  );
}

export function meaningOfPattern(model: Model, { title, book, when, goes, leans, nevers, moves, beats }: Pattern): string {
  return JSON.stringify(
    [title, book, bare(when), goes, leans, nevers, moves, beats.map(({ pattern }) => model.patterns[pattern]?.title)],
    plain,
  );
}

/** A test without its places; `and` in `and` and `or` in `or` are one. */
function bare(test: Test | undefined): unknown {
  if (test === undefined) return null;
  switch (test.kind) {
    case "and":
    case "or": {
      const parts = flat(test);
      return parts.length === 1 ? bare(parts[0]) : [test.kind, ...parts.map(bare)];
    }
    case "not":
      return ["not", bare(test.part)];
    case "axis":
      return ["axis", test.axis, test.span];
    case "pick":
      return ["pick", test.pick, test.span];
    default:
      return [test.kind];
  }
}

function flat(test: Test & { readonly kind: "and" | "or" }): readonly Test[] {
  return test.parts.flatMap((part) => (part.kind === test.kind ? flat(part) : [part]));
}

function plain(_: string, value: unknown): unknown {
  if (value instanceof Fraction) return value.toFraction();
  return typeof value === "bigint" ? String(value) : value;
}
