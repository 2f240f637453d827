/**
 * Selections that grow step by step, from the word at an offset to the whole book.
 *
 *     dirty ⊂ clarity is dirty ⊂ clarity is dirty and sky is dark ⊂ when … ⊂ pattern "Mud" … ⊂ the book
 *
 * Every node of the tree that holds the offset is a step; so are the word itself, what stands between quotes, and a clause with the
 * word that starts it, which the tree does not keep.
 */
import { words } from "../../grammar/tokens.js";
import type * as tree from "../syntax/tree.js";
import { insideQuotes, type Range } from "../text.js";
import type { View } from "./view.js";

/** From the smallest to the whole text, each strictly within the next. */
export function selectionsAt({ text, parsed }: Pick<View, "text" | "parsed">, offset: number): readonly Range[] {
  const whole = { start: 0, end: text.length };
  const { statements, comments } = parsed.tree;
  const steps = [whole, ...comments.map(({ range }) => range), wordAt(text, offset)];
  const statement = statements.find(({ range }) => holds(range, offset));
  if (statement !== undefined)
    steps.push(...rangesIn(statement, offset), ...clausesIn(text, statement), ...insides(text, statement, offset));
  const holding = steps.filter((step) => holds(step, offset) && (step.start < step.end || step === whole));
  const rising = holding.sort((a, b) => a.end - a.start - (b.end - b.start));
  const chain: Range[] = [];
  for (const step of rising) {
    const last = chain.at(-1);
    if (last === undefined || (step.start <= last.start && step.end >= last.end && step.end - step.start > last.end - last.start))
      chain.push(step);
  }
  return chain;
}

function holds({ start, end }: Range, offset: number): boolean {
  return start <= offset && offset <= end;
}

/** A word with its hyphens, or a number with its fraction. */
function wordAt(text: string, offset: number): Range {
  const before = /[\p{L}\p{M}\p{N}./-]*$/u.exec(text.slice(Math.max(0, offset - 200), offset))![0];
  const after = /^[\p{L}\p{M}\p{N}./-]*/u.exec(text.slice(offset, offset + 200))![0];
  const word = before + after;
  const [, left, right] = /^([./-]*).*?([./-]*)$/su.exec(word)!;
  const start = offset - before.length + left!.length;
  return { start: Math.min(start, offset), end: Math.max(offset, offset + after.length - right!.length) };
}

/** The ranges of all nodes below that hold the offset, and of lists of them. */
function rangesIn(node: object, offset: number): Range[] {
  const found: Range[] = [];
  if (isNode(node)) {
    if (!holds(node.range, offset)) return [];
    found.push(node.range);
  }
  if (Array.isArray(node)) {
    const span = spanOf(node);
    if (span !== undefined && holds(span, offset)) found.push(span);
  }
  for (const part of Object.values(node)) if (typeof part === "object" && part !== null) found.push(...rangesIn(part, offset));
  return found;
}

function isNode(part: object): part is tree.Node {
  return "range" in part;
}

function spanOf(list: readonly unknown[]): Range | undefined {
  const ranges = list.flat().flatMap((part) => (typeof part === "object" && part !== null && isNode(part) ? [part.range] : []));
  return ranges.length === 0 ? undefined : { start: ranges[0]!.start, end: ranges.at(-1)!.end };
}

/** The parts of a statement that a word introduces, with it: `when clarity is dirty`, `beats "Mud", "Sun"`. */
function clausesIn(text: string, statement: tree.Statement): Range[] {
  return Object.values(statement).flatMap((part: unknown) => {
    if (typeof part !== "object" || part === null) return [];
    const range = Array.isArray(part) ? spanOf(part) : isNode(part) ? part.range : undefined;
    const lead = range && introduction.exec(text.slice(Math.max(statement.range.start, range.start - 200), range.start));
    return range && lead ? [{ start: range.start - lead[0].length, end: range.end }] : [];
  });
}

const phrases = words
  .filter(({ role, phrase }) => role === "clause" || ["shop", "water", "edition"].includes(phrase))
  .map(({ phrase }) => phrase.replaceAll(" ", "\\s+"));
const introduction = new RegExp(`(?<![\\p{L}\\p{N}-])(?:${phrases.sort((a, b) => b.length - a.length).join("|")})\\s+$`, "u");

/** What stands between the quotes at the offset. */
function insides(text: string, node: object, offset: number): Range[] {
  if (isNode(node) && !holds(node.range, offset)) return [];
  if ("value" in node && typeof node.value === "string" && isNode(node)) return [insideQuotes(text, node.range)];
  return Object.values(node).flatMap((part) => (typeof part === "object" && part !== null ? insides(text, part, offset) : []));
}
