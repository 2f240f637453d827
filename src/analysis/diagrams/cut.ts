/**
 * Where to split a box: on the cut that leaves the fewest formulas open on both sides together, evenly shared.
 *
 *      depth   ├────░░░░░░████████────┤      edges of what is asked: below ░, below █, above █
 *                   ▲     ▲       ▲
 *
 * The choice follows the k-d tree's. Nearly every cut is "below an edge", and whether a formula stays open there is told by the lowest
 * and the highest position of each of its values; a value of many scattered positions is a cut of its own.
 */
import { intersect, isEmpty, same, spanKey, subtract, union, type Span } from "../../model/span.js";
import { FAILS, HOLDS, maskWithin, oneBit, type Edges, type Formula, type Formulas, type Mask, type Mention } from "./formula.js";

export interface Cut {
  readonly variable: number;
  readonly inside: Span;
  readonly outside: Span;
  /** How many mentions were weighed. */
  readonly cost: number;
}

/** Scattered values of a variable are tried as far as this much work allows, and at least a few of them. */
const WORK_PER_VARIABLE = 800;
const FEWEST_CANDIDATES = 5;
/** What a formula counts that one of its mentions leaves settled here, but not for good. */
const HALF_OPEN = 0.75;

/** What is known of one variable: the mentions of it, and the atoms one may cut along. */
interface Column {
  readonly variable: number;
  readonly mentions: Mention[];
  readonly asked: Edges[];
}

/** The best cut along the edges of the formulas to `ask`, some of `all`, for all that are open. */
export function bestCut(store: Formulas, ask: readonly Formula[], all: readonly Formula[]): Cut {
  const columns: Column[] = [];
  const columnOf: Column[] = [];
  const asked = new Set(ask);
  let open = 0;
  let cost = 0;
  for (const formula of new Set(all)) {
    if (oneBit(store.mask(formula))) continue;
    open++;
    const isAsked = asked.has(formula);
    const mentions = mentionsIn(store, formula);
    cost += mentions.length;
    for (const mention of mentions) {
      const { atom } = mention;
      let column = columnOf[atom.variable];
      if (!column) columns.push((column = columnOf[atom.variable] = { variable: atom.variable, mentions: [], asked: [] }));
      column.mentions.push(mention);
      if (isAsked) column.asked.push(atom);
    }
  }
  let best: { readonly atom: Edges; readonly cut: number | Span } | undefined;
  let bestScore = Infinity;
  // In an order that is the same whatever else has been asked of the store before: among equals the first wins.
  for (const { mentions, asked: all } of columns.sort((a, b) => a.variable - b.variable)) {
    if (all.length === 0) continue;
    const asked = new Set(all);
    const silent = open - mentions.length;
    const consider = (atom: Edges, cut: number | Span, left: number, right: number): void => {
      const score = (silent + left) ** 2 + (silent + right) ** 2;
      if (score >= bestScore) return;
      bestScore = score;
      best = { atom, cut };
    };
    const edges = new Set<number>();
    let scattered = false;
    for (const atom of asked) {
      for (const edge of atom.edges) edges.add(edge);
      if (atom.scattered.length > 0) scattered = true;
    }
    const [some] = asked;
    const rising = Int32Array.from(edges).sort();
    const [below, above] = [openBelow(mentions, rising), openAbove(mentions, rising)];
    for (let i = 0; i < rising.length; i++) consider(some!, rising[i]!, below[i]!, above[i]!);
    if (!scattered) continue;
    const most = Math.max(FEWEST_CANDIDATES, Math.floor(WORK_PER_VARIABLE / mentions.length));
    for (const atom of thinned([...asked].filter(({ scattered }) => scattered.length > 0).sort(bySpans), most))
      for (const span of atom.scattered)
        consider(atom, span, openWithin(mentions, span), openWithin(mentions, subtract(domainOf(atom), span)));
  }
  const { atom, cut } = best!;
  const domain = domainOf(atom);
  const inside = typeof cut === "number" ? intersect(domain, [domain[0]!, cut]) : cut;
  return { variable: atom.variable, inside, outside: subtract(domain, inside), cost };
}

/** The mentions of a formula; those of an atom are shared by all formulas it stands in. */
function mentionsIn(store: Formulas, formula: Formula): readonly Mention[] {
  return store.mentions(formula, () => {
    const { kind, parts } = store.shape(formula);
    if (kind === "atom") return [edgesOf(store, formula).mentions[HOLDS | FAILS]!];
    const settling = kind === "and" ? FAILS : HOLDS;
    const found: Mention[] = [];
    for (const part of parts)
      if (store.shape(part).kind === "atom") found.push(edgesOf(store, part).mentions[settling]!);
      else for (const { atom } of mentionsIn(store, part)) found.push(atom.mentions[0]!);
    return found;
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
    const mentions: Mention[] = [];
    const atom: Edges = {
      variable: store.support(formula)[0]!,
      quarters,
      edges: [...edges],
      scattered: quarters.filter((span) => span.length > 2 && !same(span, domain)),
      first,
      last,
      mentions,
    };
    for (let settling = 0; settling <= (HOLDS | FAILS); settling++) mentions.push({ atom, settling });
    return atom;
  });
}

function domainOf({ quarters }: Edges): Span {
  return quarters.reduce((sum, span) => (isEmpty(span) ? sum : union(sum, span)));
}

/** How much is open below each rising edge. */
function openBelow(list: readonly Mention[], edges: Int32Array): Float64Array {
  if (list.length * edges.length > SWEEP) return swept(list, edges, ({ first }) => first);
  const open = new Float64Array(edges.length);
  for (const {
    atom: { first },
    settling,
  } of list)
    for (let i = 0; i < edges.length; i++) {
      const edge = edges[i]!;
      open[i]! += weight(
        (first[0]! <= edge ? 1 : 0) | (first[1]! <= edge ? 2 : 0) | (first[2]! <= edge ? 4 : 0) | (first[3]! <= edge ? 8 : 0),
        settling,
      );
    }
  return open;
}

/** How much is open above each rising edge: below it, seen in a mirror. */
function openAbove(list: readonly Mention[], edges: Int32Array): Float64Array {
  if (list.length * edges.length > SWEEP)
    return swept(list, edges.map((edge) => -edge - 1).reverse(), ({ last }) => last.map((position) => -position)).reverse();
  const open = new Float64Array(edges.length);
  for (const {
    atom: { last },
    settling,
  } of list)
    for (let i = 0; i < edges.length; i++) {
      const edge = edges[i]!;
      open[i]! += weight(
        (last[0]! > edge ? 1 : 0) | (last[1]! > edge ? 2 : 0) | (last[2]! > edge ? 4 : 0) | (last[3]! > edge ? 8 : 0),
        settling,
      );
    }
  return open;
}

/** Looks beyond which going up along all edges once is cheaper. */
const SWEEP = 500;

/**
 * The same in one sweep: going up, a value joins a mention's values at its first position.
 *
 *     first of ░ 0, of █ 5        edges 2 4 7        ░ alone, ░ alone, both
 */
function swept(list: readonly Mention[], edges: Int32Array, joinsAt: (atom: Edges) => readonly number[]): Float64Array {
  const open = new Float64Array(edges.length + 1);
  for (const { atom, settling } of list) {
    const joins = joinsAt(atom);
    let mask = 0;
    let before = 0;
    for (let joined = -Infinity; joined < Infinity;) {
      let next = Infinity;
      for (let quarter = 0; quarter < 4; quarter++) if (joins[quarter]! > joined && joins[quarter]! < next) next = joins[quarter]!;
      joined = next;
      if (joined === Infinity) break;
      for (let quarter = 0; quarter < 4; quarter++) if (joins[quarter] === joined) mask |= 1 << quarter;
      const now = weight(mask, settling);
      open[firstNotBelow(edges, joined)]! += now - before;
      before = now;
    }
  }
  for (let i = 1; i < open.length; i++) open[i]! += open[i - 1]!;
  return open.subarray(0, edges.length);
}

/** Place of the first edge, of rising ones, that is at least a position. */
function firstNotBelow(edges: Int32Array, position: number): number {
  let [low, high] = [0, edges.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (edges[middle]! < position) low = middle + 1;
    else high = middle;
  }
  return low;
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
