/**
 * What can be done at a place of a book: quick fixes for the findings there, and refactorings.
 *
 *     findings ──mends──▶ candidates ──trial──▶ quick fixes        one file per kind in actions/, each with a book before and after
 *     place ──rewrites──▶ candidates ──trial──▶ refactorings
 *
 * A quick fix is offered only if, applied, its finding is gone and no error is there that was not there before; a refactoring only if
 * the book means the same. Nothing is worked out before it is asked for.
 */
import { Interrupted } from "../../analysis/budget.js";
import type { Edit, Finding } from "../../diagnostics.js";
import type { Range } from "../../text.js";
import { breakCircle } from "./break-circle.js";
import type { Candidate, Mend, Rewrite } from "./candidate.js";
import { carried } from "./carried.js";
import { checkedAgain } from "./checked-again.js";
import { closeHairline } from "./close-hairline.js";
import { convertUnit } from "./convert-unit.js";
import { declare } from "./declare.js";
import { duplicate } from "./duplicate.js";
import { applied } from "./edits.js";
import { extractBand } from "./extract-band.js";
import { extractSituation } from "./extract-situation.js";
import { fillGap } from "./fill-gap.js";
import { keepPromise } from "./keep-promise.js";
import { letOneBeat } from "./let-one-beat.js";
import { missingComma } from "./missing-comma.js";
import { narrow } from "./narrow.js";
import { nearestStep } from "./nearest-step.js";
import { ownUnit } from "./own-unit.js";
import { parentheses } from "./parentheses.js";
import { promiseAnswer } from "./promise-answer.js";
import { removePart } from "./remove-part.js";
import { removePattern } from "./remove-pattern.js";
import { removeUnasked } from "./remove-unasked.js";
import { rightPath } from "./right-path.js";
import { takeOptionOut } from "./take-option-out.js";
import { tidied } from "./tidy.js";
import { tossUpEither } from "./toss-up-either.js";
import { tossUpLean } from "./toss-up-lean.js";
import { tossUpOrder } from "./toss-up-order.js";
import { trialOf } from "./trial.js";
import type { TrialLimits } from "./recheck.js";
import { trust } from "./trust.js";
import { waitingOrder } from "./waiting-order.js";
import type { View } from "../view.js";

type ActionKind = "quickfix" | "refactor.rewrite" | "refactor.extract";

export interface Action {
  /** What it does, as a command: "Let “Mud wants thump” beat “Sun wants flash”". */
  readonly title: string;
  readonly kind: ActionKind;
  /** Not overlapping; those at one place in the order in which they are to stand. */
  readonly edits: readonly Edit[];
  /** Of a quick fix: what it makes go away. */
  readonly finding?: Finding;
  /** The one to take where one key mends. */
  readonly preferred?: boolean;
  /** Where the name that it makes up stands in the changed book, to be renamed at once. */
  readonly named?: number;
  /** Which file of `actions/` it comes from. */
  readonly from: string;
}

export interface ActionOptions extends TrialLimits {
  /** Only kinds that are this or begin with this and a dot: `quickfix`, `refactor`; all, if not said. */
  readonly only?: readonly string[];
}

/** By the name of its file. */
export const mends: Readonly<Record<string, Mend>> = {
  carried,
  "let-one-beat": letOneBeat,
  "toss-up-order": tossUpOrder,
  "toss-up-lean": tossUpLean,
  trust,
  "keep-promise": keepPromise,
  narrow,
  "break-circle": breakCircle,
  "toss-up-either": tossUpEither,
  "fill-gap": fillGap,
  "close-hairline": closeHairline,
  "remove-pattern": removePattern,
  "remove-part": removePart,
  "remove-unasked": removeUnasked,
  "take-option-out": takeOptionOut,
  "waiting-order": waitingOrder,
  "nearest-step": nearestStep,
  declare,
  "missing-comma": missingComma,
  "own-unit": ownUnit,
  "checked-again": checkedAgain,
  duplicate,
  "right-path": rightPath,
};
export const rewrites: Readonly<Record<string, Rewrite>> = {
  parentheses,
  "convert-unit": convertUnit,
  "extract-situation": extractSituation,
  "extract-band": extractBand,
  "promise-answer": promiseAnswer,
};

/**
 * The actions at a range of the view's book. `findings`: those that may be mended, of reading and of analysis; of these the ones that
 * touch the range count. In short pieces of work: between two of them the caller may do other things, or stop for good. Where
 * `interrupted` says so it ends, with what it has found until then. What was tried on a view is not tried again.
 */
export function* gatheringActions(
  view: View,
  range: Range,
  findings: readonly Finding[],
  options: ActionOptions = {},
): Generator<void, readonly Action[]> {
  const wanted = (kind: ActionKind): boolean =>
    options.only === undefined || options.only.some((one) => kind === one || kind.startsWith(`${one}.`));
  const trial = trialOf(view, options);
  const actions: Action[] = [];
  const seen = new Set<string>();
  function* offer(
    from: string,
    kind: ActionKind,
    { title, edits, preferred, name }: Candidate,
    finding?: Finding,
  ): Generator<void, boolean> {
    yield;
    if (options.interrupted?.()) throw new Interrupted();
    if (edits.length === 0 || losesComment(view, edits)) return false;
    // Of several findings at one place that one change makes go away, the first offers it.
    const key = JSON.stringify(changedTexts(view, edits));
    if (seen.has(key) || !(yield* finding ? trial.settles(finding, edits, title) : trial.keeps(edits))) return false;
    seen.add(key);
    const tidy = tidied(view, edits);
    const named = name === undefined ? undefined : placeOf(name, view, tidy, range);
    actions.push({
      title,
      kind,
      edits: tidy,
      from,
      ...(finding && { finding }),
      ...(preferred && { preferred }),
      ...(named !== undefined && { named }),
    });
    return true;
  }
  function* offerAll(): Generator<void, void> {
    if (wanted("quickfix"))
      for (const finding of findings) {
        if (finding.path !== view.path || finding.range.start > range.end || finding.range.end < range.start) continue;
        for (const [from, { codes, candidates, enough = Infinity }] of Object.entries(mends)) {
          if (!codes.includes(finding.code)) continue;
          let offered = 0;
          for (const candidate of candidates(view, finding, options)) {
            if (offered >= enough) break;
            if (yield* offer(from, "quickfix", candidate, finding)) offered++;
          }
        }
      }
    for (const [from, { kind, candidates }] of Object.entries(rewrites))
      if (wanted(kind)) for (const candidate of candidates(view, range)) yield* offer(from, kind, candidate);
  }
  try {
    yield* offerAll();
  } catch (problem) {
    if (!(problem instanceof Interrupted)) throw problem;
  }
  return actions;
}

/** Where a name stands in the changed book: of its places the one nearest to where the range is then. */
function placeOf(name: string, { path, text }: View, edits: readonly Edit[], { start }: Range): number | undefined {
  const own = edits.filter((edit) => edit.path === path);
  const after = applied(new Map([[path, text]]), own).get(path)!;
  const at = own
    .filter(({ range }) => range.end <= start)
    .reduce((sum, edit) => sum + edit.text.length - (edit.range.end - edit.range.start), start);
  const places: number[] = [];
  for (let place = after.indexOf(name); place >= 0; place = after.indexOf(name, place + 1)) places.push(place);
  return places.sort((a, b) => Math.abs(a - at) - Math.abs(b - at))[0];
}

/** The texts after the edits: two ways of writing one change are one. */
function changedTexts({ path, text, model }: View, edits: readonly Edit[]): readonly string[] {
  const texts = new Map(model.books.map((book) => [book.path, book.text]));
  texts.set(path, text);
  return [...applied(texts, edits)]
    .filter(([at, after]) => texts.get(at) !== after)
    .map(([at, after]) => `${at} ${after}`)
    .sort();
}

/** Whether a comment would go that does not stand inside a statement which goes as a whole. */
function losesComment({ path, parsed }: View, edits: readonly Edit[]): boolean {
  return parsed.tree.comments.some(({ range, text }) =>
    edits.some(
      (edit) =>
        edit.path === path &&
        edit.range.start < range.end &&
        edit.range.end > range.start &&
        !edit.text.includes(text) &&
        !parsed.tree.statements.some(
          (statement) =>
            statement.range.start <= range.start &&
            range.end <= statement.range.end &&
            edit.text === "" &&
            edit.range.start <= statement.range.start &&
            statement.range.end <= edit.range.end,
        ),
    ),
  );
}
