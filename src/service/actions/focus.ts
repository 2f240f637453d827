/**
 * A model that is about a few picks only: what they test stays, everything else is struck dumb. Its analysis is that much quicker, and
 * says the same about those picks.
 */
import { picksIn } from "../../model/atoms.js";
import type { Model, Pick } from "../../model/model.js";

export function focused(model: Model, wanted: ReadonlySet<number>): Model {
  const promises = model.promises.filter(({ pick }) => wanted.has(pick));
  const kept = new Set<number>();
  const keep = (pick: number): void => {
    if (kept.has(pick)) return;
    kept.add(pick);
    model.picks[pick]?.tests.forEach(keep);
  };
  for (const pick of wanted) keep(pick);
  for (const { when } of promises) for (const pick of picksIn(when)) keep(pick);
  const of = <T extends { readonly pick: number }>(parts: readonly T[]): readonly T[] => parts.filter(({ pick }) => kept.has(pick));
  return {
    ...model,
    picks: model.picks.map((pick) => (kept.has(pick.index) ? pick : dumb(pick))),
    patterns: model.patterns.map((pattern) => {
      const said = { goes: of(pattern.goes), leans: of(pattern.leans), nevers: of(pattern.nevers), moves: of(pattern.moves) };
      const dumb = Object.values(said).every((parts) => parts.length === 0);
      return { ...pattern, ...said, ...(dumb && { when: { kind: "never", range: pattern.place.range } }) };
    }),
    promises,
    held: model.held.map((held) => ({ ...held, picks: held.picks.filter((pick) => kept.has(pick)) })),
  };
}

function dumb({ onlyWhen: _only, sameAs: _same, fallBack: _fall, ...pick }: Pick): Pick {
  return {
    ...pick,
    sayNothing: [],
    trust: [],
    tests: [],
    options: pick.options.slice(0, 1),
    fallBack: { places: [[0]], book: pick.book, place: pick.place },
  };
}
