/** What two books say in other words, or say to people only: reasons, sources, questions, cautions, promises. None of it is an answer. */
import type { Model, Pattern, Pick } from "../model/model.js";
import { commonPlaces, pairOf, type Change, type Side, type Statements } from "./statements.js";

export interface WordChange {
  readonly what:
    | "title"
    | "shop"
    | "water"
    | "edition"
    | "good"
    | "label"
    | "question"
    | "reason"
    | "source"
    | "checked"
    | "until"
    | "caution"
    | "promise";
  readonly change: Change;
  /** Of what: a condition, pick, caution or promise by its name; a reason is of a statement. None: of the book. */
  readonly of?: string;
  /** Of which statement a reason, source or date is. */
  readonly statement?: "pattern" | "fall back" | "say nothing" | "impossible";
}

/** `old` and `now` as they were written, and both on one space. */
export function wordChanges(
  old: Model,
  now: Model,
  { before, after }: Readonly<Record<Side, Model>>,
  statements: Statements,
): readonly WordChange[] {
  return [
    ...ofBook(old, now),
    ...ofNames(old, now),
    ...ofPatterns(before, after),
    ...ofAdvice(before, after),
    ...ofCautions(before, after, statements),
    ...ofPromises(before, after, statements),
  ];
}

/** Nothing if they are the same; else what became of it. */
function changed<T>(
  what: WordChange["what"],
  a: T | undefined,
  b: T | undefined,
  rest: Omit<WordChange, "what" | "change"> = {},
): readonly WordChange[] {
  const [was, now] = [a, b].map((value) => (Array.isArray(value) && value.length === 0 ? undefined : value));
  if (JSON.stringify(was) === JSON.stringify(now)) return [];
  return [{ what, change: was === undefined ? "added" : now === undefined ? "removed" : "changed", ...rest }];
}

function ofBook(before: Model, after: Model): readonly WordChange[] {
  const [was, now] = [before.books.at(-1)!, after.books.at(-1)!];
  const dates = ({ goodFrom, goodTo }: typeof was): readonly (string | undefined)[] => ((goodFrom ?? goodTo) ? [goodFrom, goodTo] : []);
  return [
    ...changed("title", was.title, now.title),
    ...changed("shop", was.shop, now.shop),
    ...changed("water", was.water, now.water),
    ...changed("edition", was.edition, now.edition),
    ...changed("good", dates(was), dates(now)),
  ];
}

function ofNames(before: Model, after: Model): readonly WordChange[] {
  type Named = { readonly name: string; readonly label: string; readonly ask?: string };
  // Conditions and picks of one side alone are reported as such.
  return (
    [
      [before.conditions, after.conditions],
      [before.picks, after.picks],
    ] as const
  ).flatMap(([was, now]) =>
    pairs<Named>(was, now, ({ name }) => name).flatMap(([a, b]) =>
      a && b ? [...changed("label", a.label, b.label, { of: b.name }), ...changed("question", a.ask, b.ask, { of: b.name })] : [],
    ),
  );
}

function ofPatterns(before: Model, after: Model): readonly WordChange[] {
  return pairs(before.patterns, after.patterns, ({ title }: Pattern) => title).flatMap(([a, b]) => {
    if (!a || !b) return [];
    const rest = { of: b.title, statement: "pattern" as const };
    return [
      ...changed("reason", a.because, b.because, rest),
      ...changed("source", a.see, b.see, rest),
      ...changed("checked", a.checked, b.checked, rest),
      ...changed("until", a.until, b.until, rest),
    ];
  });
}

function ofAdvice(before: Model, after: Model): readonly WordChange[] {
  const picks = pairs(before.picks, after.picks, ({ name }: Pick) => name).flatMap(([a, b]) => {
    if (!a || !b) return [];
    const silences = ({ sayNothing }: Pick): readonly string[] => sayNothing.flatMap(({ because }) => because ?? []).sort();
    return [
      ...(a.fallBack && b.fallBack
        ? changed("reason", a.fallBack.because, b.fallBack.because, { of: b.name, statement: "fall back" })
        : []),
      ...(a.sayNothing.length > 0 && b.sayNothing.length > 0
        ? changed("reason", silences(a), silences(b), { of: b.name, statement: "say nothing" })
        : []),
    ];
  });
  const becauses = ({ impossible }: Model): readonly string[] => impossible.flatMap(({ because }) => because ?? []).sort();
  return [...picks, ...changed("reason", becauses(before), becauses(after), { statement: "impossible" })];
}

function ofCautions(before: Model, after: Model, { sameTest }: Statements): readonly WordChange[] {
  return pairs(before.cautions, after.cautions, ({ title }) => title).flatMap(([a, b]): readonly WordChange[] => {
    const of = (a ?? b)!.title;
    if (!a || !b) return [{ what: "caution", change: a ? "removed" : "added", of }];
    return a.say === b.say && String(a.see) === String(b.see) && sameTest(a.when, b.when)
      ? []
      : [{ what: "caution", change: "changed", of }];
  });
}

function ofPromises(before: Model, after: Model, { picks, sameTest }: Statements): readonly WordChange[] {
  return pairs(before.promises, after.promises, ({ title }) => title).flatMap(([a, b]): readonly WordChange[] => {
    const of = (a ?? b)!.title;
    if (!a || !b) return [{ what: "promise", change: a ? "removed" : "added", of }];
    const key = ({ pick, must, options }: typeof a, side: Side): string => {
      const pair = pairOf(picks, side, pick);
      return JSON.stringify([pair.name, must, commonPlaces([options], side === "before" ? pair.ofBefore : pair.ofAfter)]);
    };
    return key(a, "before") === key(b, "after") && sameTest(a.when, b.when) ? [] : [{ what: "promise", change: "changed", of }];
  });
}

/** By key, in the newer order, those that are gone at the end. */
function pairs<T>(was: readonly T[], now: readonly T[], keyOf: (one: T) => string): readonly (readonly [T | undefined, T | undefined])[] {
  const [old, own] = [new Map(was.map((one) => [keyOf(one), one])), new Set(now.map(keyOf))];
  return [
    ...now.map((one) => [old.get(keyOf(one)), one] as const),
    ...was.filter((one) => !own.has(keyOf(one))).map((one) => [one, undefined] as const),
  ];
}
