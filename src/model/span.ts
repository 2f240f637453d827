/**
 * Spans: sets of positions on one axis, as sorted runs.
 *
 *   [2, 4,  7, 7]   is   · · █ █ █ · · █ ·      (both ends in)
 *
 * Every axis, a scale of four levels as much as a continuous measure cut at its written limits, has positions 0 … size − 1, so
 * this one small algebra serves the whole analysis. Runs are disjoint, not adjacent, and in rising order; that makes equal sets
 * equal arrays.
 */

/** Flattened runs: from, to, from, to, … */
export type Span = readonly number[];

export const empty: Span = [];

export function full(size: number): Span {
  return size > 0 ? [0, size - 1] : empty;
}

export function run(from: number, to: number): Span {
  return from <= to ? [from, to] : empty;
}

/** The span of the given positions, in any order. */
export function spanOf(positions: Iterable<number>): Span {
  const sorted = [...new Set(positions)].sort((a, b) => a - b);
  const span: number[] = [];
  for (const position of sorted) {
    if (span.length > 0 && span.at(-1) === position - 1) span[span.length - 1] = position;
    else span.push(position, position);
  }
  return span;
}

export function isEmpty(span: Span): boolean {
  return span.length === 0;
}

export function holds(span: Span, position: number): boolean {
  for (let i = 0; i < span.length; i += 2) if (position <= span[i + 1]!) return position >= span[i]!;
  return false;
}

export function intersect(a: Span, b: Span): Span {
  const result: number[] = [];
  let i = 0;
  let j = 0;
  while (i < a.length && j < b.length) {
    const from = Math.max(a[i]!, b[j]!);
    const to = Math.min(a[i + 1]!, b[j + 1]!);
    if (from <= to) result.push(from, to);
    if (a[i + 1]! < b[j + 1]!) i += 2;
    else j += 2;
  }
  return result;
}

export function union(a: Span, b: Span): Span {
  if (a.length === 0) return b;
  if (b.length === 0) return a;
  const result: number[] = [];
  let i = 0;
  let j = 0;
  while (i < a.length || j < b.length) {
    const takeA = j >= b.length || (i < a.length && a[i]! <= b[j]!);
    const from = takeA ? a[i]! : b[j]!;
    const to = takeA ? a[i + 1]! : b[j + 1]!;
    if (takeA) i += 2;
    else j += 2;
    const last = result.length - 1;
    if (last > 0 && from <= result[last]! + 1) result[last] = Math.max(result[last]!, to);
    else result.push(from, to);
  }
  return result;
}

export function subtract(a: Span, b: Span): Span {
  const result: number[] = [];
  let j = 0;
  for (let i = 0; i < a.length; i += 2) {
    let from = a[i]!;
    const to = a[i + 1]!;
    while (j < b.length && b[j + 1]! < from) j += 2;
    for (let k = j; k < b.length && b[k]! <= to; k += 2) {
      if (b[k]! > from) result.push(from, b[k]! - 1);
      from = b[k + 1]! + 1;
    }
    if (from <= to) result.push(from, to);
  }
  return result;
}

export function complement(span: Span, size: number): Span {
  return subtract(full(size), span);
}

export function disjoint(a: Span, b: Span): boolean {
  let i = 0;
  let j = 0;
  while (i < a.length && j < b.length) {
    if (a[i + 1]! < b[j]!) i += 2;
    else if (b[j + 1]! < a[i]!) j += 2;
    else return false;
  }
  return true;
}

export function within(a: Span, b: Span): boolean {
  let j = 0;
  for (let i = 0; i < a.length; i += 2) {
    while (j < b.length && b[j + 1]! < a[i]!) j += 2;
    if (j >= b.length || b[j]! > a[i]! || b[j + 1]! < a[i + 1]!) return false;
  }
  return true;
}

export function same(a: Span, b: Span): boolean {
  return a.length === b.length && a.every((bound, i) => bound === b[i]);
}

/** Equal spans have equal keys. */
export function spanKey(span: Span): string {
  return span.length === 2 ? `${span[0]},${span[1]}` : span.join(",");
}

/** How many positions. */
export function count(span: Span): number {
  let total = 0;
  for (let i = 0; i < span.length; i += 2) total += span[i + 1]! - span[i]! + 1;
  return total;
}

export function* positions(span: Span): Generator<number> {
  for (let i = 0; i < span.length; i += 2) for (let p = span[i]!; p <= span[i + 1]!; p++) yield p;
}

export function first(span: Span): number | undefined {
  return span[0];
}
