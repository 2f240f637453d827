/**
 * Code lenses: a line above a promise or a pattern.
 *
 *     holds                                       fails: clarity muddy, cover none
 *     promise "Never a leaf in mud": …            promise …
 *
 *     decides 12 %, yields in 4 %
 *     pattern "Mud wants thump"
 *
 * Lenses come in two steps, as editors ask for them: where they stand, at once; what they say, for those in sight only.
 */
import type { Deciding } from "../analysis/decides.js";
import { say } from "../messages/service.js";
import type { Range } from "../text.js";
import { promiseState } from "./promises.js";
import { decidingOf } from "./shares.js";
import type { View } from "./view.js";

export interface Lens {
  readonly kind: "promise" | "pattern";
  /** The title it stands above. */
  readonly range: Range;
  /** Index in the model's promises or patterns. */
  readonly index: number;
}

/** Those of the viewed book, in reading order; none before there is an analysis. */
export function lenses({ model, path, analysis }: View): readonly Lens[] {
  if (!analysis) return [];
  const of = (
    kind: Lens["kind"],
    all: readonly { readonly index: number; readonly book: number; readonly namePlace: { readonly range: Range } }[],
  ): Lens[] =>
    all.filter(({ book }) => model.books[book]!.path === path).map(({ index, namePlace }) => ({ kind, index, range: namePlace.range }));
  return [...of("promise", model.promises), ...of("pattern", model.patterns)].sort((a, b) => a.range.start - b.range.start);
}

/** What a lens says, and whether all is well; undefined while it is not known. */
export function lensText({ model, analysis }: View, { kind, index }: Lens): { readonly text: string; readonly good: boolean } | undefined {
  if (!analysis) return undefined;
  if (kind === "pattern") {
    const deciding = decidingOf(analysis, index);
    if (!deciding) return undefined;
    const parts = inOne(deciding).map(({ pick, ...shares }) => ({
      ...shares,
      pick: pick === undefined ? undefined : model.picks[pick]!.name,
    }));
    return { text: say.lens(parts), good: deciding.every(({ clashes }) => clashes.n === 0n) };
  }
  const promise = model.promises[index];
  if (!promise) return undefined;
  const state = promiseState(analysis, promise);
  if (state.kind === "fails") return { text: say.lensFails(state.example), good: false };
  return { text: state.kind === "holds" ? say.lensHolds : say.lensOpen, good: state.kind === "holds" };
}

/** Picks by name only where they differ. */
function inOne(deciding: readonly Deciding[]): readonly (Pick<Deciding, "decides" | "yields" | "clashes"> & { readonly pick?: number })[] {
  const [first] = deciding;
  if (!first) return [];
  const same = (["decides", "yields", "clashes"] as const).every((share) => deciding.every((one) => one[share].equals(first[share])));
  return same ? [{ decides: first.decides, yields: first.yields, clashes: first.clashes }] : deciding;
}
