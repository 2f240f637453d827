/**
 * One open book's life between its editor and the analysis.
 *
 *     text ──view──▶ what reading it finds, at once            a change of any text it was read from: all of it is done anew,
 *             └─analyse─▶ all findings, in short pieces        and an analysis that still runs is given up
 *
 * An analysis starts from the one before, which knows what has not changed.
 */
import { analysing, type Analysis } from "../../analysis/analyse.js";
import type { Answers } from "../../analysis/answers.js";
import { openView, withAnalysis, type View } from "../../service/view.js";
import type { Library } from "./library.js";
import { inPieces, type Manners } from "./pieces.js";
import type { BookSettings } from "./settings.js";

export interface Workshop {
  readonly path: string;
  settings: BookSettings;
  /** The book as it is now, read if need be. It has its analysis once `analyse` has come back with it. */
  view(): View;
  /** Something that it was read from has changed. */
  touch(): void;
  reads(path: string): boolean;
  isAnalysed(): boolean;
  /** What every pick of the view of now answers, known somewhat before its analysis. */
  answers(): Answers | undefined;
  /**
   * Works out the analysis of the view of now; undefined if it was given up, because something changed or `stopped`. `answered` is called
   * once `answers` are there.
   */
  analyse(how: Manners & { readonly answered: () => void }): Promise<View | undefined>;
}

export function openWorkshop(path: string, library: Library, settings: BookSettings): Workshop {
  let current: View | undefined;
  let before: Analysis | undefined;
  let known: { readonly view: View; readonly answers: Answers } | undefined;
  let asked: ReadonlySet<string> = new Set([path]);
  const workshop: Workshop = {
    path,
    settings,
    view: () => {
      if (current !== undefined) return current;
      const text = library.textAt(path) ?? "";
      const asks = new Set([path]);
      current = openView(path, text, library.reader(asks), { on: workshop.settings.day, parsed: library.parsedAt(path, text) });
      asked = asks;
      return current;
    },
    touch: () => void (current = undefined),
    reads: (other) => asked.has(other),
    isAnalysed: () => current?.analysis !== undefined,
    answers: () => current?.analysis?.answers ?? (known?.view === current ? known?.answers : undefined),
    analyse: async ({ pause, stopped, answered }) => {
      const view = workshop.view();
      if (view.analysis !== undefined) return view;
      const work = analysing(view.model, {
        steps: workshop.settings.steps,
        before,
        answered: (answers) => {
          known = { view, answers };
          answered();
        },
      });
      const analysis = await inPieces(work, { pause, stopped: () => current !== view || stopped() });
      if (analysis === undefined || current !== view) return undefined;
      before = analysis;
      return (current = withAnalysis(view, analysis));
    },
  };
  return workshop;
}
