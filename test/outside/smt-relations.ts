/**
 * *Narrower* and trust, judged by the solver before the book is written down: from the `when`s alone.
 *
 *     a narrower than b      nothing has a without b, and something has b without a
 *     x can change a         something has a with one value of x, and not with another, all else alike: x stands there twice
 */
import type { Model, Pattern, Pick } from "../../src/model/model.js";
import type * as tree from "../../src/syntax/tree.js";
import type { Ground } from "./smt-ground.js";
import { and, no, not, or, yes, type Term } from "./smt-terms.js";
import { scriptOf, truthOf, whenOf, type Reader } from "./smt-tests.js";
import type { Question, Solver } from "./z3.js";

/** Judged from the `when`s alone. */
export interface Relations {
  narrower(a: Pattern, b: Pattern): boolean;
  ranks(pattern: Pattern, pick: Pick): readonly number[];
}

/** "over every combination of the values they mention, possible or not, a tested pick standing for any of its options" */
export function relationsOf(model: Model, ground: Ground, solver: Solver): Relations {
  const declared = (copy: string): string =>
    [
      ...[...ground.conditions.values()].map((condition) => condition.declared(copy)),
      ...model.picks.map(
        ({ index, options }) =>
          `(declare-const q${index}${copy} Int)\n(assert (and (>= q${index}${copy} 0) (< q${index}${copy} ${options.length})))`,
      ),
    ].join("\n");
  const anyOption =
    (copy: (pick: number) => string): Reader["pick"] =>
    (pick, options) => {
      const holds = or(...options.map((option) => `(= q${pick}${copy(pick)} ${option})`));
      return { holds, fails: not(holds), waits: no };
    };
  const going = model.patterns.filter(({ goes }) => goes.length > 0);
  const whens = new Map(going.map((pattern) => [pattern, whenOf(model, pattern)]));
  const termOf = (when: tree.Test | undefined, reader: Partial<Reader> = {}): Term =>
    when === undefined ? yes : truthOf(when, { model, ground, pick: anyOption(() => ""), ...reader }).holds;
  const shown = scriptOf("");
  const terms = new Map(going.map((pattern) => [pattern, shown.show(`when${pattern.index}`, termOf(whens.get(pattern)))]));
  const rivals = going.flatMap((a) =>
    going.filter((b) => a !== b && a.goes.some(({ pick }) => b.goes.some((go) => go.pick === pick))).map((b) => [a, b] as const),
  );
  const reaching = rivals.map(([a, b]): Question => ({
    that: and(terms.get(a)!, not(terms.get(b)!)),
    holdsAt: (values) => values.get(terms.get(a)!) === true && values.get(terms.get(b)!) === false,
  }));

  const subjects = [
    ...new Map(model.picks.flatMap((pick) => pick.trust.map((subject) => [`${subject.kind} ${subject.index}`, subject] as const))).values(),
  ];
  const changes = going.flatMap((pattern) => subjects.map((subject) => [pattern, subject] as const));
  const changing = changes.map(([pattern, { kind, index }]): Question => {
    // The same `when`, spoken of another value of that one subject.
    const other = termOf(whens.get(pattern), {
      pick: anyOption((pick) => (kind === "pick" && pick === index ? "b" : "")),
      copyOf: (condition) => (kind === "condition" && condition === model.conditions[index]!.name ? "b" : ""),
    });
    return { that: other === termOf(whens.get(pattern)) ? no : and(terms.get(pattern)!, not(other)) };
  });

  const replies = solver.ask([declared(""), declared("b"), ...shown.lines].join("\n"), [...reaching, ...changing]);
  const beyond = new Map(rivals.map(([a, b], i) => [`${a.index} ${b.index}`, replies[i] !== "cannot hold"]));
  const changeable = new Map(
    changes.map(([pattern, { kind, index }], i) => [`${pattern.index} ${kind} ${index}`, replies[rivals.length + i] !== "cannot hold"]),
  );
  return {
    narrower: (a, b) => !beyond.get(`${a.index} ${b.index}`)! && beyond.get(`${b.index} ${a.index}`)!,
    ranks: (pattern, pick) =>
      pick.trust.flatMap((subject, rank) => (changeable.get(`${pattern.index} ${subject.kind} ${subject.index}`) ? [rank] : [])),
  };
}
