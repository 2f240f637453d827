/**
 * Completion: what may be written at a place, the likeliest first.
 *
 *     context ──▶ what the grammar lets come next ──▶ for a word of the language, the word; for a name, the names that fit there
 *
 * The grammar says *where* a name is due and what for (`pickName`, `optionValue`, `member` …); the table of names says which there are.
 * So whatever is offered leads on to something the parser accepts. What is offered takes the place of the whole word at the cursor.
 */
import type { TokenType } from "chevrotain";
import * as T from "../../../grammar/tokens.js";
import { contextAt } from "./context.js";
import { clauseItems, followsComparingWord, joinItems, relationItems } from "./words.js";
import { bookNames } from "./names.js";
import { subjectOf } from "./about.js";
import { valueItems } from "./values.js";
import type { Due } from "./due.js";
import { bookSnippets } from "./snippets.js";
import type { Completion, CompletionOptions, Offer, Place } from "./offer.js";
import type { View } from "../view.js";

/**
 * Ordered by likelihood; of equal texts the first only. Empty in comments and free texts, and where nothing is left to complete: behind
 * a closing quote and behind a finished word, so that Enter there ends the line whatever an editor does with the first of a list. Never
 * throws.
 */
export function completions(view: View, offset: number, options: CompletionOptions = {}): readonly Completion[] {
  const context = contextAt(view, offset);
  if (context === undefined) return [];
  const place: Place = { view, context, names: bookNames(view.model), options };
  const offers = [...offersAt(place)].sort((a, b) => a.rank - b.rank);
  if (offset === context.word.end && offers.some(({ text }) => text === context.typed)) return [];
  const seen = new Set<string>();
  return offers.flatMap(({ rank: _, from, ...offer }) => {
    const key = offer.snippet ?? offer.text;
    if (seen.has(key)) return [];
    seen.add(key);
    const start = from ?? context.word.start;
    const filter = view.text.slice(start, context.word.start) + (offer.kind === "snippet" ? offer.label : offer.text.replace(/^, /, ""));
    return [{ ...offer, range: { start, end: context.word.end }, filter }];
  });
}

function* offersAt(place: Place): Generator<Offer> {
  const { context } = place;
  const { tokens, phrases } = context;
  const last = tokens.at(-1);
  // `go`, `fall back`: what stands there is no more than the beginning of a phrase.
  const begun = context.lost || (last !== undefined && phrases.length > 0 && T.wordOf.get(last.tokenType)?.phrase !== last.image);
  for (const phrase of phrases)
    for (const offer of offersFor(place, phrase))
      yield { ...offer, text: phrase.rest, from: undefined, rank: begun ? 0 : 350 + offer.rank / 1000 };
  if (context.lost && phrases.length > 0) return;
  const must = duesThatMust(place);
  for (const due of must ?? context.dues) yield* offersFor(place, due);
  if (must || context.quoted || context.indent === undefined) return;
  if (context.mayEnd || context.indent === 0) yield* statementOffers(place, context.indent);
}

/** After a condition what is said of it, after a comparing word `than`: nothing else makes sense, though the grammar would let it come. */
function duesThatMust({ context, names }: Place): readonly Due[] | undefined {
  const { dues, tokens } = context;
  const relations = dues.filter(
    ({ token, within }) => T.wordOf.get(token)?.role === "relation" && within.some(({ rule }) => rule === "term"),
  );
  if (relations[0] && subjectOf(tokens, relations[0].within, names)) return relations;
  const than = dues.filter(({ token, within }) => token === T.Than && followsComparingWord(tokens, within, names));
  return than.length > 0 ? than : undefined;
}

function* offersFor(place: Place, due: Due): Generator<Offer> {
  const word = T.wordOf.get(due.token);
  if (isNamed(due.token)) yield* valueItems(place, due);
  else if (place.context.quoted) return;
  else if (due.token === T.Or || due.token === T.And) yield* joinItems(place, due);
  else if (word?.role === "statement") yield { label: word.phrase, kind: "keyword", text: word.phrase, rank: 0 };
  else if (word?.role === "relation") yield* relationItems(place, due);
  else yield* clauseItems(place, due);
}

const named: readonly TokenType[] = [T.Name, T.Text, T.Number, T.Unit, T.Day, T.Date, T.Time];

function isNamed(token: TokenType): boolean {
  return named.includes(token);
}

const usual = [
  "pattern",
  "condition",
  "pick",
  "fall back on",
  "band",
  "group",
  "situation",
  "judgement",
  "trust",
  "trust for",
  "promise",
  "caution",
  "impossible",
  "say nothing on",
  "builds on",
  "leave out",
  "add",
  "book",
];

/** At the beginning of a line the next statement is what is wanted; further in, rather a clause of this one. */
function* statementOffers({ names, context }: Place, indent: number): Generator<Offer> {
  const rank = indent === 0 ? 100 : 700;
  for (const { phrase, role } of T.words)
    if (role === "statement") yield { label: phrase, kind: "keyword", text: phrase, rank: rank + usual.indexOf(phrase) };
  for (const { prefix, title, about, text, snippet } of bookSnippets(names))
    yield {
      label: `${prefix}: ${title.toLowerCase()}`,
      kind: "snippet",
      detail: about,
      text,
      snippet,
      // A statement begins at the margin, wherever the editor has put the cursor.
      from: context.word.start - indent,
      rank: rank + 30 + usual.indexOf(prefix),
    };
}
