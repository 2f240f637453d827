/** How far a line is set in, as in every other editor: by the rules that `grammar/editors/` has. */
import { indentOnInput as reindent, indentService, indentUnit } from "@codemirror/language";
import type { Extension } from "@codemirror/state";
import rules from "../../../../grammar/editors/language-configuration.json" with { type: "json" };

const [opens, closes] = [rules.indentationRules.increaseIndentPattern, rules.indentationRules.decreaseIndentPattern].map(
  (one) => new RegExp(one),
);
const UNIT = 2;

/** What has just been typed in a line that is set in begins a statement, which is not. */
export const indentOnInput = closes!;

export const indentation: Extension = [
  indentUnit.of(" ".repeat(UNIT)),
  reindent(),
  indentService.of((context, at) => {
    const line = context.lineAt(at);
    if (closes!.test(line.text)) return 0;
    if (line.from === 0) return 0;
    const before = context.lineAt(line.from, -1).text;
    return opens!.test(before) ? UNIT : /^ */.exec(before)![0].length;
  }),
];
