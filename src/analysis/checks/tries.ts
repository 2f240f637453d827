/**
 * Points worth a look before a question is asked in earnest: where a pattern stands, where few others speak, and some far apart.
 *
 * None of them proves that a pattern does nothing; one where it does something proves that.
 */
import { findPossible, pointIn, type Answers, type Askable, type PickDiagrams } from "../answers.js";
import { budget, withinBudget } from "../budget.js";
import { count, type Span } from "../../model/span.js";
import { isFork, narrowed, sidesIn, type Box, type Node } from "../diagrams/diagram.js";
import { nth } from "../hull-index.js";
import type { Point } from "../outcome.js";
import type { Rule } from "../rules.js";
import type { Verdict } from "../verdict.js";

/** Those that cost least come first; `more` are looked at where the first have shown nothing. */
export type Tries = "first" | "more";

/** Points far apart, as many at first and in all. */
const FIRST = 2;
const SPREAD = 6;
/** Orders of variables in which a lonely point is looked for. */
const LONELY = 3;

export function* pointsToTry(answers: Answers, { index }: Askable, box: Box, which: Tries): Generator<Point> {
  const { axes } = answers.model;
  const spans = axes.map((axis): readonly [number, Span] => [axis.index, box.get(axis.index) ?? [0, axis.size - 1]]);
  if (which === "more")
    for (let attempt = 0; attempt < LONELY; attempt++) {
      const start = Math.floor((attempt * spans.length) / LONELY);
      const point = index().lonely([...spans.slice(start), ...spans.slice(0, start)]);
      yield axes.map((axis) => point.get(axis.index)!);
    }
  for (let attempt = which === "first" ? 0 : FIRST; attempt < (which === "first" ? FIRST : SPREAD); attempt++) yield spread(spans, attempt);
}

/** A point whose positions are far apart from those of other attempts. */
function spread(spans: readonly (readonly [number, Span])[], attempt: number): Point {
  return spans.map(([axis, span]) => nth(span, Math.floor(((0.5 + attempt * 0.618034 + axis * 0.381966) % 1) * count(span))));
}

const FIND_STEPS = 200;

/** A possible point where the rule's list stands, if one is soon found. */
export function standingPoint(answers: Answers, { rules: { pick } }: Askable, rule: Rule): Point | undefined {
  const diagrams = answers.picks[pick.index];
  const local = diagrams && standingBoxes(answers, diagrams).get(rule.at);
  const box = local && withinBudget(() => findPossible(answers, local, budget(FIND_STEPS)));
  return box && pointIn(answers, box);
}

const known = new WeakMap<PickDiagrams, ReadonlyMap<number, Box>>();

/** For each rule, the first box met in which it stands; each node is looked at once. */
function standingBoxes(answers: Answers, diagrams: PickDiagrams): ReadonlyMap<number, Box> {
  const before = known.get(diagrams);
  if (before) return before;
  const found = new Map<number, Box>();
  const seen = new Set<number>();
  const walk = (at: Node<Verdict>, box: Box): void => {
    if (seen.has(at.id)) return;
    seen.add(at.id);
    if (isFork(at)) {
      for (const [side, span] of sidesIn(at, box, answers.variables)) walk(side, narrowed(box, at.variable, span));
    } else for (const rule of at.leaf.standing) if (!found.has(rule)) found.set(rule, box);
  };
  walk(diagrams.local, new Map());
  known.set(diagrams, found);
  return found;
}
