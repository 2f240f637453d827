/**
 * What was edited: the statements of two books, as they are written, where they do not read the same.
 *
 *     “Warm dawn, topwater”   when   was  daylight is dawn and water-temp is warm
 *                                    now  daylight is dawn and water-temp is 65 °F or warmer
 *
 * By text and not by meaning, since whoever reads it remembers what he typed; layout, comments and order are no edit. Values of
 * conditions and options of picks are told of where the space is; words for people, such as reasons, among the words.
 */
import type { ToldPart } from "../messages/compare.js";
import type { Book, Model } from "../model/model.js";
import type { Node, Statement } from "../syntax/tree.js";
import type { Comparison } from "./compare.js";
import type { Change } from "./statements.js";

export interface Edit {
  readonly change: Change;
  /** Of what: a pattern by its title, all else by name; empty where there is none. */
  readonly of: string;
  /** One part; of a pattern that is new or gone, all of them. */
  readonly parts: readonly { readonly part: ToldPart; readonly was: readonly string[]; readonly now: readonly string[] }[];
}

/** Patterns first, each side's in the order of the newer book. */
export function editsOf({ models: { before, after } }: Pick<Comparison, "models">): readonly Edit[] {
  const [was, now] = [writtenIn(before), writtenIn(after)];
  const edits = [...new Set([...now.keys(), ...was.keys()])].flatMap((key): readonly (Edit & { readonly isPattern: boolean })[] => {
    const [a, b] = [was.get(key), now.get(key)];
    const { of, isPattern } = (b ?? a)!;
    const parts = [...new Set([...(b?.parts.keys() ?? []), ...(a?.parts.keys() ?? [])])]
      .map((part) => {
        const [old, own] = [a?.parts.get(part) ?? [], b?.parts.get(part) ?? []];
        return { part, was: without(old, own), now: without(own, old) };
      })
      .filter((one) => one.was.length + one.now.length > 0);
    if (parts.length === 0) return [];
    if (isPattern && (!a || !b)) return [{ change: a ? "removed" : "added", of, parts, isPattern }];
    return parts.map((one) => ({ change: "changed", of, parts: [one], isPattern }));
  });
  return [...edits.filter(({ isPattern }) => isPattern), ...edits.filter(({ isPattern }) => !isPattern)].map(({ change, of, parts }) => ({
    change,
    of,
    parts,
  }));
}

interface Written {
  readonly of: string;
  readonly isPattern: boolean;
  readonly parts: Map<ToldPart, string[]>;
}

/** By kind and name: a statement that stands several times is one with all its parts. */
function writtenIn(model: Model): ReadonlyMap<string, Written> {
  const all = new Map<string, Written>();
  // A pattern that was left out is in the tree of its book, and not in the model.
  const counts = new Set(model.patterns.map(({ book, place }) => `${book} ${place.range.start}`));
  model.books.forEach((book, index) => {
    for (const statement of book.tree.statements) {
      const isPattern = statement.kind === "pattern";
      if (isPattern && !counts.has(`${index} ${statement.range.start}`)) continue;
      for (const { of, part, texts } of partsOf(book, statement)) {
        if (texts.length === 0) continue;
        const key = `${isPattern ? "pattern" : part} ${of}`;
        const known = all.get(key) ?? { of, isPattern, parts: new Map<ToldPart, string[]>() };
        known.parts.set(part, [...(known.parts.get(part) ?? []), ...texts]);
        all.set(key, known);
      }
    }
  });
  return all;
}

function partsOf(
  { text }: Book,
  statement: Statement,
): readonly { readonly of: string; readonly part: ToldPart; readonly texts: readonly string[] }[] {
  const each = (nodes: readonly (Node | undefined)[]): readonly string[] =>
    nodes.flatMap((node) => (node ? [plain(text.slice(node.range.start, node.range.end))] : []));
  const whole = (nodes: readonly Node[]): readonly string[] =>
    nodes.length === 0 ? [] : [plain(text.slice(nodes[0]!.range.start, nodes.at(-1)!.range.end))];
  switch (statement.kind) {
    case "pattern": {
      const { title, actions, when, beats } = statement;
      const of = title?.value ?? "";
      return [
        { of, part: "action", texts: each(actions) },
        { of, part: "when", texts: each([when]) },
        { of, part: "beats", texts: each(beats) },
      ];
    }
    case "band":
      return [{ of: statement.condition?.text ?? "", part: "bands", texts: each(statement.parts) }];
    case "group":
      return [{ of: statement.name?.text ?? "", part: "members", texts: whole(statement.members) }];
    case "situation":
      return [{ of: statement.name?.text ?? "", part: "test", texts: each([statement.test]) }];
    case "pick":
    case "judgement": {
      const of = statement.name?.text ?? "";
      return [
        { of, part: "only when", texts: each([statement.onlyWhen]) },
        { of, part: "same as", texts: each([statement.sameAs]) },
      ];
    }
    case "fall back":
      return [{ of: statement.pick?.text ?? "", part: "fall back", texts: whole(statement.places.flat()) }];
    case "say nothing":
      return (statement.everything ? ["everything"] : statement.picks.map(({ text }) => text)).map((of) => ({
        of,
        part: "say nothing" as const,
        texts: each([statement.when]),
      }));
    case "trust":
      return [{ of: statement.pick?.text ?? "", part: "trust", texts: whole(statement.order) }];
    case "impossible":
      return [{ of: "", part: "impossible", texts: each([statement.when]) }];
    default:
      return [];
  }
}

/** In one line, without comments; in quotes two hyphens are no comment. */
function plain(text: string): string {
  return text
    .replace(/"[^"\r\n]*"|--[^\r\n]*/g, (part) => (part.startsWith("--") ? "" : part))
    .replace(/\s+/g, " ")
    .trim();
}

/** Texts of the one that the other does not have; blanks do not matter. */
function without(texts: readonly string[], other: readonly string[]): readonly string[] {
  const keyOf = (text: string): string => text.replace(/\s/g, "");
  const left = other.map(keyOf);
  return texts.filter((text) => {
    const at = left.indexOf(keyOf(text));
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
}
