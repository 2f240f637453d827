/** What the things of a book are called in the protocol, which knows programs only: the nearest kind, for its icon. */
import { CompletionItemKind, DocumentHighlightKind, FoldingRangeKind, SymbolKind } from "vscode-languageserver";
import type { CompletionKind } from "../../service/completion/offer.js";
import type { Fold } from "../../service/folding.js";
import type { Highlight } from "../../service/names/highlight.js";
import type { SymbolKind as Thing } from "../../service/symbols.js";

export const symbolKinds: Readonly<Record<Thing, SymbolKind>> = {
  book: SymbolKind.File,
  "builds on": SymbolKind.Module,
  "leave out": SymbolKind.Event,
  add: SymbolKind.EnumMember,
  condition: SymbolKind.Variable,
  level: SymbolKind.EnumMember,
  member: SymbolKind.EnumMember,
  band: SymbolKind.Interface,
  group: SymbolKind.Array,
  "comparing word": SymbolKind.Operator,
  situation: SymbolKind.Function,
  impossible: SymbolKind.Null,
  pick: SymbolKind.Enum,
  judgement: SymbolKind.Enum,
  option: SymbolKind.EnumMember,
  trust: SymbolKind.Array,
  pattern: SymbolKind.Class,
  "fall back": SymbolKind.Constant,
  "say nothing": SymbolKind.Null,
  caution: SymbolKind.Event,
  promise: SymbolKind.Key,
};

export const completionKinds: Readonly<Record<CompletionKind, CompletionItemKind>> = {
  keyword: CompletionItemKind.Keyword,
  snippet: CompletionItemKind.Snippet,
  condition: CompletionItemKind.Variable,
  level: CompletionItemKind.EnumMember,
  member: CompletionItemKind.EnumMember,
  band: CompletionItemKind.Interface,
  group: CompletionItemKind.Interface,
  situation: CompletionItemKind.Function,
  pick: CompletionItemKind.Enum,
  judgement: CompletionItemKind.Enum,
  option: CompletionItemKind.EnumMember,
  "comparing word": CompletionItemKind.Operator,
  pattern: CompletionItemKind.Class,
  path: CompletionItemKind.File,
  unit: CompletionItemKind.Unit,
  value: CompletionItemKind.Value,
};

export const highlightKinds: Readonly<Record<Highlight["kind"], DocumentHighlightKind>> = {
  declaration: DocumentHighlightKind.Write,
  mention: DocumentHighlightKind.Read,
};

export const foldKinds: Readonly<Partial<Record<Fold["kind"], FoldingRangeKind>>> = {
  books: FoldingRangeKind.Imports,
  comment: FoldingRangeKind.Comment,
};
