/** Inlay hints, for those who ask for them: after a pattern's title, the share of all conditions in which it decides. */
import { serviceWords } from "../messages/service.js";
import type { Range } from "../text.js";
import { decidingOf } from "./shares.js";
import type { View } from "./view.js";

export interface InlayHint {
  readonly offset: number;
  readonly text: string;
}

/** Of the patterns whose title lies in the range; those not known yet have none. Of several picks, the largest share. */
export function inlayHints({ model, path, analysis }: View, range: Range): readonly InlayHint[] {
  if (!analysis) return [];
  return model.patterns.flatMap(({ index, book, namePlace }) => {
    const { end } = namePlace.range;
    if (model.books[book]!.path !== path || end < range.start || end > range.end) return [];
    const [most] = [...(decidingOf(analysis, index) ?? [])].sort((a, b) => b.decides.compare(a.decides));
    return most ? [{ offset: end, text: serviceWords.hint(most.decides) }] : [];
  });
}
