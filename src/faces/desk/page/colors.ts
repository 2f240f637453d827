/** The color of every word, as the server tells it (`textDocument/semanticTokens`); between two answers the colors move with the text. */
import { LSPPlugin } from "@codemirror/lsp-client";
import { RangeSetBuilder, StateEffect, StateField, type Extension } from "@codemirror/state";
import { Decoration, EditorView, ViewPlugin, type DecorationSet, type ViewUpdate } from "@codemirror/view";
import { semanticTokenTypes } from "../../../service/semantic-tokens.js";

/** Milliseconds after a keystroke. */
const PAUSE = 60;
/** Milliseconds after an answer that was none. */
const AGAIN = 1000;

const colored = StateEffect.define<DecorationSet>();
const field = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update: (colors, { changes, effects }) => effects.find((effect) => effect.is(colored))?.value ?? colors.map(changes),
  provide: (of) => EditorView.decorations.from(of),
});
const marks = semanticTokenTypes.map((type) => Decoration.mark({ class: `word-${type}` }));

const asking = ViewPlugin.fromClass(
  class {
    private timer: ReturnType<typeof setTimeout> | undefined;
    constructor(private readonly view: EditorView) {
      this.later(0);
    }
    update({ docChanged }: ViewUpdate): void {
      if (docChanged) this.later(PAUSE);
    }
    destroy(): void {
      clearTimeout(this.timer);
    }
    private later(pause: number): void {
      clearTimeout(this.timer);
      // A server that is busy, or has not read the book yet, is asked again.
      this.timer = setTimeout(() => void this.ask().catch(() => this.later(AGAIN)), pause);
    }
    private async ask(): Promise<void> {
      const plugin = LSPPlugin.get(this.view);
      if (plugin === null) return;
      plugin.client.sync();
      const { doc } = this.view.state;
      const answer = await plugin.client.request<object, { readonly data: readonly number[] } | null>("textDocument/semanticTokens/full", {
        textDocument: { uri: plugin.uri },
      });
      // What has changed meanwhile is asked about again.
      if (this.view.state.doc !== doc) return;
      if (answer === null || (answer.data.length === 0 && doc.length > 0)) return this.later(AGAIN);
      const colors = new RangeSetBuilder<Decoration>();
      let [line, start] = [0, 0];
      for (let at = 0; at < answer.data.length; at += 5) {
        const [down, right, length, type] = answer.data.slice(at, at + 4) as [number, number, number, number];
        [line, start] = [line + down, down > 0 ? right : start + right];
        const from = doc.line(line + 1).from + start;
        colors.add(from, from + length, marks[type]!);
      }
      this.view.dispatch({ effects: colored.of(colors.finish()) });
    }
  },
);

export const colors: Extension = [field, asking];
