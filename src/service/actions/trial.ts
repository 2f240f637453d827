/**
 * Whether a change helps, found out by making it: the changed texts are read again, and, for what only the analysis can see,
 * analysed again, as far as the picks go that the change can reach.
 *
 *     edits ──▶ texts ──▶ model ──▶ the same finding still there? anything broken that was not? ──▶ offered or not
 *
 * So no fix is ever offered that does not do what it says.
 */
import type { Edit, Finding } from "../../diagnostics.js";
import type { Model } from "../../model/model.js";
import { picksIn } from "../../model/atoms.js";
import { resolve } from "../../model/resolve.js";
import { slipOf, troubleOf, wordingOf } from "../../same-finding.js";
import { parse } from "../../syntax/parse.js";
import { applied } from "./edits.js";
import { silences, undermines } from "./harm.js";
import { meaningOf, meaningOfPattern } from "./meaning.js";
import { canHold, rechecking, type Rechecked, type TrialLimits } from "./recheck.js";
import type { View } from "../view.js";

export interface Trial {
  /** The finding is gone, no error is there that was not there before, and nothing is lost that the title does not name. */
  settles(finding: Finding, edits: readonly Edit[], title: string): Generator<void, boolean>;
  /** The book can be read as before and means the same, but for promises that have been added behind the others. */
  keeps(edits: readonly Edit[]): Generator<void, boolean>;
}

/** What was tried on a view before. */
const known = new WeakMap<View, Map<string, boolean>>();

/** In short pieces of work. Throws only `Interrupted`. */
export function trialOf(view: View, options: TrialLimits = {}): Trial {
  const results = known.get(view) ?? new Map<string, boolean>();
  known.set(view, results);
  function* once(key: readonly unknown[], work: Generator<void, boolean>): Generator<void, boolean> {
    const name = JSON.stringify(key);
    const result = results.get(name) ?? (yield* work);
    results.set(name, result);
    return result;
  }
  return {
    settles: (finding, edits, title) =>
      once([finding.code, finding.range, finding.message, edits, title], settling(view, finding, edits, title, options)),
    keeps: (edits) => once([edits], keeping(view, edits)),
  };
}

function* settling(view: View, finding: Finding, edits: readonly Edit[], title: string, options: TrialLimits): Generator<void, boolean> {
  if (undermines(view, finding, edits)) return false;
  const after = reread(view, edits, options);
  yield;
  if (!after || brought(view.findings, after.findings, mayReveal(finding, edits) ? insertedIn(edits, view.path) : undefined)) return false;
  if (silences(view.model, after.model, title)) return false;
  if (isOfReading(finding)) return count(after.findings, finding) < Math.max(1, count(view.findings, finding));
  // What changes no answer needs no proof of what it changes: the part or pattern is not there any more.
  if (finding.code === "does-nothing" || finding.code === "changes-nothing") return true;
  const picks = reached(view.model, after.model, finding);
  const before = view.analysis?.findings ?? (yield* rechecking(view.model, picks, finding.code, undefined, options)).findings;
  const now = yield* rechecking(after.model, picks, finding.code, view.analysis, options);
  if (!now.decided || strands(view, after.model, now)) return false;
  const keyAfter = (one: Finding): string => troubleIn(after.model, one);
  const old = before.map((one) => troubleIn(view.model, one));
  const own = troubleIn(view.model, finding);
  const left = now.findings.filter((one) => keyAfter(one) === own);
  if (now.findings.some((one) => one.severity === "error" && !old.includes(keyAfter(one)))) return false;
  return (
    left.length < old.filter((key) => key === own).length ||
    (finding.code === "hairline" && left.every((one) => isElsewhere(view.model, one, finding)))
  );
}

/** A pattern that asks what picks are could apply somewhere, and now applies nowhere, since they never are what it asks for. */
function strands({ model, analysis }: View, after: Model, { applies }: Rechecked): boolean {
  return after.patterns.some(({ title, when }) => {
    if (!when || picksIn(when).length === 0 || applies(when) !== false) return false;
    const was = model.patterns.find((one) => one.title === title)?.when;
    return !analysis || !was || canHold(analysis.answers, was) !== false;
  });
}

function* keeping(view: View, edits: readonly Edit[]): Generator<void, boolean> {
  const after = reread(view, edits);
  yield;
  return (
    after !== undefined &&
    !brought(view.findings, after.findings) &&
    meaningOf({ ...after.model, promises: after.model.promises.slice(0, view.model.promises.length) }) === meaningOf(view.model)
  );
}

interface Reread {
  readonly model: Model;
  readonly findings: readonly Finding[];
}

/** The view's book after the edits; undefined where an edit is of a book that is not at hand. */
function reread({ path, model, text }: View, edits: readonly Edit[], { read }: TrialLimits = {}): Reread | undefined {
  const before = new Map(model.books.map((book) => [book.path, book.text]));
  before.set(path, text);
  if (edits.length === 0 || edits.some((edit) => !before.has(edit.path))) return undefined;
  const texts = applied(before, edits);
  return resolve(
    parse(texts.get(path)!, path),
    (wanted) => {
      const found = texts.get(wanted);
      return found === undefined ? (read?.(wanted) ?? { problem: "" }) : { text: found };
    },
    { on: model.on },
  );
}

/** Found by reading alone, before any analysis. */
function isOfReading({ code, pick, patterns }: Finding): boolean {
  if (code === "circle") return patterns === undefined;
  return pick === undefined && !["does-nothing", "changes-nothing", "promise", "budget"].includes(code);
}

/** Mending one slip may bring another to light that was there all the time. What is taken out must leave no hole, though. */
function mayReveal(finding: Finding, edits: readonly Edit[]): boolean {
  return isOfReading(finding) && edits.every(({ text }) => text !== "");
}

/** Any error of reading that was not there; `at`: only what stands in these stretches. */
function brought(before: readonly Finding[], after: readonly Finding[], at?: readonly Stretch[]): boolean {
  const errors = (findings: readonly Finding[]): readonly Finding[] =>
    findings.filter(({ severity, code }) => severity === "error" && code !== "file");
  const left = new Map<string, number>();
  for (const finding of errors(before)) left.set(slipOf(finding), (left.get(slipOf(finding)) ?? 0) + 1);
  return errors(after).some((finding) => {
    const key = slipOf(finding);
    const known = left.get(key) ?? 0;
    left.set(key, known - 1);
    return known <= 0 && (at === undefined || at.some(({ start, end }) => finding.range.start < end && finding.range.end > start));
  });
}

interface Stretch {
  readonly start: number;
  readonly end: number;
}

/** Where what the edits write stands afterwards. */
function insertedIn(edits: readonly Edit[], path: string): readonly Stretch[] {
  let shift = 0;
  return edits
    .filter((edit) => edit.path === path)
    .sort((a, b) => a.range.start - b.range.start)
    .map(({ range, text }) => {
      const start = range.start + shift;
      shift += text.length - (range.end - range.start);
      return { start, end: start + text.length };
    });
}

function count(findings: readonly Finding[], finding: Finding): number {
  return findings.filter((one) => wordingOf(one) === wordingOf(finding)).length;
}

/** The picks that the finding is about, and those on which a changed pattern speaks. */
function reached(before: Model, after: Model, { pick, patterns = [] }: Finding): ReadonlySet<number> {
  const names = new Set(pick === undefined ? [] : [pick]);
  const old = new Map(before.patterns.map((pattern) => [meaningOfPattern(before, pattern), pattern]));
  const now = new Map(after.patterns.map((pattern) => [meaningOfPattern(after, pattern), pattern]));
  const changed = [
    ...[...old].filter(([key]) => !now.has(key)).map(([, pattern]) => ({ model: before, pattern })),
    ...[...now].filter(([key]) => !old.has(key)).map(([, pattern]) => ({ model: after, pattern })),
  ];
  for (const { model, pattern } of [
    ...changed,
    ...before.patterns.filter(({ title }) => patterns.includes(title)).map((pattern) => ({ model: before, pattern })),
  ])
    for (const part of [...pattern.goes, ...pattern.leans, ...pattern.nevers, ...pattern.moves]) names.add(model.picks[part.pick]!.name);
  return new Set(after.picks.filter(({ name }) => names.has(name)).map(({ index }) => index));
}

function troubleIn(model: Model, finding: Finding): string {
  const { path, range } = finding;
  const promise = model.promises.find(({ namePlace }) => namePlace.path === path && namePlace.range.start === range.start);
  return troubleOf(finding, promise?.title);
}

/** One finding tells of all hairlines of a pick: this one is at another value of a continuous measure. */
function isElsewhere({ conditions }: Model, a: Finding, b: Finding): boolean {
  return conditions.some(
    ({ name, domain }) => domain.kind === "measure" && domain.step === undefined && (a.example?.[name] ?? "") !== (b.example?.[name] ?? ""),
  );
}
