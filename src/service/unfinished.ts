/**
 * What somebody who has paused is in the middle of: an error that goes away by writing on is none yet.
 *
 *     when sky is bri▮          `bri` is no value of sky          `bright`, which is offered, is one: it waits
 *     when cover▮               cover alone is no test            `cover has`, which may come next, begins one: it waits
 *     when sky is brx▮          `brx` is no value of sky          nothing that may come mends it: it is told
 *     when skj is bri▮          `skj` is no condition             nor this: it is told
 *     builds on "common▮"       there is no book `common`         no path of a book ends like that: it waits
 *
 * Found out by writing on: what is offered is put there, and the book is read again. What is missing then is of no interest. A large book
 * takes long to read so often, so whoever has time does it in pieces first (`trying`); what was tried is known as long as the reading is.
 */
import type { Finding } from "../diagnostics.js";
import { resolve } from "../model/resolve.js";
import { wordingOf } from "../same-finding.js";
import { parse } from "../syntax/parse.js";
import type { Range } from "../text.js";
import { completions } from "./completion/completion.js";
import { contextAt } from "./completion/context.js";
import { openView, type View } from "./view.js";

/** Of some findings, those in the statement that somebody has just written in, at an offset. */
export function atHand(view: View, findings: readonly Finding[], offset: number): ReadonlySet<Finding> {
  const { start, end } = statementAt(view, offset);
  return new Set(findings.filter(({ path, range }) => path === view.path && range.start < end && range.end >= start));
}

/** The statement that a place is in, or right behind, with all up to the next. */
export function statementAt({ parsed, text }: View, offset: number): Range {
  const starts = parsed.tree.statements.map(({ range }) => range.start);
  return { start: starts.findLast((one) => one <= offset) ?? 0, end: starts.find((one) => one > offset) ?? text.length + 1 };
}

/** Of the same, those that have to wait until it is left, of what reading has found. */
export function unfinished(view: View, findings: readonly Finding[], offset: number): ReadonlySet<Finding> {
  const open = new Map<string, Finding[]>();
  for (const finding of atHand(view, findings, offset)) open.set(wordingOf(finding), [...(open.get(wordingOf(finding)) ?? []), finding]);
  const waits = new Set<Finding>();
  for (const [wording, own] of open) {
    if (!own.every((finding) => isHalfText(view, finding))) continue;
    own.forEach((finding) => waits.add(finding));
    open.delete(wording);
  }
  const trials = trialsOf(view, offset);
  for (let at = 0; open.size > 0; at++) {
    const found = trials.result(at);
    if (found === undefined) break;
    const left = new Set(found.map(wordingOf));
    for (const [wording, own] of open) {
      if (left.has(wording) || own.some((finding) => found.some((one) => isStillWrong(finding, one)))) continue;
      own.forEach((finding) => waits.add(finding));
      open.delete(wording);
    }
  }
  return waits;
}

/** Tries all that `unfinished` may ask about, a way of writing on at each step. */
export function* trying(view: View, findings: readonly Finding[], offset: number): Generator<void, void> {
  if (atHand(view, findings, offset).size === 0) return;
  const trials = trialsOf(view, offset);
  for (let at = 0; trials.result(at) !== undefined; at++) yield;
}

interface Trials {
  readonly offset: number;
  /** What is found when somebody writes on in the first way, the second …; undefined: there are no more ways. */
  result(at: number): readonly Finding[] | undefined;
}

/** By what was read: an analysis makes another view of it, and a change of a book that it builds on another reading of the same text. */
const tried = new WeakMap<View["model"], Trials>();

function trialsOf(view: View, offset: number): Trials {
  const known = tried.get(view.model);
  if (known?.offset === offset) return known;
  const texts = writtenOn(view, offset);
  const results: (readonly Finding[] | undefined)[] = [];
  const trials: Trials = {
    offset,
    result: (at) => {
      while (results.length <= at) {
        const next = texts.next();
        results.push(next.done ? undefined : reread(view, next.value));
      }
      return results[at];
    },
  };
  tried.set(view.model, trials);
  return trials;
}

/** A text with nothing in it yet, or the path of a book that has not come to its ending. */
function isHalfText({ text }: View, { code, range }: Finding): boolean {
  const written = text.slice(range.start, range.end);
  return /^["“]["”]?$/.test(written) || (code === "file" && !/\.lore["”]?$/.test(written));
}

/** A word that is no value of a condition is no better for being taken for a condition that there is not. */
function isStillWrong(before: Finding, now: Finding): boolean {
  const { start, end } = before.range;
  return before.code !== "syntax" && now.code === before.code && now.path === before.path && now.range.start < end && now.range.end > start;
}

/** So many offers are tried at each of two places. */
const MOST = 8;

/** The text as it would be if somebody went on, in some of the ways there are: with the word, and behind it. */
function* writtenOn(view: View, offset: number): Generator<string> {
  const { text } = view;
  const context = contextAt(view, offset);
  const end = context?.word.end ?? offset;
  const typed = context?.typed ?? "";
  if (typed !== "")
    for (const { range, text: word } of offersAt(view, offset).slice(0, MOST))
      yield text.slice(0, range.start) + word + text.slice(range.end);
  const isOpen = context?.quoted === true && !/["”]$/.test(text.slice(0, end));
  const head = text.slice(0, end) + (isOpen ? '"' : "");
  const rest = text.slice(end);
  if (isOpen) yield head + rest;
  const [hanging] = /[-./]+$/.exec(text.slice(0, offset)) ?? [""];
  if (hanging !== "") yield text.slice(0, offset - hanging.length) + text.slice(offset);
  yield `${head}: ${rest}`;
  const spaced = readOn(view, `${head} ${rest}`);
  for (const { range, text: word } of offersAt(spaced, head.length + 1).slice(0, MOST))
    yield spaced.text.slice(0, range.start) + word + spaced.text.slice(range.end);
}

/** What goes on with what is typed, the likeliest first. */
function offersAt(view: View, offset: number): ReturnType<typeof completions> {
  return completions(view, offset).filter(({ kind, range, filter }) => {
    const typed = view.text.slice(range.start, offset).toLowerCase();
    return kind !== "snippet" && filter.length > typed.length && filter.toLowerCase().startsWith(typed);
  });
}

function readOn(view: View, text: string): View {
  return openView(view.path, text, readerOf(view), { on: view.model.on, parsed: parse(text, view.path, view.parsed) });
}

function reread(view: View, text: string): readonly Finding[] {
  return resolve(parse(text, view.path, view.parsed), readerOf(view), { on: view.model.on }).findings;
}

/** The books that it builds on, as they were read. */
function readerOf({ path, model }: View): (wanted: string) => { readonly text: string } | { readonly problem: string } {
  const books = new Map(model.books.map((book) => [book.path, book.text]));
  return (wanted) => {
    const text = wanted === path ? undefined : books.get(wanted);
    return text === undefined ? { problem: "" } : { text };
  };
}
