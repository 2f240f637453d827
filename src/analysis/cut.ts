/**
 * Where to split a box: on the cut that leaves the fewest formulas open on both sides together, evenly shared.
 *
 *      depth   ├────░░░░░░████████────┤      edges of what is asked: below ░, below █, above █
 *                   ▲     ▲       ▲
 *
 * The choice follows the k-d tree's. Nearly every cut is "below an edge", and whether a formula stays open there is told by the lowest
 * and the highest position of each of its values; a value of many scattered positions is a cut of its own.
 */
import { intersect, isEmpty, same, spanKey, subtract, union, type Span } from "../model/span.js";
import { FAILS, HOLDS, maskWithin, oneBit, type Formula, type Formulas, type Mask, type Quarters } from "./formula.js";

export interface Cut {
  readonly variable: number;
  readonly inside: Span;
  readonly outside: Span;
}

/** An atom as the choice of a cut sees it. */
export interface Edges {
  readonly variable: number;
  readonly quarters: Quarters;
  /** Positions up to which one may cut. */
  readonly edges: readonly number[];
  readonly scattered: readonly Span[];
  /** Of each quarter: its lowest and its highest position. */
  readonly first: readonly number[];
  readonly last: readonly number[];
}

/** One mention of a variable in a formula, with the values that alone would settle the formula. */
export interface Mention {
  readonly atom: Edges;
  readonly settling: Mask;
}

/** Scattered values of a variable are tried as far as this much work allows, and at least a few of them. */
const WORK_PER_VARIABLE = 800;
const FEWEST_CANDIDATES = 5;
/** What a formula counts that one of its mentions leaves settled here, but not for good. */
const HALF_OPEN = 0.75;

/** The best cut along the edges of the formulas to `ask` for all that are open. */
export function bestCut(store: Formulas, ask: readonly Formula[], all: readonly Formula[]): Cut {
  const mentions = new Map<number, Mention[]>();
  let open = 0;
  for (const formula of new Set(all)) {
    if (oneBit(store.mask(formula))) continue;
    open++;
    for (const mention of mentionsIn(store, formula)) {
      const list = mentions.get(mention.atom.variable);
      if (list) list.push(mention);
      else mentions.set(mention.atom.variable, [mention]);
    }
  }
  const asked = new Map<number, Set<Edges>>();
  for (const formula of new Set(ask))
    for (const { atom } of mentionsIn(store, formula)) {
      const list = asked.get(atom.variable);
      if (list) list.add(atom);
      else asked.set(atom.variable, new Set([atom]));
    }
  let best: { readonly atom: Edges; readonly cut: number | Span } | undefined;
  let bestScore = Infinity;
  // In an order that is the same whatever else has been asked of the store before: among equals the first wins.
  for (const [variable, atoms] of [...asked].sort(([a], [b]) => a - b)) {
    const list = mentions.get(variable)!;
    const silent = open - list.length;
    const consider = (atom: Edges, cut: number | Span, left: number, right: number): void => {
      const score = (silent + left) ** 2 + (silent + right) ** 2;
      if (score >= bestScore) return;
      bestScore = score;
      best = { atom, cut };
    };
    const most = Math.max(FEWEST_CANDIDATES, Math.floor(WORK_PER_VARIABLE / list.length));
    const edges = new Set<number>();
    for (const atom of atoms) for (const edge of atom.edges) edges.add(edge);
    const [some] = atoms;
    const rising = [...edges].sort((a, b) => a - b);
    const [below, above] = [openBelow(list, rising), openAbove(list, rising)];
    rising.forEach((edge, i) => consider(some!, edge, below[i]!, above[i]!));
    for (const atom of thinned([...atoms].filter(({ scattered }) => scattered.length > 0).sort(bySpans), most))
      for (const span of atom.scattered) consider(atom, span, openWithin(list, span), openWithin(list, subtract(domainOf(atom), span)));
  }
  const { atom, cut } = best!;
  const domain = domainOf(atom);
  const inside = typeof cut === "number" ? intersect(domain, [domain[0]!, cut]) : cut;
  return { variable: atom.variable, inside, outside: subtract(domain, inside) };
}

/** The mentions of a formula; those of an atom are shared by all formulas it stands in. */
function mentionsIn(store: Formulas, formula: Formula): readonly Mention[] {
  return store.mentions(formula, () => {
    const { kind, parts } = store.shape(formula);
    if (kind === "atom") return [{ atom: edgesOf(store, formula), settling: HOLDS | FAILS }];
    const settling = kind === "and" ? FAILS : HOLDS;
    return parts.flatMap((part): readonly Mention[] =>
      store.shape(part).kind === "atom" ? [{ atom: edgesOf(store, part), settling }] : mentionsIn(store, part).map(({ atom }) => ({ atom, settling: 0 })));
  });
}

function edgesOf(store: Formulas, formula: Formula): Edges {
  return store.edges(formula, () => {
    const quarters = store.quarters(formula);
    const first = quarters.map((span) => span[0] ?? Infinity);
    const last = quarters.map((span) => span.at(-1) ?? -Infinity);
    const [low, high] = [Math.min(...first), Math.max(...last)];
    const edges = new Set<number>();
    for (const span of quarters)
      for (let i = 0; i < span.length; i += 2) {
        if (span[i]! > low) edges.add(span[i]! - 1);
        if (span[i + 1]! < high) edges.add(span[i + 1]!);
      }
    const domain = quarters.reduce(union);
    return { variable: store.support(formula)[0]!, quarters, edges: [...edges], scattered: quarters.filter((span) => span.length > 2 && !same(span, domain)), first, last };
  });
}

function domainOf({ quarters }: Edges): Span {
  return quarters.reduce((sum, span) => (isEmpty(span) ? sum : union(sum, span)));
}

/** How much is open below each rising edge. */
function openBelow(list: readonly Mention[], edges: readonly number[]): readonly number[] {
  if (list.length * edges.length > SWEEP) return swept(list, edges, ({ first }) => first);
  return edges.map((edge) => {
    let total = 0;
    for (const { atom: { first }, settling } of list)
      total += weight((first[0]! <= edge ? 1 : 0) | (first[1]! <= edge ? 2 : 0) | (first[2]! <= edge ? 4 : 0) | (first[3]! <= edge ? 8 : 0), settling);
    return total;
  });
}

/** How much is open above each rising edge: below it, seen in a mirror. */
function openAbove(list: readonly Mention[], edges: readonly number[]): readonly number[] {
  if (list.length * edges.length > SWEEP) return [...swept(list, edges.map((edge) => -edge - 1).reverse(), ({ last }) => last.map((position) => -position))].reverse();
  return edges.map((edge) => {
    let total = 0;
    for (const { atom: { last }, settling } of list)
      total += weight((last[0]! > edge ? 1 : 0) | (last[1]! > edge ? 2 : 0) | (last[2]! > edge ? 4 : 0) | (last[3]! > edge ? 8 : 0), settling);
    return total;
  });
}

/** Looks beyond which going up along all edges once is cheaper. */
const SWEEP = 500;

/**
 * The same in one sweep: going up, a value joins a mention's values at its first position.
 *
 *     first of ░ 0, of █ 5        edges 2 4 7        ░ alone, ░ alone, both
 */
function swept(list: readonly Mention[], edges: readonly number[], joinsAt: (atom: Edges) => readonly number[]): readonly number[] {
  const events: { readonly at: number; readonly change: number }[] = [];
  for (const { atom, settling } of list) {
    const joins = joinsAt(atom);
    const order = [0, 1, 2, 3].filter((quarter) => Number.isFinite(joins[quarter])).sort((a, b) => joins[a]! - joins[b]!);
    let mask = 0;
    let before = 0;
    for (const quarter of order) {
      mask |= 1 << quarter;
      const now = weight(mask, settling);
      if (now !== before) events.push({ at: joins[quarter]!, change: now - before });
      before = now;
    }
  }
  events.sort((a, b) => a.at - b.at);
  let next = 0;
  let open = 0;
  return edges.map((edge) => {
    for (; next < events.length && events[next]!.at <= edge; next++) open += events[next]!.change;
    return open;
  });
}

function bySpans({ scattered: a }: Edges, { scattered: b }: Edges): number {
  const [one, other] = [a.map(spanKey).join(), b.map(spanKey).join()];
  return one < other ? -1 : one > other ? 1 : 0;
}

function openWithin(list: readonly Mention[], inside: Span): number {
  return list.reduce((sum, { atom, settling }) => sum + weight(maskWithin(atom.quarters, inside), settling), 0);
}

function weight(mask: Mask, settling: Mask): number {
  return !oneBit(mask) ? 1 : (mask & settling) === 0 ? HALF_OPEN : 0;
}

function thinned<T>(candidates: readonly T[], most: number): readonly T[] {
  if (candidates.length <= most) return candidates;
  return Array.from({ length: most }, (_, i) => candidates[Math.floor(((i + 0.5) * candidates.length) / most)]!);
}
