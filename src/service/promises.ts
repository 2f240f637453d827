/** Whether a promise is kept, as the analysis found it. */
import type { Analysis } from "../analysis/analyse.js";
import type { Example } from "../diagnostics.js";
import type { Promise } from "../model/model.js";

export type PromiseState =
  { readonly kind: "holds" | "open" } | { readonly kind: "fails"; readonly example: Example; readonly share: string };

/** `open`: its budget ran out. */
export function promiseState({ findings, answers }: Analysis, { namePlace: { path, range } }: Promise): PromiseState {
  const here = findings.filter((finding) => finding.path === path && finding.range.start === range.start);
  const broken = here.find(({ code }) => code === "promise");
  if (broken) return { kind: "fails", example: broken.example ?? {}, share: broken.share ?? "" };
  return here.some(({ code }) => code === "budget") || !answers.anythingPossible ? { kind: "open" } : { kind: "holds" };
}
