/**
 * Conditions, bands and groups: what can be observed, and names for parts of it.
 *
 *     condition water-temp: 33 to 95 °F, to the nearest 1 °F   ──▶ a Subject with 63 rungs
 *     band water-temp: cold below 50 °F, cool below 70 °F, warm ──▶ its stretches [33, 50) [50, 70) [70, 95]
 *     band day: winter from dec 1, spring from mar 10           ──▶ [335, 68] round the year, [69, 334]
 */
import { Fraction } from "fraction.js";
import * as say from "../messages/model.js";
import type * as tree from "../syntax/tree.js";
import type { Stretch } from "./bound.js";
import { emptySet } from "./empty-set.js";
import { declares, groupThing, mentions, subjectThing, valueThing, wordThing } from "./naming.js";
import { convertDifference, printQuantity, readNumber, type Unit } from "./quantities.js";
import { placeOf, report, replacing, valueNames, textOf, type Reading, type Subject, type Values } from "./scope.js";
import { findSubject } from "./tests.js";
import { describe, isContinuous, isCyclic, placeValue, readQuantity, readUnit, rungEnds, unknownValue } from "./values.js";

export interface ConditionDraft {
  readonly subject: Subject;
  readonly node: tree.Condition;
  readonly reading: Reading;
}

/** Declares a condition under its name, muted if its domain cannot be read. `index`: its place among those that can. */
export function declareCondition(reading: Reading, node: tree.Condition, index: number): ConditionDraft | undefined {
  if (node.name === undefined) return undefined;
  const subject = newSubject(reading, "condition", node.name, index);
  if (subject === undefined) {
    if (node.domain !== undefined) forgive(reading, node.name, node.domain);
    return undefined;
  }
  const values = node.domain && readDomain(reading, subject, node.domain);
  if (values === undefined) return undefined;
  const damaged = isDamaged(reading, node, node.domain!.range.start);
  if (damaged && values.kind === "measure") return undefined;
  subject.values = values;
  subject.muted = false;
  subject.partial = damaged;
  readComparing(reading, subject, node.comparing);
  checkFilledFrom(reading, subject, node);
  return { subject, node, reading };
}

/** A subject under a new name, muted until its values are known; undefined if the name is taken, which has then been reported. */
export function newSubject(reading: Reading, kind: Subject["kind"], name: tree.Name, index: number): Subject | undefined {
  const { subjects } = reading.scope;
  const other = subjects.get(name.text);
  if (other !== undefined) {
    report(reading, name.range, say.nameTaken(name.text, kind, other.kind), {
      related: [{ ...other.place, message: say.declaredHere(name.text) }],
    });
    return undefined;
  }
  const subject: Subject = {
    kind,
    name: name.text,
    index,
    place: placeOf(reading, name.range),
    muted: true,
    partial: false,
    values: { kind: "list", ordered: false, bySize: false, options: [] },
    bands: new Map(),
    groups: new Map(),
    forgiven: new Set(),
  };
  subjects.set(name.text, subject);
  declares(reading, name, subjectThing(subject));
  return subject;
}

/** Did the parser stumble over the values of a statement, rather than over a clause after them? */
export function isDamaged(reading: Reading, node: tree.Condition | tree.Pick, values: number): boolean {
  if (!reading.broken.has(node)) return false;
  const clauses = [node.comparing, node.ask, node.kind === "condition" ? node.filledFrom : node.onlyWhen].flatMap(
    (clause) => clause?.range.start ?? [],
  );
  const end = Math.min(node.range.end, ...clauses.filter((start) => start > values));
  return reading.findings.some(({ severity, range }) => severity === "error" && range.start >= node.range.start && range.start <= end);
}

/** `rising is W, falling is V`; masses have heavier and lighter unasked. */
export function readComparing(reading: Reading, subject: Subject, comparing: tree.Comparing | undefined): void {
  const { values } = subject;
  const unit = values.kind === "measure" || (values.kind === "list" && values.bySize) ? values.unit : undefined;
  if (unit?.kind === "mass") subject.words = { rising: "heavier", falling: "lighter", unasked: true };
  if (comparing === undefined) return;
  const [rising, falling] = [comparing.rising?.text, comparing.falling?.text];
  const forgiveWords = (): void => [rising, falling].forEach((word) => word !== undefined && subject.forgiven.add(word));
  if (rising === undefined || falling === undefined) return forgiveWords();
  const known = valueNames(subject);
  const clash = [comparing.rising!, comparing.falling!].find(({ text }) => known.includes(text));
  if (values.kind === "set" || (values.kind === "list" && !values.ordered))
    report(reading, comparing.range, say.wordsWithoutOrder(subject.name, subject.kind, values.kind === "set"));
  else if (rising === falling) report(reading, comparing.falling!.range, say.sameWordTwice(subject.name, rising));
  else if (clash !== undefined) report(reading, clash.range, say.wordIsValue(subject.name, clash.text));
  else {
    subject.words = { rising, falling, unasked: false };
    for (const word of [comparing.rising!, comparing.falling!]) declares(reading, word, wordThing(subject, word.text));
    return;
  }
  forgiveWords();
}

/** Declares the bands of a measure, of the days or the times. */
export function declareBands(reading: Reading, node: tree.Band): void {
  const subject = node.condition && findCondition(reading, node.condition);
  if (subject === undefined) return;
  if (subject.values.kind === "list" || subject.values.kind === "set") {
    for (const { name } of node.parts) subject.forgiven.add(name.text);
    return report(reading, node.condition!.range, say.bandsOnWords(subject.name));
  }
  if (reading.broken.has(node)) {
    subject.partial = true;
    return;
  }
  const [first] = subject.bands.values();
  if (first !== undefined) {
    for (const { name } of node.parts) if (!subject.bands.has(name.text)) subject.forgiven.add(name.text);
    return report(reading, node.range, say.secondBands(subject.name), {
      related: [{ ...first.place, message: say.bandsHere(subject.name) }],
    });
  }
  const stretches = isCyclic(subject.values) ? roundTheYear(reading, subject, node.parts) : rising(reading, subject, node.parts);
  node.parts.forEach(({ name, range }, i) => {
    const stretch = stretches?.[i];
    if (!isNewValue(reading, subject, name)) return;
    if (stretch === undefined) subject.forgiven.add(name.text);
    else {
      subject.bands.set(name.text, {
        name: name.text,
        book: reading.book,
        place: placeOf(reading, range),
        namePlace: placeOf(reading, name.range),
        stretch,
      });
      declares(reading, name, valueThing(subject, name.text));
    }
  });
}

/** Declares a group of levels or members. */
export function declareGroup(reading: Reading, node: tree.Group): void {
  const subject = node.condition && findCondition(reading, node.condition);
  if (subject === undefined || node.name === undefined) return;
  const { values } = subject;
  if (values.kind !== "list" && values.kind !== "set") {
    subject.forgiven.add(node.name.text);
    return report(reading, node.condition!.range, say.groupOfNumbers(subject.name));
  }
  if (reading.broken.has(node)) {
    subject.partial = true;
    return;
  }
  if (!isNewValue(reading, subject, node.name)) return;
  const names = values.kind === "list" ? values.options.map(({ text }) => text) : values.members;
  const members = distinct(reading, node.members, ({ text }) => text).flatMap((member) => {
    const index = names.indexOf(member.text);
    if (index < 0) unknownValue(reading, subject, member.text, member);
    else mentions(reading, member, valueThing(subject, member.text));
    return index < 0 ? [] : [index];
  });
  if (members.length === 0 || members.length < node.members.length) subject.forgiven.add(node.name.text);
  const whole = members.length === new Set(node.members.map(({ text }) => text)).size && members.length > 0;
  if (!whole) return;
  subject.groups.set(node.name.text, {
    name: node.name.text,
    book: reading.book,
    place: placeOf(reading, node.range),
    namePlace: placeOf(reading, node.name.range),
    members,
  });
  declares(reading, node.name, groupThing(subject, node.name.text));
}

/** The list without what stands in it twice, which is reported. */
export function distinct<T extends tree.Node>(reading: Reading, list: readonly T[], key: (item: T) => string): T[] {
  const seen = new Map<string, T>();
  for (const item of list) {
    const first = seen.get(key(item));
    if (first === undefined) seen.set(key(item), item);
    else
      report(reading, item.range, say.listedTwice(key(item)), {
        related: [{ ...placeOf(reading, first.range), message: say.firstHere(key(item)) }],
      });
  }
  return [...seen.values()];
}

function findCondition(reading: Reading, name: tree.Name): Subject | undefined {
  const subject = findSubject(reading, name);
  if (subject === undefined || subject.kind === "condition") return subject;
  report(reading, name.range, say.conditionWanted(name.text, subject.kind));
  return undefined;
}

function isNewValue(reading: Reading, subject: Subject, name: tree.Name): boolean {
  if (!valueNames(subject).includes(name.text) && subject.words?.rising !== name.text && subject.words?.falling !== name.text) return true;
  const named = subject.bands.get(name.text) ?? subject.groups.get(name.text);
  report(reading, name.range, say.valueTaken(subject.name, name.text), {
    related: [{ ...(named?.namePlace ?? subject.place), message: say.declaredHere(name.text) }],
  });
  return false;
}

function readDomain(reading: Reading, subject: Subject, domain: tree.Domain): Values | undefined {
  switch (domain.kind) {
    case "days":
    case "times":
      return { kind: domain.kind };
    case "scale": {
      const levels = distinct(reading, domain.levels, ({ text }) => text);
      for (const level of levels) declares(reading, level, { kind: "level", name: level.text, of: subject.name });
      return levels.length === 0
        ? undefined
        : { kind: "list", ordered: domain.ordered, bySize: false, options: levels.map(({ text }) => ({ text })) };
    }
    case "set": {
      const members = distinct(reading, domain.members, ({ text }) => text);
      for (const member of members) declares(reading, member, { kind: "member", name: member.text, of: subject.name });
      const none = members.find(({ text }) => text === emptySet);
      if (none !== undefined) report(reading, none.range, say.memberNone(subject.name));
      return members.length === 0 || none !== undefined ? undefined : { kind: "set", members: members.map(({ text }) => text) };
    }
    case "measure":
      return readMeasure(reading, subject, domain);
  }
}

function readMeasure(reading: Reading, subject: Subject, { low, high, step }: tree.Domain & { kind: "measure" }): Values | undefined {
  if (low === undefined || high === undefined) return undefined;
  // "33 to 95 °F": the unit stands once.
  const unitName = high.unit ?? low.unit;
  const unit = unitName && readUnit(reading, unitName);
  if (unitName !== undefined && unit === undefined) return undefined;
  const inUnit = (quantity: tree.Quantity) => readQuantity(reading, subject, { ...quantity, unit: quantity.unit ?? unitName }, unit)?.value;
  const [bottom, top] = [inUnit(low), inUnit(high)];
  if (bottom === undefined || top === undefined) return undefined;
  if (bottom.gte(top)) {
    const [a, b] = [textOf(reading, low), textOf(reading, high)];
    const whole = { start: low.range.start, end: high.range.end };
    const turned =
      low.unit === undefined && bottom.gt(top)
        ? `${high.number} to ${low.number}${unit === undefined ? "" : ` ${unit.symbol}`}`
        : undefined;
    report(reading, whole, say.emptyRange(subject.name, a, b), {
      fixes: turned === undefined ? [] : [replacing(reading, whole, turned, `Write ${turned}`)],
    });
    return undefined;
  }
  if (step === undefined) return { kind: "measure", low: bottom, high: top, ...(unit && { unit }) };
  const size = readStep(reading, subject, { ...step, unit: step.unit ?? unitName }, unit);
  if (size === undefined) return undefined;
  if (size.lte(0)) {
    report(reading, step.range, say.stepNotPositive(textOf(reading, step)));
    return undefined;
  }
  const steps = top.sub(bottom).div(size);
  if (steps.d !== 1n) {
    const ends = [steps.floor(), steps.ceil()]
      .filter((count) => count.gt(0))
      .map((count) => printQuantity(bottom.add(size.mul(count)), unit));
    report(
      reading,
      high.range,
      say.highNoStep(subject.name, textOf(reading, high), printQuantity(bottom, unit), printQuantity(size, unit), ends),
    );
    return undefined;
  }
  if (steps.gte(mostSteps)) {
    report(reading, step.range, say.tooManySteps(subject.name, steps.add(1).toString()));
    return undefined;
  }
  return { kind: "measure", low: bottom, high: top, step: size, ...(unit && { unit }) };
}

/** A step converts as a difference, so it is not read as a value. */
function readStep(reading: Reading, subject: Subject, step: tree.Quantity, wanted: Unit | undefined): Fraction | undefined {
  if (step.unit === undefined || wanted === undefined) return readQuantity(reading, subject, step, wanted)?.value;
  const number = readNumber(step.number);
  const unit = number && readUnit(reading, step.unit);
  if (number === undefined || unit === undefined || unit.kind !== wanted.kind) return readQuantity(reading, subject, step, wanted)?.value;
  return convertDifference(number.value, unit, wanted);
}

/** Beyond a million steps a measure is better said to be continuous. */
const mostSteps = 1_000_000;

/** `cold below 50 °F, cool below 70 °F, warm` */
function rising(reading: Reading, subject: Subject, parts: readonly tree.BandPart[]): readonly (Stretch | undefined)[] | undefined {
  const { bottom, top } = rungEnds(subject.values);
  let from: Fraction | undefined = bottom;
  return parts.map((part, i) => {
    const isLast = i === parts.length - 1;
    const start = from;
    from = undefined;
    if (part.from !== undefined) report(reading, part.from.range, say.bandFromOnMeasure(subject.name, part.name.text));
    else if (isLast && part.below !== undefined) {
      const after = { start: part.name.range.end, end: part.range.end };
      report(reading, part.below.range, say.lastBandLimited(subject.name, part.name.text, textOf(reading, part.below)), {
        fixes: [replacing(reading, after, "", `Write just ${part.name.text}`)],
      });
    } else if (!isLast && part.below === undefined) report(reading, part.name.range, say.bandWithoutLimit(subject.name, part.name.text));
    else if (isLast) return start && { from: start, fromIn: true, to: top, toIn: true };
    else {
      const limit = placeValue(reading, subject, part.below!);
      if (limit?.kind === "value") {
        const nothing =
          start !== undefined && (limit.rung.lte(start) || (!isContinuous(subject.values) && limit.rung.ceil().lte(start.ceil())));
        if (limit.rung.gt(top) || limit.rung.lte(bottom))
          report(
            reading,
            part.below!.range,
            say.bandOutside(subject.name, describe(subject), part.name.text, textOf(reading, part.below!)),
          );
        else if (nothing)
          report(
            reading,
            part.below!.range,
            say.bandNotRising(subject.name, part.name.text, parts[i - 1]!.name.text, textOf(reading, part.below!)),
          );
        else from = limit.rung;
        return start && from && { from: start, fromIn: true, to: from, toIn: false };
      }
    }
    return undefined;
  });
}

/** `winter from dec 1, spring from mar 10`: each to the next, the last to the first. */
function roundTheYear(reading: Reading, subject: Subject, parts: readonly tree.BandPart[]): readonly (Stretch | undefined)[] | undefined {
  const starts = parts.map((part) => {
    if (part.from === undefined) {
      report(reading, part.below?.range ?? part.name.range, say.bandWithoutStart(subject.name, part.name.text));
      return undefined;
    }
    const placed = placeValue(reading, subject, part.from);
    return placed?.kind === "value" ? Number(placed.rung.n) : undefined;
  });
  const known = starts.filter((start) => start !== undefined);
  if (known.length < starts.length) return undefined;
  // Going round from the first, each start must come before the next.
  const size = Number(rungEnds(subject.values).top.n) + 1;
  const distances = known.map((start) => (start - known[0]! + size) % size);
  const wrong = distances.findIndex((distance, i) => i > 0 && distance <= distances[i - 1]!);
  if (wrong > 0) {
    report(reading, parts[wrong]!.from!.range, say.bandsOutOfRound(subject.name, parts[wrong]!.name.text, parts[wrong - 1]!.name.text));
    return undefined;
  }
  return known.map((start, i) => {
    const end = (known[(i + 1) % known.length]! - 1 + size) % size;
    return { from: new Fraction(start), fromIn: true, to: new Fraction(end), toIn: true };
  });
}

function checkFilledFrom(reading: Reading, { name, values }: Subject, node: tree.Condition): void {
  if (node.filledFrom === undefined) return;
  const { source, range } = node.filledFrom;
  const unit = values.kind === "measure" ? values.unit?.kind : undefined;
  const fits = {
    date: values.kind === "days",
    clock: values.kind === "times",
    sun: unit === "angle",
    moon: values.kind === "list" || unit === "angle" || unit === "percent",
  };
  if (!fits[source]) report(reading, range, say.filledFromOther(name, source));
}

/** The names in a domain that was turned down: no finding where they are used. */
function forgive(reading: Reading, name: tree.Name, domain: tree.Domain): void {
  const subject = reading.scope.subjects.get(name.text);
  const names = domain.kind === "scale" ? domain.levels : domain.kind === "set" ? domain.members : [];
  for (const { text } of names) subject?.forgiven.add(text);
}
