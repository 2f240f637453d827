/** Words of the book at hand for the examples in findings: its first pick with two options, its first scale with two levels. */
import { usualSample, type Sample } from "../messages/syntax.js";

const name = "\\p{Ll}[\\p{L}\\p{N}-]*";
const head = (word: string): string => `^[ \\t]*${word}[ \\t]+(${name})(?:[ \\t]+"[^"\\r\\n]*")?[ \\t]*:[ \\t]*(?:in order[ \\t]+)?`;
const firstPick = new RegExp(`${head("pick")}([^,:\\r\\n]+),[ \\t]*([^,:\\r\\n]+)`, "mu");
const firstScale = new RegExp(`${head("condition")}(${name}),[ \\t]*(${name})`, "mu");

export function sampleOf(text: string): Sample {
  const trimmed = (found: RegExpExecArray | null): string[] | undefined => found?.slice(1).map((word) => word.trim());
  const [pick, option, other] = trimmed(firstPick.exec(text)) ?? [usualSample.pick, usualSample.option, usualSample.other];
  const [condition, level, next] = trimmed(firstScale.exec(text)) ?? [usualSample.condition, usualSample.level, usualSample.next];
  return { pick: pick!, option: option!, other: other!, condition: condition!, level: level!, next: next! };
}
