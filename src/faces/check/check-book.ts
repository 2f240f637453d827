/**
 * One book checked, with all that it builds on.
 *
 * Like all faces it imports the stages one by one and not through `index.ts`: a command should load only what it runs. What comes
 * out is plain data, so that it can be kept and used again while the books are the same.
 */
import { analyse } from "../../analysis/analyse.js";
import { statuses, type Status } from "../../analysis/outcome.js";
import type { Finding } from "../../diagnostics.js";
import { resolve } from "../../model/resolve.js";
import type { Read } from "../../model/books.js";
import { parse } from "../../syntax/parse.js";

export interface Source {
  readonly path: string;
  readonly text: string;
}

export interface CheckedBook {
  readonly path: string;
  readonly title: string;
  /** Of this book and of those that it builds on. */
  readonly findings: readonly Finding[];
  readonly coverage: readonly Coverage[];
  readonly order: BookOrder;
  /** What a budget left open, in sentences; each has its finding too. */
  readonly undecided: readonly string[];
  /** Paths of all books that were read, itself last. */
  readonly read: readonly string[];
  /** False if a finding may be missing: part of it could not be read, or was not decided. */
  readonly whole: boolean;
}

/** The names of a book's picks and judgements, each after those it tests. */
export type BookOrder = readonly { readonly pick: string; readonly tests: readonly string[] }[];

export interface Coverage {
  readonly pick: string;
  readonly judgement: boolean;
  /** Exact fractions: "11/12". */
  readonly shares: Readonly<Record<Status, string>>;
}

export interface CheckBookOptions {
  readonly on: string;
  readonly steps?: number;
  /** Called now and then while it works. */
  readonly tick?: () => void;
}

export function checkBook({ path, text }: Source, read: Read, { on, steps, tick }: CheckBookOptions): CheckedBook {
  const { model, findings } = resolve(parse(text, path), read, { on });
  const interrupted = (): boolean => {
    tick?.();
    return false;
  };
  const analysis = analyse(model, { steps, interrupted });
  return {
    path,
    title: model.books.at(-1)!.title,
    findings: [...findings, ...analysis.findings],
    coverage: analysis.coverage.map(({ pick, shares }) => ({
      pick: model.picks[pick]!.name,
      judgement: model.picks[pick]!.judgement,
      shares: Object.fromEntries(statuses.map((status) => [status, shares[status].toFraction()])) as Record<Status, string>,
    })),
    order: model.picks.map(({ name, tests }) => ({ pick: name, tests: tests.map((tested) => model.picks[tested]!.name) })),
    undecided: analysis.undecided,
    read: model.books.map((book) => book.path),
    whole: analysis.undecided.length === 0 && !findings.some(({ severity }) => severity === "error"),
  };
}
