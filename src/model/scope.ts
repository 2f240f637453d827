/**
 * What the names in a book stand for while it is being resolved.
 *
 *     clarity ──▶ Subject   a condition, pick or judgement: its values, bands, groups and comparing words
 *     low-vision ──▶ Named test   a situation
 *
 * Names are shared by all the books read, so there is one Scope; a Reading is the scope seen from one book: it knows where findings
 * are to be placed. A subject whose own declaration could not be read is *muted*: the fault has been told once, and whatever is said of
 * the subject is left unread without a second finding.
 */
import { severities, type Finding, type Fix, type Place, type Related } from "../diagnostics.js";
import type { Said } from "../messages/model.js";
import type { Parsed } from "../syntax/parse.js";
import type * as tree from "../syntax/tree.js";
import type { Range } from "../text.js";
import type { Bound, Stretch } from "./bound.js";
import type { Option } from "./model.js";
import type { Mention } from "./names.js";
import type { Unit, Written } from "./quantities.js";

export interface Scope {
  readonly subjects: Map<string, Subject>;
  readonly situations: Map<string, NamedTest>;
  /** One for each book read. */
  readonly readings: Reading[];
  /** The situations being bound right now, each for the one before it. */
  readonly binding: NamedTest[];
  /** Something a book builds on could not be read, so a name nobody knows may well be declared there. */
  somethingMissing: boolean;
  readonly findings: Finding[];
  /** Findings of the parser in whose place one of these stands: with the names known, more can be said. */
  readonly toldAnew: Set<Finding>;
  /** Subjects, bands, groups and situations that some test speaks of. */
  readonly mentioned: Set<object>;
  /** Every name that was bound, as that comes. */
  readonly names: Mention[];
  /** The limits written on each continuous measure, in its own unit. */
  readonly limits: Map<number, Written[]>;
}

export interface Subject {
  readonly kind: "condition" | "pick" | "judgement";
  readonly name: string;
  /** Among the conditions, or among picks and judgements, in the order written. */
  readonly index: number;
  readonly place: Place;
  values: Values;
  /** On a judgement that copies a condition, the groups are the condition's. */
  readonly bands: Map<string, NamedStretch>;
  readonly groups: Map<string, NamedList>;
  /** Of a judgement: the condition that it is the same as. */
  copies?: Subject;
  /** Comparing words; `unasked` are those of masses, which stand beside `at least` and the like. */
  words?: { readonly rising: string; readonly falling: string; readonly unasked: boolean };
  /** Nothing can be said of it: its values are not known. */
  muted: boolean;
  /** The parser could not read all of its values, so one that is unknown here may well stand there. */
  partial: boolean;
  /** Words from a declaration that was turned down: no finding where they are used. */
  readonly forgiven: Set<string>;
}

export type Values =
  /** Levels or options; rungs are their indexes. `bySize`: quantities, rising, all in units of one kind. */
  | {
      readonly kind: "list";
      readonly ordered: boolean;
      readonly bySize: boolean;
      readonly options: readonly Option[];
      readonly unit?: Unit;
    }
  | { readonly kind: "set"; readonly members: readonly string[] }
  | Measure
  | { readonly kind: "days" }
  | { readonly kind: "times" };

export interface Measure {
  readonly kind: "measure";
  readonly low: Written["value"];
  readonly high: Written["value"];
  readonly step?: Written["value"];
  readonly unit?: Unit;
}

export interface Named {
  readonly name: string;
  readonly book: number;
  readonly place: Place;
  readonly namePlace: Place;
}
interface NamedStretch extends Named {
  readonly stretch: Stretch;
}
interface NamedList extends Named {
  /** Indexes of levels or members. */
  readonly members: readonly number[];
}
export interface NamedTest extends Named {
  readonly tree: tree.Situation;
  /** Undefined until first asked for. */
  bound?: Bound;
}

/** The scope seen from one book, as the parser read it. */
export interface Reading extends Parsed {
  readonly scope: Scope;
  readonly book: number;
}

export interface Extra {
  readonly fixes?: readonly Fix[];
  readonly related?: readonly Related[];
  readonly patterns?: readonly string[];
  readonly pick?: string;
}

export function emptyScope(): Scope {
  return {
    subjects: new Map(),
    situations: new Map(),
    readings: [],
    binding: [],
    somethingMissing: false,
    findings: [],
    toldAnew: new Set(),
    mentioned: new Set(),
    names: [],
    limits: new Map(),
  };
}

export function report(reading: Reading, range: Range, said: Said, extra: Extra = {}): void {
  reading.scope.findings.push({ ...said, severity: severities[said.code], path: reading.path, range, ...extra });
}

export function placeOf(reading: Reading, range: Range): Place {
  return { path: reading.path, range };
}

/** What stands at a place, as written. */
export function textOf(reading: Reading, { range }: tree.Node): string {
  return reading.text.slice(range.start, range.end);
}

/** A fix that replaces one stretch of the book's text. */
export function replacing(reading: Reading, range: Range, text: string, title: string): Fix {
  return { title, edits: [{ path: reading.path, range, text }] };
}

/**
 * The fix that goes with "did you mean", where only the spelling can be meant: another number is another thing, and so may another
 * word of three letters be (`jug`, `jig`). `put`: what to write, if not the close word as it is.
 */
export function spelling(reading: Reading, range: Range, name: string, close: string | undefined, put = close): readonly Fix[] {
  const digits = (text: string): string => text.replace(/\D+/g, " ").trim();
  if (close === undefined || put === undefined || [...name].length <= 3 || digits(name) !== digits(close)) return [];
  return [replacing(reading, range, put, `Write ${put}`)];
}

/** The names by which the values of a subject can be called. */
export function valueNames(subject: Subject): string[] {
  const { values } = subject;
  const own = values.kind === "list" ? values.options.map(({ text }) => text) : values.kind === "set" ? [...values.members] : [];
  return [...own, ...subject.bands.keys(), ...subject.groups.keys()];
}
