/** The law of silence: no statement is left out of the model unless a finding says so, where it stands. */
import { describe, expect, test } from "vitest";
import type { Model } from "../../src/model/model.js";
import { parse } from "../../src/syntax/parse.js";
import type { Statement } from "../../src/syntax/tree.js";
import { expectMarked } from "../marks.js";
import { inWords, resolved } from "./books.js";

const book = `condition light: in order bright, dim, dark
  rising is darker, falling is brighter
condition temp: 33 to 95 °F, to the nearest 1 °F
  rising is warmer, falling is colder
condition depth: 0 to 40 ft
condition cover: any of weed, docks
condition day: days of the year
band temp: cold below 50 °F, warm-water
band day: winter from dec 1, summer from jun 1
group cover: soft is weed
group light: low is dim, dark
situation gloomy: light is dim or darker
pick lure: crab, eel
  only when light is darker than bright
pick head: 1/4 oz, 3/8 oz
judgement seen: same as light
trust light first, then temp
impossible when day is winter and temp is 60 °F or warmer because "x"
pattern "a" go with lure crab when seen is dim or darker
pattern "b" lean to lure eel when depth is above 10 ft
pattern "c" never head 3/8 oz or heavier when cover has weed or gloomy
pattern "d" move head up when day from apr 1 to may 31
fall back on lure eel
say nothing on lure, head when not light is bright because "x"
caution "e" when temp is colder than 60 °F say "y"
promise "f": lure must be crab or eel when light is low
`;

describe("one word taken for another", () => {
  const words = [...new Set(book.match(/"[^"]*"|[\p{L}\d°/-]+|[:,]/gu))];
  const places = [...book.matchAll(/"[^"]*"|[\p{L}\d°/-]+|[:,]/gu)];
  const lines = book.split("\n").filter((line) => line.length > 0);
  test.each(lines.map((line, i) => [line.trim(), i] as const))("in %s", (_, at) => {
    const start = lines.slice(0, at).reduce((sum, line) => sum + line.length + 1, 0);
    for (const place of places.filter(({ index }) => index >= start && index < start + lines[at]!.length)) {
      // Every word in every place would take minutes; every fortieth still puts several hundred wrong words.
      for (const word of [...words.filter((_, i) => (i + place.index) % 40 === 0), ""]) {
        const changed = book.slice(0, place.index) + word + book.slice(place.index + place[0].length);
        expectNothingSilent(changed);
      }
    }
  });
});

test("a comparing word with nothing to compare with is never passed over", () => {
  expectMarked(
    `
condition light: in order bright, dim, dark
  rising is darker, falling is brighter
condition temp: 33 to 95 °F
  rising is warmer, falling is colder
pick lure: crab, eel
  only when light is brighter
                     ^^^^^^^^ kind: brighter than what?
pick head: 1/4 oz, 3/8 oz
situation hot: temp is warmer
                       ^^^^^^ kind: warmer than what?
impossible when light is darker because "x"
                         ^^^^^^ kind: darker than what?
say nothing on lure when light is brighter because "x"
                                  ^^^^^^^^ kind: brighter than what?
promise "p": lure must be crab when light is darker
                                             ^^^^^^ kind: darker than what?
caution "c" when light is darker say "x"
                          ^^^^^^ kind: darker than what?
pattern "a" go with lure crab when light is darker
                                            ^^^^^^ kind: darker than what?
pattern "b" go with lure crab when temp is warmer
                                           ^^^^^^ kind: warmer than what?
pattern "c" go with lure crab when light is not darker
                                                ^^^^^^ kind: darker than what?
pattern "d" go with head heavier
                         ^^^^^^^ kind: heavier than what?
`,
    (text) => resolved(text).findings,
  );
});

test("a measure without bands cannot be copied, whether or not it has comparing words", () => {
  expectMarked(
    `
condition temp: 33 to 95 °F
  rising is warmer, falling is colder
judgement warmth: same as temp
                          ^^^^ kind: temp has no bands to copy
`,
    (text) => resolved(text).findings,
  );
});

/** Whatever is left out has an error in it, or speaks of something whose declaration has one. */
function expectNothingSilent(text: string): void {
  const { model, findings } = resolved(text);
  const { statements } = parse(text, "book.lore").tree;
  const errors = findings
    .filter(({ severity }) => severity === "error")
    .flatMap(({ range, related = [] }) => [range, ...related.map((one) => one.range)]);
  const wrong = (one: Statement): boolean => errors.some(({ start, end }) => start <= one.range.end && end >= one.range.start);
  const guilty = new Set(statements.filter(wrong).flatMap(namesIn));
  for (let size = -1; size !== guilty.size;) {
    size = guilty.size;
    for (const one of statements) if (!isKept(model, one) && mentions(text, one, guilty)) for (const name of namesIn(one)) guilty.add(name);
  }
  const silent = statements.filter((one) => !isKept(model, one) && !wrong(one) && !mentions(text, one, guilty));
  expect(
    silent.map(({ range }) => text.slice(range.start, range.end)),
    `${text}\n${findings.map(inWords).join("\n")}`,
  ).toEqual([]);
}

/** The names a statement declares. */
function namesIn(one: Statement): readonly string[] {
  const named = [
    ...("name" in one && one.name ? [one.name.text] : []),
    ...("condition" in one && one.condition ? [one.condition.text] : []),
    ...("comparing" in one && one.comparing ? [one.comparing.rising?.text ?? "", one.comparing.falling?.text ?? ""] : []),
  ];
  return one.kind === "band" ? [...named, ...one.parts.map(({ name }) => name.text)] : named;
}

function mentions(text: string, { range }: Statement, names: ReadonlySet<string>): boolean {
  return (text.slice(range.start, range.end).match(/[\p{L}\d-]+/gu) ?? []).some((word) => names.has(word));
}

function isKept(model: Model, one: Statement): boolean {
  const at = (places: readonly { readonly place: { readonly range: { readonly start: number } } }[]): boolean =>
    places.some(({ place }) => place.range.start === one.range.start);
  switch (one.kind) {
    case "condition":
      return at(model.conditions);
    case "band":
      return one.parts.length > 0 && one.parts.every(({ name }) => model.bands.some((band) => band.name === name.text));
    case "group":
      return model.groups.some(({ name }) => name === one.name?.text);
    case "situation":
      return at(model.situations);
    case "impossible":
      return at(model.impossible);
    case "pick":
    case "judgement":
      return model.picks.some(
        ({ place, onlyWhen }) => place.range.start === one.range.start && (onlyWhen !== undefined) === (one.onlyWhen !== undefined),
      );
    case "trust":
      return one.pick !== undefined || (one.order.length > 0 && model.picks.every(({ trust }) => trust.length === one.order.length));
    case "pattern":
      return at(model.patterns);
    case "fall back":
      return model.picks.some(({ fallBack }) => fallBack !== undefined && at([fallBack]));
    case "say nothing":
      return one.picks.length > 0 && one.picks.every(({ text }) => model.picks.some((pick) => pick.name === text && at(pick.sayNothing)));
    case "caution":
      return at(model.cautions);
    case "promise":
      return at(model.promises);
    default:
      return true;
  }
}
