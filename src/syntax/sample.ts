/**
 * Words of the book at hand: for the examples in findings, its first pick with two options and its first scale with two levels; and
 * all that stand in its declarations, to tell what was meant.
 */
import { plainName } from "../lookalikes.js";
import { usualSample, type Sample } from "../messages/syntax.js";

const name = "\\p{Ll}[\\p{L}\\p{N}-]*";
const head = (word: string): string => `^[ \\t]*${word}[ \\t]+(${name})(?:[ \\t]+"[^"\\r\\n]*")?[ \\t]*:[ \\t]*(?:in order[ \\t]+)?`;
const firstPick = new RegExp(`${head("pick")}([^,:\\r\\n]+),[ \\t]*([^,:\\r\\n]+)`, "mu");
const firstScale = new RegExp(`${head("condition")}(${name}),[ \\t]*(${name})`, "mu");

export interface BookWords extends Sample {
  /** All words of declarations, in plain letters, with a blank before and after each. */
  readonly declared: string;
  /** The same of the names of picks and judgements. */
  readonly picks: string;
}

export function sampleOf(text: string): Sample {
  const trimmed = (found: RegExpExecArray | null): string[] | undefined => found?.slice(1).map((word) => word.trim());
  const [pick, option, other] = trimmed(firstPick.exec(text)) ?? [usualSample.pick, usualSample.option, usualSample.other];
  const [condition, level, next] = trimmed(firstScale.exec(text)) ?? [usualSample.condition, usualSample.level, usualSample.next];
  return { pick: pick!, option: option!, other: other!, condition: condition!, level: level!, next: next! };
}

const declarations = /^[ \t]*(?:condition|pick|judgement|situation|band|group|add)[ \t][^\r\n]*/gmu;
const word = /"[^"\r\n]*"|--.*|\p{L}[\p{L}\p{M}\p{N}-]*/gu;

export function wordsOf(text: string): BookWords {
  return { ...sampleOf(text), ...declaredIn(text) };
}

function declaredIn(text: string): Pick<BookWords, "declared" | "picks"> {
  const lines = [...text.matchAll(declarations)].map(([line]) =>
    line
      .match(word)!
      .filter((one) => !/^["-]/.test(one))
      .map(plainName),
  );
  const set = (words: readonly string[]): string => ` ${[...new Set(words)].sort().join(" ")} `;
  return {
    declared: set(lines.flatMap((words) => words.slice(1))),
    picks: set(lines.flatMap(([kind, name]) => (name !== undefined && (kind === "pick" || kind === "judgement") ? [name] : []))),
  };
}
