/** Two letters of any word of the language changed about: one of the fixes gives the word back. */
import { expect, test } from "vitest";
import * as T from "../../grammar/tokens.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";

const book = `book "Pier"
  shop "Hollin Landing"
  water "Hollin Reservoir"
  edition "2027"
  good from 2027-01-01 to 2027-12-31
condition sky "Sky": bright, dark
  ask "How is the light?"
condition temp: 32 to 95 °F, to the nearest 1 °F
  rising is warmer, falling is colder
condition cover: any of grass, docks
condition date-of: days of the year
condition hour: times of the day
  filled from the clock
band temp: cold below 50 °F, fine
group cover: soft is grass, docks
situation gloom: sky is dark
pick lure "Lure": jig, worm
  only when sky is dark or sky is bright
pick weight: in order 1/8 oz, 1/4 oz
judgement mood: slow, fast
trust sky first, then temp
trust for lure: cover first
pattern "Sun"
  go with lure jig, then worm
  lean to weight 1/4 oz
  never lure worm
  move weight up 1
  when sky is bright and not (temp is warmer than 50 °F)
  because "So it is."
  beats "Gloom"
  see "A table"
pattern "Gloom"
  go with lure worm
  go with mood slow
  when gloom and (cover has grass or cover is empty)
fall back on lure jig
say nothing on weight when temp is colder than 40 °F
impossible when sky is dark and temp is warmer than 90 °F
promise "Sun means jigs": lure must not be worm when sky is bright
caution "Dark"
  say "Take a lamp."
  when sky is dark
`;

/** Words that stand in what the language says with more than one, too. */
const words = new Set(T.words.flatMap(({ phrase }) => phrase.split(" ")).filter((word) => /^[a-z]{3,}$/.test(word)));

test("the book is sound", () => expect(errorsIn(book)).toEqual([]));

test("each word of it", () => {
  const left: string[] = [];
  let tried = 0;
  for (const { 0: word, index } of book.matchAll(/(?<![\w"-])[a-z]{3,}(?![\w-])/g)) {
    const isQuoted = book.slice(0, index).split('"').length % 2 === 0;
    // `filled from` is a form of its own, and what comes after it then is no word.
    if (isQuoted || !words.has(word) || book.slice(0, index).endsWith("filled from ")) continue;
    for (let at = 0; at + 1 < word.length; at++) {
      if (word[at] === word[at + 1]) continue;
      const slip = word.slice(0, at) + word[at + 1]! + word[at]! + word.slice(at + 2);
      const text = book.slice(0, index) + slip + book.slice(index + word.length);
      const back = errorsIn(text)
        .flatMap(({ fixes = [] }) => fixes)
        .some(
          ({ edits }) =>
            edits.length === 1 && text.slice(0, edits[0]!.range.start) + edits[0]!.text + text.slice(edits[0]!.range.end) === book,
        );
      tried++;
      if (!back) left.push(`${slip} for ${word}, in line ${book.slice(0, index).split("\n").length}`);
    }
  }
  expect(left).toEqual([]);
  expect(tried).toBeGreaterThan(250);
});

function errorsIn(text: string) {
  const { findings } = resolve(parse(text, "pier.lore"), () => ({ problem: "" }), { on: "2027-04-15" });
  return findings.filter(({ severity }) => severity === "error");
}
