/**
 * Where everything is closed, by `say nothing on everything`, and what that leaves to be told.
 *
 *     ice   0 ─────── 4 in ──────────────── 30 in         A pick is told of where it is open: closed points are to it what never
 *           └─closed──┘└─────── open ───────┘             occurs. Where a more local go with is heard all the same, it is open.
 *
 * The statement itself is told once, for all picks, before anything else.
 */
import { amongPossible, type Answers } from "../analysis/answers.js";
import { budget, unlimited, withinBudget } from "../analysis/budget.js";
import { decide, whether } from "../analysis/diagrams/decide.js";
import { forest, isFork, mapLeaves, type Box, type Input, type Node } from "../analysis/diagrams/diagram.js";
import { FAILS, HOLDS, type Mask } from "../analysis/diagrams/formula.js";
import { overlaid } from "../analysis/diagrams/overlay.js";
import { flags, overAxes } from "../analysis/diagrams/region.js";
import type { Outcome, Point } from "../analysis/outcome.js";
import { valueAt } from "../analysis/point.js";
import type { Model, SayNothing } from "../model/model.js";
import { togetherKey, type Joint, type Together } from "./joint.js";
import { valuesIn } from "./truth.js";

/** A `say nothing on everything` that holds for what is known. */
export interface Closed {
  readonly silence: SayNothing;
  /** False: whether it does depends on something unknown or unsettled. */
  readonly sure: boolean;
}

/** The answers as one pick is told of them. */
export interface OpenAnswers extends Answers {
  /** 1 where a point is possible in the book and closed to the pick; none where nothing is. */
  readonly shut?: Input;
}

const STEPS = 200_000;

/**
 * The same answers with the points that are closed to a pick, or to all, among the impossible ones; undefined where no point is left. Those
 * of the book where nothing is closed, and where that is not decided.
 */
export function openFor(answers: Answers, pick: number | "all"): OpenAnswers | undefined {
  if (answers.model.closed.length === 0) return answers;
  let known = opened.get(answers);
  if (!known) opened.set(answers, (known = new Map()));
  if (!known.has(pick)) known.set(pick, withinBudget(() => ({ open: opening(answers, pick) })) ?? { open: answers });
  return known.get(pick)!.open;
}
const opened = new WeakMap<Answers, Map<number | "all", { readonly open: OpenAnswers | undefined }>>();

/** What a chart of a pick is made from: where all is closed to it, it says so in every cell. */
export function chartedFor(answers: Answers, pick: number): OpenAnswers {
  return openFor(answers, pick) ?? answers;
}

/** Whether a pick has nothing to say at a closed point: no more local go with stands there. */
export function isShut({ judgement }: { readonly judgement: boolean }, { status, places }: Outcome): boolean {
  return judgement || (places.length === 0 && status !== "conflict");
}

/** At a point of which everything is known. */
export function closedAt(model: Model, point: Point, outcome: (pick: number) => Outcome): readonly Closed[] {
  return model.closed.flatMap((silence) => heldBy(silence, [valueAt(silence.when, point, outcome)]));
}

/** Where only some limits are known. */
export function closedIn(answers: Answers, box: Box): readonly Closed[] {
  return answers.model.closed.flatMap((silence) => {
    const values = valuesIn(answers, silence.when, box);
    // Undecided within the budget: it may be closed.
    return values ? heldBy(silence, values) : [{ silence, sure: false }];
  });
}

function heldBy(silence: SayNothing, values: readonly Mask[]): readonly Closed[] {
  if (values.every((value) => value === FAILS)) return [];
  return [{ silence, sure: values.every((value) => value === HOLDS) }];
}

/** Whether a possible point is closed, as an answer of a pick would be: the question that settles it is asked first. Undefined: not decided. */
export function closedJoint(answers: Answers): Joint | undefined {
  if (!joints.has(answers))
    joints.set(
      answers,
      withinBudget(() => {
        const made = forest<Together>(togetherKey, unlimited);
        const node = amongPossible(answers, closedOver(answers), String, budget(STEPS));
        const leafOf = (flag: number | undefined): Together => (flag === undefined ? undefined : flag === 1 ? CLOSED : OPEN);
        return { node: mapLeaves(node, made, leafOf), forest: made, variables: answers.variables };
      }),
    );
  return joints.get(answers);
}
const joints = new WeakMap<Answers, Joint | undefined>();
const CLOSED: Together = [{ status: "no advice", places: [] }];
const OPEN: Together = [{ status: "decided", places: [] }];

/** 1 where a point is closed. Throws `OutOfBudget`. */
function closedOver(answers: Answers): Node<number> {
  const { store, compile, model } = answers;
  const target = flags(budget(STEPS));
  const any = store.not(store.and(model.closed.map(({ when }) => store.not(compile(when)))));
  return overAxes(answers, decide(store, whether(any), target, budget(STEPS)), target);
}

function opening(answers: Answers, pick: number | "all"): OpenAnswers | undefined {
  const { variables, possible, model } = answers;
  const whole = pick === "all" ? undefined : answers.picks[pick]?.whole;
  const target = forest<number>(String, budget(STEPS));
  const both = (a: Node<number>, b: Node<number>, of: (a: number, b: number) => number): Node<number> =>
    overlaid<number, number>(mapLeaves(a, target, same), mapLeaves(b, target, same), target, target, variables, of)!;
  const closed = both(possible.node, closedOver(answers), and);
  const shut = whole
    ? both(
        closed,
        mapLeaves(whole, target, (outcome) => (isShut(model.picks[pick as number]!, outcome) ? 1 : 0)),
        and,
      )
    : closed;
  const open = both(possible.node, shut, (isPossible, isClosed) => (isClosed === 1 ? 0 : isPossible));
  return !isFork(open) && open.leaf === 0 ? undefined : { ...answers, possible: lasting(open), shut: lasting(shut) };
}

/** Whoever asks later brings a budget of its own. */
function lasting(node: Node<number>): Input {
  const made = forest<number>(String, unlimited);
  return { node: mapLeaves(node, made, same), forest: made };
}

const same = (flag: number): number => flag;
const and = (a: number, b: number): number => a & b;
