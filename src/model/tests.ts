/**
 * Tests: what stands after `when`, with its names bound.
 *
 *     tree ──reread──▶ tree ──bind──▶ Bound
 *
 * `is dark or low-vision` looks to the parser like two values of one subject. Only here is it known that `low-vision` is a situation, so
 * first the tree is read again with such names as tests of their own, joined by `or`; an `and` beside one then mixes the two.
 */
import * as say from "../messages/model.js";
import { mixingFinding } from "../syntax/mixing.js";
import type * as tree from "../syntax/tree.js";
import type { Range } from "../text.js";
import { isReadable, placedAt, type Bound } from "./bound.js";
import { mentions, subjectThing } from "./naming.js";
import { bindRelation } from "./relations.js";
import { report, replacing, spelling, valueNames, type Reading, type NamedTest, type Subject } from "./scope.js";
import { nearest } from "../suggest.js";

/** Binds a test. Whatever cannot be read is reported and left as `unread`; the rest is bound all the same. */
export function bindTest(reading: Reading, test: tree.Test): Bound {
  return bind(reading, reread(reading, test));
}

/** The test a situation stands for; reports a circle of situations once, and leaves it unread. */
export function situationTest(reading: Reading, situation: NamedTest): Bound {
  if (situation.bound !== undefined) return situation.bound;
  const { binding, readings } = reading.scope;
  const { range } = situation.tree;
  const start = binding.indexOf(situation);
  if (start >= 0) {
    const circle = [...binding.slice(start), situation];
    report(readings[situation.book]!, situation.namePlace.range, say.situationsInCircle(circle.map(({ name }) => name)), {
      related: circle.slice(1, -1).map(({ namePlace, name }) => ({ ...namePlace, message: say.declaredHere(name) })),
    });
    return { kind: "unread", range };
  }
  const own = readings[situation.book]!;
  const { test } = situation.tree;
  binding.push(situation);
  const tooDeep = binding.length > deepest;
  const bound: Bound = test === undefined || tooDeep || own.broken.has(situation.tree) ? { kind: "unread", range } : bindTest(own, test);
  binding.pop();
  const inReach = isReachable(bound);
  if (tooDeep || (!inReach && isReadable(bound))) report(own, situation.namePlace.range, say.situationTooLarge(situation.name));
  situation.bound = inReach ? bound : { kind: "unread", range };
  return situation.bound;
}

/** How many situations may stand on each other, how deep a written-out test may be nested, and how many tests it may hold. */
const deepest = 64;
const deepestTest = 200;
const longestTest = 1000;

/** Written out, a situation must stay within what all that follows can walk: its parts may double at every step. */
function isReachable(test: Bound): boolean {
  let left = longestTest;
  const visit = (part: Bound, depth: number): boolean => {
    if (--left < 0 || depth > deepestTest) return false;
    if (part.kind === "and" || part.kind === "or") return part.parts.every((inner) => visit(inner, depth + 1));
    return part.kind !== "not" || visit(part.part, depth + 1);
  };
  return visit(test, 0);
}

/** The subject of a test or statement; undefined where there is none to be had, which has then been reported. */
export function findSubject(reading: Reading, name: tree.Name): Subject | undefined {
  const { scope } = reading;
  const subject = scope.subjects.get(name.text);
  if (subject !== undefined) {
    mentions(reading, name, subjectThing(subject));
    return subject.muted ? undefined : subject;
  }
  if (scope.situations.has(name.text)) report(reading, name.range, say.situationAsSubject(name.text));
  else if (!scope.somethingMissing) unknownName(reading, name, [...scope.subjects.keys()]);
  return undefined;
}

function bind(reading: Reading, test: tree.Test): Bound {
  const { range } = test;
  switch (test.kind) {
    case "and":
    case "or": {
      const parts = test.parts.map((part) => bind(reading, part));
      return { kind: test.kind, parts, range };
    }
    case "not":
      return test.part === undefined ? { kind: "unread", range } : { kind: "not", part: bind(reading, test.part), range };
    case "parentheses":
      return test.part === undefined ? { kind: "unread", range } : bind(reading, test.part);
    case "situation":
      return bindSituation(reading, test.name);
    case "compare": {
      const subject = findSubject(reading, test.subject);
      if (subject === undefined) return { kind: "unread", range };
      reading.scope.mentioned.add(subject);
      if (test.relation === undefined) return { kind: "unread", range };
      return bindRelation(reading, subject, test.subject, test.relation, range);
    }
  }
}

function bindSituation(reading: Reading, name: tree.Name): Bound {
  const { scope } = reading;
  const situation = scope.situations.get(name.text);
  if (situation !== undefined) {
    scope.mentioned.add(situation);
    mentions(reading, name, { kind: "situation", name: name.text });
    return placedAt(situationTest(reading, situation), name.range);
  }
  const subject = scope.subjects.get(name.text);
  if (subject !== undefined) {
    if (!subject.muted) report(reading, name.range, say.subjectAlone(name.text, subject.kind));
  } else if (!scope.somethingMissing) unknownSituation(reading, name);
  return { kind: "unread", range: name.range };
}

function unknownSituation(reading: Reading, name: tree.Name): void {
  const owner = [...reading.scope.subjects.values()].find((subject) => valueNames(subject).includes(name.text));
  if (owner === undefined) return unknownName(reading, name, [...reading.scope.situations.keys()]);
  const whole = `${owner.name} ${owner.values.kind === "set" ? "has" : "is"} ${name.text}`;
  report(reading, name.range, say.valueAlone(name.text, owner.name, whole), {
    fixes: [replacing(reading, name.range, whole, `Write ${whole}`)],
  });
}

/** Reports a name nobody has declared. */
export function unknownName(reading: Reading, name: tree.Name, known: readonly string[]): void {
  const close = nearest(name.text, known);
  report(reading, name.range, say.unknownName(name.text, close), { fixes: spelling(reading, name.range, name.text, close) });
}

/** `outer`: the whole that is joined without parentheses. */
function reread(reading: Reading, test: tree.Test, outer = test): tree.Test {
  if (test.kind !== "and" && test.kind !== "or") {
    const parts = separate(reading, test).map((part) => rereadInside(reading, part));
    return parts.length > 1 ? { kind: "or", parts, range: test.range } : parts[0]!;
  }
  const split = test.parts.map((part) => (part.kind === "and" || part.kind === "or" ? [part] : separate(reading, part)));
  const parts = split
    .flat()
    .map((part) => (part.kind === "and" || part.kind === "or" ? reread(reading, part, outer) : rereadInside(reading, part)));
  if (test.kind === "or" || parts.length === split.length) return { ...test, parts };
  reportMixing(reading, test, outer);
  return { kind: "parentheses", range: test.range };
}

/** What stands in parentheses is a test of its own. */
function rereadInside(reading: Reading, test: tree.Test): tree.Test {
  if ((test.kind !== "not" && test.kind !== "parentheses") || test.part === undefined) return test;
  return { ...test, part: test.kind === "not" ? rereadInside(reading, test.part) : reread(reading, test.part) };
}

/** A test as the tests it is, joined by `or`: more than one if it holds situations among its values. */
function separate(reading: Reading, test: tree.Test): readonly tree.Test[] {
  if (test.kind === "not" && test.part !== undefined) {
    const [first, ...others] = separate(reading, test.part);
    return [{ ...test, part: first!, range: { start: test.range.start, end: first!.range.end } }, ...others];
  }
  if (test.kind !== "compare" || test.relation?.kind !== "is" || test.relation.form === "is neither") return [test];
  const { relation } = test;
  const subject = reading.scope.subjects.get(test.subject.text);
  const own = new Set(
    subject === undefined
      ? []
      : [...valueNames(subject), ...(subject.words === undefined ? [] : [subject.words.rising, subject.words.falling])],
  );
  const isSituation = (value: tree.Value): value is tree.NameValue =>
    value.kind === "name" && !own.has(value.text) && reading.scope.situations.has(value.text);
  const values = relation.values.filter((value) => !isSituation(value));
  if (values.length === relation.values.length || values.length === 0 || isSituation(relation.values[0]!)) return [test];
  const { start } = test.range;
  const { end } = values.at(-1)!.range;
  const compare: tree.Test = {
    ...test,
    range: { start, end },
    relation: { ...relation, values, range: { start: relation.range.start, end } },
  };
  const situations = relation.values.filter(isSituation).map((name): tree.Test => ({ kind: "situation", name, range: name.range }));
  return [compare, ...situations];
}

/** An `and` in which an `or` has come to light. Where the parser has found a mixing around it already, that one is told anew with all its terms. */
function reportMixing(reading: Reading, test: tree.Test, outer: tree.Test): void {
  const { findings } = reading.scope;
  const known = reading.findings.find(
    ({ code, range }) => code === "mixing" && range.start <= test.range.start && range.end >= test.range.end,
  );
  const terms =
    known === undefined
      ? termsOf(reading, test)
      : termsOf(reading, outer).filter(({ range }) => range.start >= known.range.start && range.end <= known.range.end);
  const finding = mixingFinding(
    reading,
    terms.map(({ range }) => range),
    terms.slice(1).map(({ joint }) => joint),
  );
  if (!findings.some(({ code, path, range }) => code === "mixing" && path === reading.path && range.start === finding.range.start))
    findings.push(finding);
}

/** The terms joined without parentheses, each with the word before it (that of the first means nothing). */
function termsOf(reading: Reading, test: tree.Test): { readonly range: Range; readonly joint: "and" | "or" }[] {
  if (test.kind !== "and" && test.kind !== "or") return separate(reading, test).map(({ range }) => ({ range, joint: "or" }));
  const { kind } = test;
  return test.parts.flatMap((part, i) => termsOf(reading, part).map((term, j) => (i > 0 && j === 0 ? { ...term, joint: kind } : term)));
}
