/**
 * What to settle first, where a book has more errors than one takes in at a glance:
 *
 *     Settle mood first: lure and weight wait for it.      lure tests mood, weight tests lure; all three have errors
 *
 * What is wrong with a pick is often only what is wrong with one that it goes by, so findings stand pick by pick, each after all that it
 * goes by; what is not of any pick, words that cannot be read above all, stands before them.
 */
import { checkNotes } from "../../messages/ci.js";
import type { BookOrder } from "./check-book.js";
import type { RootedFinding } from "./checked.js";
import type { Report } from "./report.js";

/** So many errors are read from top to bottom; where there are more, they are sorted. */
const HANDFUL = 5;

export interface InOrder {
  /** Sentences, one for each pick that others wait for; empty where none does. */
  readonly advice: readonly string[];
  readonly findings: readonly RootedFinding[];
}

/** The findings of a report as they are best settled; by their places as long as the errors are few. */
export function inOrder({ findings, books }: Pick<Report, "findings" | "books">): InOrder {
  const errors = findings.filter(({ severity }) => severity === "error");
  if (errors.length <= HANDFUL) return { advice: [], findings };
  const groups = books.map((book) => {
    const mine = findings.filter(({ root }) => root === book.path);
    const place = new Map(book.order.map(({ pick }, at) => [pick, at]));
    const placeOf = ({ pick }: RootedFinding): number => (pick === undefined ? -1 : (place.get(pick) ?? -1));
    return { book, mine: mine.toSorted((a, b) => placeOf(a) - placeOf(b)) };
  });
  const advice = groups.flatMap(({ book, mine }) => {
    const wrong = new Set(mine.flatMap(({ severity, pick }) => (severity === "error" && pick !== undefined ? [pick] : [])));
    return waitingFor(book.order, wrong).map(({ pick, waiting }) =>
      checkNotes.settleFirst(pick, waiting, books.length > 1 ? book.path : undefined),
    );
  });
  return { advice, findings: groups.flatMap(({ mine }) => mine) };
}

/** Of the picks in `wrong`, those that go by no other of them, directly or not, each with those that go by it; only where there are some. */
function waitingFor(order: BookOrder, wrong: ReadonlySet<string>): { readonly pick: string; readonly waiting: readonly string[] }[] {
  // Each pick stands after those it tests, so what these go by is known by then.
  const goesBy = new Map<string, ReadonlySet<string>>();
  for (const { pick, tests } of order) goesBy.set(pick, new Set(tests.flatMap((tested) => [tested, ...(goesBy.get(tested) ?? [])])));
  const picks = order.map(({ pick }) => pick).filter((pick) => wrong.has(pick));
  return picks
    .filter((pick) => !picks.some((other) => goesBy.get(pick)!.has(other)))
    .map((pick) => ({ pick, waiting: picks.filter((other) => goesBy.get(other)!.has(pick)) }))
    .filter(({ waiting }) => waiting.length > 0);
}
