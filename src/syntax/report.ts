/** Where the findings of one reading of a book collect: bounded, for a file of rubbish has millions. */
import { severities, type Code, type Finding, type Fix } from "../diagnostics.js";
import { syntaxWords, type Saying } from "../messages/syntax.js";
import type { Range } from "../text.js";
import { wordsOf, type BookWords } from "./sample.js";

export interface Report {
  readonly path: string;
  readonly text: string;
  /** Words of this text, for examples. */
  readonly sample: () => BookWords;
  /** Does a word, in plain letters, stand in a declaration of this text? Only of what is reported anyway, for what is not is kept (`again.ts`). */
  readonly declares: (word: string) => boolean;
  /** The same of the name of a pick or judgement. */
  readonly declaresPick: (word: string) => boolean;
  /** How many were reported so far, kept or not. */
  readonly count: () => number;
  readonly add: (code: Code, range: Range, saying: Saying, fixes?: readonly Fix[]) => void;
  readonly take: (finding: Finding) => void;
  /** Takes what another report of the same text has kept, and counts what it has counted. */
  readonly takeAll: (other: { readonly findings: readonly Finding[]; readonly count: number }) => void;
  /** What was kept, in the order in which it was reported. */
  readonly kept: () => readonly Finding[];
  /** What was kept, by place; one more finding says how many were not. */
  readonly findings: () => readonly Finding[];
}

export const findingLimit = 100;

/** `sampled`: the sample words, where another report of the same text has them. */
export function makeReport(path: string, text: string, sampled?: Report["sample"]): Report {
  const kept: Finding[] = [];
  let count = 0;
  let words: BookWords | undefined;
  const take = (finding: Finding): void => {
    count++;
    if (kept.length < findingLimit) kept.push(finding);
  };
  const sample = sampled ?? (() => (words ??= wordsOf(text)));
  return {
    path,
    text,
    sample,
    declares: (word) => sample().declared.includes(` ${word} `),
    declaresPick: (word) => sample().picks.includes(` ${word} `),
    count: () => count,
    add: (code, range, saying, fixes) => take(makeFinding(path, code, range, saying, fixes)),
    take,
    takeAll: (other) => {
      for (const finding of other.findings) take(finding);
      count += other.count - other.findings.length;
    },
    kept: () => kept,
    findings: () => {
      const sorted = [...kept].sort((a, b) => a.range.start - b.range.start || a.range.end - b.range.end);
      if (count === kept.length) return sorted;
      return [...sorted, makeFinding(path, "syntax", sorted.at(-1)!.range, syntaxWords.more(count - kept.length))];
    },
  };
}

export function makeFinding(path: string, code: Code, range: Range, saying: Saying, fixes: readonly Fix[] = []): Finding {
  return { code, severity: severities[code], path, range, ...saying, ...(fixes.length > 0 ? { fixes } : {}) };
}

/** The same of a wrong form of the language's own words, of quotation marks or of a comment: it cannot change what is meant. */
export function mending(path: string, range: Range, text: string, title: string): Fix {
  return { ...rewrite(path, range, text, title), mends: true };
}

/** A fix that writes `text` in place of `range`: an offer. */
export function rewrite(path: string, range: Range, text: string, title: string): Fix {
  return { title, edits: [{ path, range, text }] };
}
