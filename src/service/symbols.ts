/**
 * What a book declares and says, as an outline, and what many books declare, to be searched.
 *
 *     condition clarity "Water clarity"              pattern "Mud wants thump"  go with blade round, then leaf
 *       clear, stained, dirty                        fall back on blade
 *     band water-temp                                impossible when day is winter and …
 *       cold below 50 °F, cool below 70 °F, warm
 */
import type { Place } from "../diagnostics.js";
import type * as tree from "../syntax/tree.js";
import { insideQuotes, type Range } from "../text.js";
import { namesOf } from "./names/names.js";
import type { Thing, ThingKind } from "../model/names.js";
import type { View } from "./view.js";

export type SymbolKind = ThingKind | Exclude<tree.Statement["kind"], ThingKind>;

export interface DocumentSymbol {
  readonly kind: SymbolKind;
  /** Never empty. */
  readonly name: string;
  /** What goes beside the name: a label, a limit, what a pattern does. */
  readonly detail?: string;
  /** All of it. */
  readonly range: Range;
  /** The part to go to, within `range`. */
  readonly nameRange: Range;
  readonly children: readonly DocumentSymbol[];
}

/** Every statement in the order it stands in, with the levels, members, bands or options it declares below it. */
export function documentSymbols({ text, parsed }: Pick<View, "text" | "parsed">): readonly DocumentSymbol[] {
  return parsed.tree.statements.map((statement) => symbolOf(text, statement));
}

export interface WorkspaceSymbol {
  readonly thing: Thing;
  readonly place: Place;
}

/** All that any of the books declares whose name holds the letters of the query in their order; the best fits first. An empty query fits everything. */
export function workspaceSymbols(views: readonly View[], query: string): readonly WorkspaceSymbol[] {
  const wanted = query.toLowerCase().replace(/\s+/g, "");
  const found = new Map<string, WorkspaceSymbol & { readonly fit: number }>();
  for (const view of views) {
    for (const { thing, path, range, declares } of namesOf(view).mentions) {
      if (!declares || thing.kind === "comparing word") continue;
      const key = `${range.start} ${path}`;
      const fit = found.has(key) ? undefined : fitOf(thing.name.toLowerCase(), wanted);
      if (fit !== undefined) found.set(key, { thing, place: { path, range }, fit });
    }
  }
  return [...found.values()].sort((a, b) => a.fit - b.fit).map(({ thing, place }) => ({ thing, place }));
}

/** 0: begins with it, 1: holds it, 2: holds its letters. */
function fitOf(name: string, wanted: string): number | undefined {
  const plain = name.replace(/\s+/g, "");
  if (plain.includes(wanted)) return plain.startsWith(wanted) ? 0 : 1;
  let at = -1;
  for (const letter of wanted) {
    at = plain.indexOf(letter, at + 1);
    if (at < 0) return undefined;
  }
  return 2;
}

function symbolOf(text: string, node: tree.Statement): DocumentSymbol {
  const write = (part: tree.Node | undefined): string | undefined => part && onOneLine(text.slice(part.range.start, part.range.end));
  const inside = (part: tree.Text | undefined): tree.Node | undefined => part && { range: insideQuotes(text, part.range) };
  const symbol = (name: tree.Node | undefined, detail?: string, children: readonly DocumentSymbol[] = []): DocumentSymbol => {
    const own = write(name) || undefined;
    return {
      kind: node.kind,
      name: own ?? node.kind,
      ...(detail && { detail }),
      range: node.range,
      nameRange: own === undefined ? firstWord(text, node.range) : name!.range,
      children,
    };
  };
  const parts = (kind: SymbolKind, nodes: readonly tree.Node[]) => nodes.map((part) => leaf(text, kind, part, part));
  switch (node.kind) {
    case "book":
      return symbol(inside(node.title), node.edition?.value);
    case "builds on":
      return symbol(inside(node.path));
    case "leave out":
      return symbol(node.titles[0] && spanOf(node.titles));
    case "add":
      return symbol(node.pick, undefined, parts("option", node.options));
    case "condition": {
      const { domain } = node;
      const values =
        domain?.kind === "scale" ? parts("level", domain.levels) : domain?.kind === "set" ? parts("member", domain.members) : [];
      return symbol(node.name, node.label?.value ?? (values.length === 0 ? write(domain) : undefined), values);
    }
    case "band":
      return symbol(
        node.condition,
        undefined,
        node.parts.map((part) => leaf(text, "band", part.name, part)),
      );
    case "group":
      return symbol(node.name, node.condition && [node.condition.text, listed(text, node.members)].filter(Boolean).join(": "));
    case "situation":
      return symbol(node.name, write(node.test));
    case "impossible":
      return symbol(node.when);
    case "pick":
    case "judgement":
      return symbol(node.name, node.label?.value ?? (node.sameAs && `same as ${node.sameAs.text}`), parts("option", node.options));
    case "trust":
      return symbol(node.pick, listed(text, node.order));
    case "pattern":
      return symbol(inside(node.title), node.actions.map(write).join("; "));
    case "fall back":
      return symbol(node.pick, listed(text, node.places.flat()));
    case "say nothing":
      return symbol(node.everything ?? (node.picks[0] && spanOf(node.picks)), write(node.when));
    case "caution":
      return symbol(inside(node.title), write(node.when));
    case "promise":
      return symbol(inside(node.title), node.pick?.text);
  }
}

/** An option in quotes is called what stands between them. */
function leaf(text: string, kind: SymbolKind, name: tree.Node, { range }: tree.Node): DocumentSymbol {
  const nameRange = insideQuotes(text, name.range);
  const own = onOneLine(text.slice(nameRange.start, nameRange.end));
  const after = onOneLine(text.slice(name.range.end, range.end));
  return { kind, name: own || kind, ...(after && { detail: after }), range, nameRange: own === "" ? name.range : nameRange, children: [] };
}

function listed(text: string, nodes: readonly tree.Node[]): string | undefined {
  return nodes[0] && onOneLine(text.slice(nodes[0].range.start, nodes.at(-1)!.range.end));
}

function spanOf(nodes: readonly tree.Node[]): tree.Node {
  return { range: { start: nodes[0]!.range.start, end: nodes.at(-1)!.range.end } };
}

function firstWord(text: string, { start, end }: Range): Range {
  return { start, end: start + (/^\S+/.exec(text.slice(start, end))?.[0].length ?? 0) };
}

/** Comments may stand between any two words. */
function onOneLine(text: string): string {
  return text
    .replace(/--[^\r\n]*/g, " ")
    .replace(/\s+/g, " ")
    .trim();
}
