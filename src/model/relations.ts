/**
 * What a test says of its subject, as stretches of the subject's rungs (see `bound.ts`).
 *
 *     is dirty or muddy      [2, 2] [3, 3]           is colder than 50 °F    [33, 50)
 *     is dirty or dirtier    [2, 3]                  is cool or warmer       [50, 95]     (cool is [50, 70))
 *     from nov 15 to feb 15  [319, 45], round        is above cool           [70, 95]
 *
 * Here every test is held against the kind of its subject: what needs an order, comparing words, or a set is refused with the words
 * that would do.
 */
import { Fraction } from "fraction.js";
import type { Finding } from "../diagnostics.js";
import * as say from "../messages/model.js";
import type * as tree from "../syntax/tree.js";
import type { Range } from "../text.js";
import type { Bound, Stretch } from "./bound.js";
import { mentions, wordThing } from "./naming.js";
import { report, replacing, spelling, textOf, type Reading, type Subject } from "./scope.js";
import { bindSetRelation } from "./sets.js";
import { nearest } from "../suggest.js";
import { describe, isContinuous, isCyclic, isRung, neighbours, placeValue, printRung, rungEnds, type Placed } from "./values.js";

export type LimitSide = "above" | "at least" | "at most" | "below";

export function bindRelation(reading: Reading, subject: Subject, name: tree.Name, relation: tree.Relation, range: Range): Bound {
  const { findings, toldAnew } = reading.scope;
  const count = findings.length;
  const bound = bindSaid(reading, subject, name, relation, range);
  const sign = signIn(reading, { start: name.range.end, end: relation.range.end });
  if (sign !== undefined && findings.slice(count).some((finding) => finding.range.start === name.range.end)) toldAnew.add(sign);
  return bound;
}

function bindSaid(reading: Reading, subject: Subject, name: tree.Name, relation: tree.Relation, range: Range): Bound {
  const unread: Bound = { kind: "unread", range };
  if (subject.values.kind === "set") return bindSetRelation(reading, subject, name, relation, range);
  const about = { start: name.range.end, end: relation.range.end };
  const leaf = (stretches: readonly Stretch[] | undefined): Bound =>
    stretches === undefined
      ? unread
      : subject.kind === "condition"
        ? { kind: "condition", condition: subject.index, stretches, range }
        : { kind: "pick", pick: subject.index, stretches, range };
  switch (relation.kind) {
    case "is": {
      const test = leaf(values(reading, subject, relation));
      return relation.form === "is" || test.kind === "unread" ? test : { kind: "not", part: test, range };
    }
    case "than": {
      const side = wordSide(reading, subject, relation.word, "than");
      return side === undefined || relation.value === undefined ? unread : leaf(comparison(reading, subject, side, relation.value));
    }
    case "limit":
      if (relation.value === undefined || !mayLimit(reading, subject, relation.limit, relation.value, about)) return unread;
      return leaf(comparison(reading, subject, relation.limit, relation.value));
    case "between":
      return relation.from === undefined || relation.to === undefined
        ? unread
        : leaf(between(reading, subject, relation.from, relation.to));
    case "has":
    case "is empty":
    case "is not empty":
      report(reading, about, say.setTestOnOther(subject.name, describe(subject)), { fixes: asIs(reading, relation, about) });
      return unread;
  }
}

/** All values on one side of another: `or heavier`, `is colder than …`, `is at least …`. Undefined after a report. */
export function comparison(reading: Reading, subject: Subject, side: LimitSide, value: tree.Value): readonly Stretch[] | undefined {
  const placed = placeValue(reading, subject, value);
  if (placed === undefined || !hasOrder(reading, subject, value.range)) return undefined;
  const stretch = single(reading, subject, placed, value);
  if (stretch === undefined) return undefined;
  if (stretch.from.gt(stretch.to)) {
    report(reading, value.range, say.comparedRoundTheYear(subject.name, textOf(reading, value)));
    return undefined;
  }
  const { bottom, top } = rungEnds(subject.values);
  if ((side === "above" || side === "at least") && stretch.from.gt(top)) return outside(reading, subject, value);
  if ((side === "below" || side === "at most") && stretch.to.lt(bottom)) return outside(reading, subject, value);
  switch (side) {
    case "above":
      return clipped(subject, { from: stretch.to, fromIn: !stretch.toIn, to: top, toIn: true });
    case "at least":
      return clipped(subject, { from: stretch.from, fromIn: stretch.fromIn, to: top, toIn: true });
    case "below":
      return clipped(subject, { from: bottom, fromIn: true, to: stretch.from, toIn: !stretch.fromIn });
    case "at most":
      return clipped(subject, { from: bottom, fromIn: true, to: stretch.to, toIn: stretch.toIn });
  }
}

/** Which way a comparing word points; undefined after a report. */
export function wordSide(reading: Reading, subject: Subject, word: tree.Name, use: "than" | "or"): LimitSide | undefined {
  const { words } = subject;
  if (words !== undefined && (words.rising === word.text || words.falling === word.text)) {
    if (!words.unasked) mentions(reading, word, wordThing(subject, word.text));
    return words.rising === word.text ? (use === "than" ? "above" : "at least") : use === "than" ? "below" : "at most";
  }
  if (subject.forgiven.has(word.text)) return undefined;
  if (words === undefined) {
    report(reading, word.range, say.noComparingWords(subject.name, word.text, subject.kind, use, comparableUnasked(subject)));
    return undefined;
  }
  const { rising, falling } = words;
  const close = nearest(word.text, [rising, falling]);
  report(reading, word.range, say.unknownComparingWord(subject.name, word.text, rising, falling, close), {
    fixes: spelling(reading, word.range, word.text, close),
    related: [{ ...subject.place, message: say.declaredHere(subject.name) }],
  });
  return undefined;
}

/** `is A`, `is A or B`, `is A or W`. */
function values(reading: Reading, subject: Subject, relation: tree.Relation & { kind: "is" }): readonly Stretch[] | undefined {
  const last = relation.values.at(-1);
  const isWord =
    last?.kind === "name" &&
    relation.values.length > 1 &&
    relation.form !== "is neither" &&
    (subject.words?.rising === last.text || subject.words?.falling === last.text);
  const plain = isWord ? relation.values.slice(0, -2) : relation.values;
  const stretches = plain.map((value) => plainValue(reading, subject, value));
  if (isWord) stretches.push(comparison(reading, subject, wordSide(reading, subject, last, "or")!, relation.values.at(-2)!));
  return stretches.length > 0 && stretches.every((part) => part !== undefined) ? stretches.flat() : undefined;
}

function plainValue(reading: Reading, subject: Subject, value: tree.Value): readonly Stretch[] | undefined {
  const placed = placeValue(reading, subject, value);
  if (placed === undefined) return undefined;
  if (placed.kind === "group") return placed.rungs.map((rung) => exactly(new Fraction(rung)));
  if (placed.kind === "band") return [placed.stretch];
  if (isRung(subject.values, placed.rung)) return [exactly(placed.rung)];
  return noSuchRung(reading, subject, placed.rung, value);
}

/** `from A to B`: both in; on a cycle it may go round. */
function between(reading: Reading, subject: Subject, from: tree.Value, to: tree.Value): readonly Stretch[] | undefined {
  // "from 50 to 60 °F" is how it is said: the unit stands once.
  const start =
    from.kind === "quantity" && from.unit === undefined && to.kind === "quantity" && to.unit !== undefined
      ? { ...from, unit: to.unit }
      : from;
  const [low, high] = [placeValue(reading, subject, start), placeValue(reading, subject, to)];
  if (low === undefined || high === undefined) return undefined;
  if (!isCyclic(subject.values) && !hasOrder(reading, subject, { start: from.range.start, end: to.range.end })) return undefined;
  const [first, last] = [single(reading, subject, low, from), single(reading, subject, high, to)];
  if (first === undefined || last === undefined) return undefined;
  const stretch: Stretch = { from: first.from, fromIn: first.fromIn, to: last.to, toIn: last.toIn };
  if (isCyclic(subject.values)) return [stretch];
  const { bottom, top } = rungEnds(subject.values);
  if (stretch.from.gt(stretch.to)) {
    const [a, b] = [textOf(reading, from), textOf(reading, to)];
    const both = { start: from.range.start, end: to.range.end };
    report(reading, both, say.backwards(subject.name, a, b), {
      fixes: [replacing(reading, both, `${b} to ${a}`, `Write from ${b} to ${a}`)],
    });
    return undefined;
  }
  if (stretch.to.lt(bottom)) return outside(reading, subject, to);
  if (stretch.from.gt(top)) return outside(reading, subject, from);
  if (!isContinuous(subject.values) && stretch.from.ceil().gt(stretch.to.floor())) return noSuchRung(reading, subject, stretch.from, from);
  return clipped(subject, stretch);
}

/** `above`, `at least` and the like: only where there are no comparing words, and not on what goes round. */
function mayLimit(reading: Reading, subject: Subject, limit: LimitSide, value: tree.Value, about: Range): boolean {
  const text = textOf(reading, value);
  if (subject.words !== undefined && !subject.words.unasked) {
    const { rising, falling } = subject.words;
    const up = limit === "above" || limit === "at least";
    const inWords = (word: string) => (limit === "above" || limit === "below" ? `is ${word} than ${text}` : `is ${text} or ${word}`);
    const [likely, other] = up ? [inWords(rising), inWords(falling)] : [inWords(falling), inWords(rising)];
    const sign = signIn(reading, about);
    if (sign !== undefined) {
      report(reading, about, say.signInWords(subject.name, textOf(reading, sign), likely), {
        fixes: [replacing(reading, about, ` ${likely}`, `Write ${subject.name} ${likely}`)],
      });
      return false;
    }
    const fixes = [likely, other].map((words) => replacing(reading, about, ` ${words}`, `Write ${subject.name} ${words}`));
    report(reading, about, say.useComparingWords(subject.name, limit, text, likely, other), {
      fixes,
      related: [{ ...subject.place, message: say.declaredHere(subject.name) }],
    });
    return false;
  }
  if (isCyclic(subject.values)) {
    const fixed = roundedOff(reading, subject, limit, value);
    report(reading, about, say.limitRoundTheYear(subject.name, limit, text, fixed), {
      fixes: fixed === undefined ? [] : [replacing(reading, about, ` ${fixed}`, `Write ${subject.name} ${fixed}`)],
    });
    return false;
  }
  if (subject.kind === "condition" && subject.values.kind === "list") {
    if (hasOrder(reading, subject, about))
      report(reading, about, say.scaleNeedsWords(subject.name, limit), {
        related: [{ ...subject.place, message: say.declaredHere(subject.name) }],
      });
    return false;
  }
  return true;
}

/** What the parser has said of a `<` or `=` in the place of a word, or of `is over`. */
function signIn(reading: Reading, { start, end }: Range): Finding | undefined {
  return reading.findings.find(
    (finding) => finding.range.start >= start && finding.range.end <= end && /[<>=≤≥≠]|\b(?:over|under)$/iu.test(textOf(reading, finding)),
  );
}

/** `above apr 15` as a `from … to` that says where it ends. */
function roundedOff(reading: Reading, subject: Subject, limit: LimitSide, value: tree.Value): string | undefined {
  const placed = value.kind === "name" ? undefined : placeValue(reading, subject, value);
  if (placed?.kind !== "value") return undefined;
  const { bottom, top } = rungEnds(subject.values);
  const from = limit === "above" ? placed.rung.add(1) : limit === "at least" ? placed.rung : bottom;
  const to = limit === "below" ? placed.rung.sub(1) : limit === "at most" ? placed.rung : top;
  return from.gt(to) ? undefined : `from ${printRung(subject.values, from)} to ${printRung(subject.values, to)}`;
}

/** Reports whatever has no order to compare by. */
export function hasOrder(reading: Reading, subject: Subject, range: Range): boolean {
  const { values } = subject;
  if (values.kind !== "list" || values.ordered) return true;
  report(reading, range, say.noOrder(subject.name, describe(subject), subject.kind), {
    related: [{ ...subject.place, message: say.declaredHere(subject.name) }],
  });
  return false;
}

function comparableUnasked(subject: Subject): boolean {
  return !isCyclic(subject.values) && !(subject.kind === "condition" && subject.values.kind === "list");
}

function single(reading: Reading, subject: Subject, placed: Placed, value: tree.Value): Stretch | undefined {
  if (placed.kind === "value") return exactly(placed.rung);
  if (placed.kind === "band") return placed.stretch;
  report(
    reading,
    value.range,
    say.groupCompared(
      subject.name,
      textOf(reading, value),
      placed.rungs.map((rung) => printRung(subject.values, new Fraction(rung))),
    ),
  );
  return undefined;
}

function exactly(rung: Fraction): Stretch {
  return { from: rung, fromIn: true, to: rung, toIn: true };
}

function clipped(subject: Subject, stretch: Stretch): readonly Stretch[] {
  const { bottom, top } = rungEnds(subject.values);
  const [low, high] = [stretch.from.lt(bottom), stretch.to.gt(top)];
  return [
    {
      from: low ? bottom : stretch.from,
      fromIn: low || stretch.fromIn,
      to: high ? top : stretch.to,
      toIn: high || stretch.toIn,
    },
  ];
}

function outside(reading: Reading, subject: Subject, value: tree.Value): undefined {
  report(reading, value.range, say.outsideRange(subject.name, describe(subject), textOf(reading, value)));
  return undefined;
}

function noSuchRung(reading: Reading, subject: Subject, rung: Fraction, value: tree.Value): undefined {
  const { bottom, top } = rungEnds(subject.values);
  if (rung.lt(bottom) || rung.gt(top)) return outside(reading, subject, value);
  const near = neighbours(subject.values, rung);
  report(reading, value.range, say.betweenSteps(subject.name, textOf(reading, value), near));
  return undefined;
}

/** The same thing said with `is`, where that can be done. */
function asIs(reading: Reading, relation: tree.Relation, about: Range) {
  if (relation.kind !== "has" || relation.form === "only" || (relation.form === "has all of" && relation.members.length > 1)) return [];
  const names = relation.members.map(({ text }) => text);
  if (names.length === 0) return [];
  const words =
    relation.form !== "has no"
      ? `is ${names.join(" or ")}`
      : names.length === 1
        ? `is not ${names[0]}`
        : `is neither ${names.slice(0, -1).join(", ")} nor ${names.at(-1)}`;
  return [replacing(reading, about, ` ${words}`, `Write ${words}`)];
}
