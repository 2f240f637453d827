/**
 * What a pick's answers depend on, as one number: equal numbers, equal answers, findings and words, wherever in the text they stand.
 *
 *     rules, gate, silences, trust ─┐
 *     conditions they test, bands  ─┼──text──▶ number        a pick that tests another holds that one's number
 *     picks they test, impossible  ─┘
 *
 * Places in the text are left out on purpose, and so is everything that the pick does not mention: an edit elsewhere leaves its number alone.
 */
import type { Model, Pick, Test } from "../model/model.js";
import { spanKey } from "../model/span.js";
import { speaksOn } from "./rules.js";

export interface Prints {
  /** Of each pick. */
  readonly picks: readonly number[];
  /** Of where broken patterns might have spoken on a pick: its answers do not depend on that, and few questions do. */
  held(pick: number): number;
  /** Of which points are possible. */
  readonly possible: number;
  /** Of a test, with the conditions and picks in it. */
  test(test: Test | undefined): number;
}

/** `number`: the same text, the same number. */
export function printsOf(model: Model, number: (text: string) => number): Prints {
  const conditions = new Map<number, string>();
  const conditionOf = (index: number): string => {
    let print = conditions.get(index);
    if (print === undefined) {
      const { name, domain, axes, rising, falling } = model.conditions[index]!;
      const named = [
        ...model.bands.map((band) => [band.condition, band.name, band.span] as const),
        ...model.groups.map((group) => [group.condition, group.name, group.members] as const),
      ];
      print = JSON.stringify(
        [
          index,
          name,
          domain,
          rising,
          falling,
          axes,
          named.filter(([condition]) => condition === index),
          axes.map((axis) => [
            model.axes[axis]!.size,
            model.axes[axis]!.limits?.map((limit) => limit.toFraction()),
            model.axes[axis]!.precision?.map((unit) => unit.toFraction()),
          ]),
        ],
        (_, value: unknown) => (typeof value === "bigint" ? value.toString() : value),
      );
      conditions.set(index, print);
    }
    return print;
  };
  const picks: number[] = [];
  /** Tests as text, with what they mention. */
  const reader = () => {
    const mentioned = new Set<number>();
    const testText = (test: Test | undefined): string => {
      if (!test) return "";
      switch (test.kind) {
        case "always":
        case "never":
          return test.kind;
        case "axis":
          mentioned.add(model.axes[test.axis]!.condition);
          return `${test.axis}@${spanKey(test.span)}`;
        case "pick":
          return `p${test.pick}#${picks[test.pick]}@${spanKey(test.span)}`;
        case "not":
          return `not(${testText(test.part)})`;
        case "and":
        case "or":
          return `${test.kind}(${test.parts.map(testText).join(";")})`;
      }
    };
    return { mentioned, testText };
  };
  const closed = (parts: readonly unknown[], mentioned: ReadonlySet<number>): number =>
    number(
      `${JSON.stringify(parts)}${[...mentioned]
        .sort((a, b) => a - b)
        .map(conditionOf)
        .join("\n")}`,
    );
  const possible = (() => {
    const { mentioned, testText } = reader();
    return closed([model.impossible.map(({ when }) => testText(when)), model.domain.map(testText)], mentioned);
  })();
  const frame = [model.axes.length, model.books.map((_, a) => model.books.map((_, b) => model.moreLocal(a, b))), possible];
  for (const pick of model.picks) picks.push(printOf(pick));

  function printOf(pick: Pick): number {
    const { mentioned, testText } = reader();
    if (pick.sameAs) mentioned.add(pick.sameAs.condition);
    const speaking = model.patterns.filter((pattern) => speaksOn(pattern, pick.index));
    const place = new Map(speaking.map(({ index }, at) => [index, at]));
    const of = <P extends { readonly pick: number }>(parts: readonly P[]): readonly P[] => parts.filter((part) => part.pick === pick.index);
    return closed(
      [
        frame,
        pick.index,
        pick.name,
        pick.book,
        pick.judgement,
        pick.options.map(({ text, size }) => [text, size?.toFraction()]),
        pick.ordered,
        pick.rising,
        pick.falling,
        testText(pick.onlyWhen),
        pick.sameAs,
        pick.fallBack && [pick.fallBack.places, pick.fallBack.book],
        pick.trust,
        pick.tests,
        pick.sayNothing.map(({ when, book, everything }) => [testText(when), book, everything]),
        speaking.map((pattern) => [
          pattern.title,
          pattern.book,
          testText(pattern.when),
          of(pattern.goes),
          of(pattern.leans).map(({ option, by }) => [option, by.toFraction()]),
          of(pattern.nevers),
          of(pattern.moves),
          pattern.beats.map((beaten) => place.get(beaten.pattern)),
        ]),
      ],
      mentioned,
    );
  }

  return {
    picks,
    possible,
    held(pick) {
      const { mentioned, testText } = reader();
      return closed(
        model.held.filter((held) => held.picks.includes(pick)).map(({ when }) => [when === undefined, testText(when)]),
        mentioned,
      );
    },
    test(test) {
      const { mentioned, testText } = reader();
      return closed([possible, testText(test)], mentioned);
    },
  };
}
