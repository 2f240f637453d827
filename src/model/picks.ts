/**
 * Picks and judgements: what is recommended, and from which options.
 *
 *     pick weight: 1/2 oz, 1/4 oz          ──▶ options 1/4 oz, 1/2 oz: quantities are ordered by size
 *     judgement seen: same as clarity      ──▶ options clear … muddy, one for each level
 *     judgement warmth: same as water-temp ──▶ options cold, cool, warm, one for each band
 */
import { Fraction } from "fraction.js";
import * as say from "../messages/model.js";
import { nearest } from "../suggest.js";
import type * as tree from "../syntax/tree.js";
import type { Stretch } from "./bound.js";
import { isDamaged, newSubject, readComparing } from "./conditions.js";
import type { Option } from "./model.js";
import { declares, valueThing } from "./naming.js";
import { readNumber, toBase, type Unit } from "./quantities.js";
import { placeOf, report, replacing, textOf, type Reading, type Subject, type Values } from "./scope.js";
import { findSubject, unknownName } from "./tests.js";
import { placeValue, readUnit, neighbours, describe } from "./values.js";

export interface PickDraft {
  readonly subject: Subject;
  readonly node: tree.Pick;
  readonly reading: Reading;
  /** `same as`: the condition copied, and the stretches of its rungs that become each option. */
  readonly copies?: { readonly condition: number; readonly stretches: readonly Stretch[] };
}

interface ReadOption extends Option {
  readonly node: tree.Value;
  readonly unit?: Unit;
  readonly number?: string;
}

/** What `say nothing on` takes in place of the names of all picks. */
export const EVERYTHING = "everything";

/** Declares a pick under its name, muted if its options cannot be read. `index`: its place among those that can. */
export function declarePick(reading: Reading, node: tree.Pick, index: number): PickDraft | undefined {
  if (node.name === undefined) return undefined;
  if (node.name.text === EVERYTHING) {
    report(reading, node.name.range, say.pickCalledEverything(node.kind));
    return undefined;
  }
  const subject = newSubject(reading, node.kind, node.name, index);
  if (subject === undefined) {
    const taken = reading.scope.subjects.get(node.name.text);
    for (const value of node.options) if (value.kind === "name") taken?.forgiven.add(value.text);
    return undefined;
  }
  if (node.sameAs !== undefined) return copyCondition(reading, subject, node, node.sameAs);
  const values = readOptions(reading, subject, node);
  if (values === undefined) return undefined;
  subject.values = values;
  subject.muted = false;
  subject.partial = isDamaged(reading, node, node.options[0]!.range.start);
  readComparing(reading, subject, node.comparing);
  return { subject, node, reading };
}

/** `add blade painted`: one more option, the last in its order; of quantities, in its place by size. */
export function addOptions(reading: Reading, node: tree.AddOption, reaches: (book: number) => boolean, drafts: readonly PickDraft[]): void {
  const subject = node.pick && findPick(reading, node.pick);
  const draft = drafts.find((one) => one.subject === subject);
  if (subject === undefined || draft === undefined || subject.values.kind !== "list") return;
  if (!reaches(draft.reading.book)) return report(reading, node.range, say.addToOwn(subject.name, draft.reading.book === reading.book));
  for (const value of node.options) {
    const option = readOption(reading, value);
    if (option !== undefined) addOption(reading, subject, subject.values, option);
  }
}

/**
 * The pick or judgement a statement is about; undefined where there is none to be had, which has then been reported. `others`: what else
 * could have been meant there.
 */
export function findPick(reading: Reading, name: tree.Name, others: readonly string[] = []): Subject | undefined {
  const { subjects, somethingMissing, situations } = reading.scope;
  if (!subjects.has(name.text) && !situations.has(name.text)) {
    const owner = ownerOf(reading, name);
    if (owner !== undefined) optionAlone(reading, name, owner);
    else if (!somethingMissing)
      unknownName(reading, name, [
        ...[...subjects.values()].filter(({ kind }) => kind !== "condition").map((subject) => subject.name),
        ...others,
      ]);
    return undefined;
  }
  const subject = findSubject(reading, name);
  if (subject?.kind !== "condition") return subject;
  report(reading, name.range, say.pickWanted(name.text), { related: [{ ...subject.place, message: say.declaredHere(name.text) }] });
  return undefined;
}

/** The pick that an unknown name was probably meant for: what is held back is held back there. */
export function guessPick(reading: Reading, name: tree.Name): Subject | undefined {
  const picks = [...reading.scope.subjects.values()].filter(({ kind, muted }) => kind !== "condition" && !muted);
  const close = nearest(
    name.text,
    picks.map((pick) => pick.name),
  );
  return ownerOf(reading, name) ?? picks.find((pick) => pick.name === close);
}

/** The one pick that has an option of this name. */
function ownerOf(reading: Reading, name: tree.Name): Subject | undefined {
  const [owner, other] = [...reading.scope.subjects.values()].filter(
    ({ kind, values }) => kind !== "condition" && values.kind === "list" && values.options.some(({ text }) => text === name.text),
  );
  return other === undefined ? owner : undefined;
}

/** `go with crab`: the parser has missed an option after it, and did not know that it is one. */
function optionAlone(reading: Reading, name: tree.Name, owner: Subject): void {
  const missing = reading.findings.find(
    ({ code, range }) =>
      code === "syntax" &&
      (range.start === name.range.start ||
        (range.start >= name.range.end && reading.text.slice(name.range.end, range.start).trim() === "")),
  );
  if (missing !== undefined) reading.scope.toldAnew.add(missing);
  const whole = `${owner.name} ${name.text}`;
  report(reading, name.range, say.optionWithoutPick(name.text, owner.name, missing !== undefined), {
    fixes: missing === undefined ? [] : [replacing(reading, name.range, whole, `Write ${whole}`)],
  });
}

/** The index of an option; undefined after a report. */
function findOption(reading: Reading, pick: Subject, value: tree.Value): number | undefined {
  const placed = placeValue(reading, pick, value);
  if (placed === undefined) return undefined;
  if (placed.kind === "value" && placed.rung.d === 1n) return Number(placed.rung.s * placed.rung.n);
  const near = placed.kind === "value" ? neighbours(pick.values, placed.rung) : [];
  report(reading, value.range, say.noSuchOption(pick.name, describe(pick), textOf(reading, value), near));
  return undefined;
}

/** Each value with the index of its option, leaving out what stands there twice; undefined if any cannot be read. */
export function findOptions(reading: Reading, pick: Subject, list: readonly tree.Value[]): Map<tree.Value, number> | undefined {
  const found = new Map<tree.Value, number>();
  let whole = list.length > 0;
  for (const value of list) {
    const index = findOption(reading, pick, value);
    const first = [...found].find(([, other]) => other === index)?.[0];
    if (index === undefined) whole = false;
    else if (first === undefined) found.set(value, index);
    else
      report(reading, value.range, say.listedTwice(textOf(reading, value)), {
        related: [{ ...placeOf(reading, first.range), message: say.firstHere(textOf(reading, first)) }],
      });
  }
  return whole ? found : undefined;
}

function addOption(reading: Reading, subject: Subject, values: Values & { kind: "list" }, option: ReadOption): void {
  const { options, bySize, unit } = values;
  if (options.some((other) => isSame(other, option)))
    report(reading, option.node.range, say.optionTaken(subject.name, textOf(reading, option.node)));
  else if (bySize && (option.unit?.kind !== unit?.kind || option.size === undefined)) {
    subject.forgiven.add(option.text);
    report(reading, option.node.range, say.mixedOptions(subject.name, option.text, unit?.symbol));
  } else {
    const all = [...options, plain(option)];
    subject.values = { ...values, options: bySize ? all.sort((a, b) => a.size!.compare(b.size!)) : all };
    declares(reading, option.node, valueThing(subject, option.text));
  }
}

function copyCondition(reading: Reading, subject: Subject, node: tree.Pick, name: tree.Name): PickDraft | undefined {
  const original = findSubject(reading, name);
  if (original === undefined) return undefined;
  reading.scope.mentioned.add(original);
  const { values } = original;
  const related = [{ ...original.place, message: say.declaredHere(original.name) }];
  const refuse = (said: say.Said): undefined => report(reading, name.range, said, { related }) as undefined;
  if (original.kind !== "condition") return refuse(say.copyOfPick(original.name, original.kind));
  if (values.kind === "set") return refuse(say.copyOfSet(original.name));
  if (values.kind !== "list" && original.bands.size === 0)
    return original.forgiven.size > 0 ? undefined : refuse(say.copyWithoutBands(original.name));
  const bands = [...original.bands.values()];
  for (const band of bands) reading.scope.mentioned.add(band);
  const options = values.kind === "list" ? values.options : bands.map((band) => ({ text: band.name }));
  const stretches =
    values.kind === "list"
      ? values.options.map((_, index) => ({ from: new Fraction(index), fromIn: true, to: new Fraction(index), toIn: true }))
      : bands.map(({ stretch }) => stretch);
  subject.values = { kind: "list", ordered: values.kind !== "list" || values.ordered, bySize: false, options };
  subject.copies = original;
  for (const [group, list] of original.groups) subject.groups.set(group, list);
  if (original.words !== undefined) subject.words = original.words;
  subject.muted = false;
  readComparing(reading, subject, node.comparing);
  return { subject, node, reading, copies: { condition: original.index, stretches } };
}

function readOptions(reading: Reading, subject: Subject, node: tree.Pick): Values | undefined {
  const read = node.options.map((value) => readOption(reading, value));
  const options = read.filter((option) => option !== undefined);
  if (options.length < read.length) for (const value of node.options) subject.forgiven.add(textOf(reading, value));
  if (options.length === 0) return undefined;
  const unique: ReadOption[] = [];
  for (const option of options) {
    const first = unique.find((other) => isSame(other, option));
    if (first === undefined) {
      unique.push(option);
      declares(reading, option.node, { kind: "option", name: option.text, of: subject.name });
    } else
      report(reading, option.node.range, say.optionTaken(subject.name, textOf(reading, option.node)), {
        related: [{ path: reading.path, range: first.node.range, message: say.firstHere(first.text) }],
      });
  }
  const unit = unique.find((option) => option.unit !== undefined)?.unit;
  const sized = unique.filter(({ size }) => size !== undefined);
  const strangers = sized.filter((option) => option.unit?.kind !== unit?.kind);
  if (strangers.length > 0) {
    for (const { node: at, text, number, unit: own } of strangers) {
      const withUnit = own === undefined ? `${number} ${unit!.symbol}` : undefined;
      if (withUnit === undefined) report(reading, at.range, say.mixedOptions(subject.name, text, unit?.symbol));
      else
        report(reading, at.range, say.missingUnit(subject.name, unit!.symbol, withUnit), {
          fixes: [replacing(reading, at.range, withUnit, `Write ${withUnit}`)],
        });
    }
    return undefined;
  }
  const bySize = sized.length === unique.length;
  const inOrder = bySize ? [...unique].sort((a, b) => a.size!.compare(b.size!)) : unique;
  if (bySize && node.ordered && inOrder.some((option, i) => option !== unique[i])) {
    const whole = { start: unique[0]!.node.range.start, end: unique.at(-1)!.node.range.end };
    const rising = inOrder.map(({ text }) => text).join(", ");
    report(reading, whole, say.notBySize(subject.name, rising), {
      fixes: unique.length === node.options.length ? [replacing(reading, whole, rising, "Write them rising")] : [],
    });
  }
  return { kind: "list", ordered: bySize || node.ordered, bySize, options: inOrder.map(plain), ...(unit && { unit }) };
}

function readOption(reading: Reading, value: tree.Value): ReadOption | undefined {
  if (value.kind === "name") return { text: value.text, node: value };
  if (value.kind === "text") return { text: value.value, node: value };
  if (value.kind !== "quantity") {
    report(reading, value.range, say.notAnOption(textOf(reading, value)));
    return undefined;
  }
  const number = readNumber(value.number);
  if (number === undefined) report(reading, value.range, say.noSuchNumber(value.number));
  const unit = value.unit && readUnit(reading, value.unit);
  if (number === undefined || (value.unit !== undefined && unit === undefined)) return undefined;
  const text = value.unit === undefined ? value.number : `${value.number} ${value.unit.text}`;
  return { text, size: toBase(number.value, unit), node: value, number: value.number, ...(unit && { unit }) };
}

function isSame(a: Option, b: Option): boolean {
  return a.text === b.text || (a.size !== undefined && b.size !== undefined && a.size.equals(b.size));
}

function plain({ text, size }: Option): Option {
  return size === undefined ? { text } : { text, size };
}
