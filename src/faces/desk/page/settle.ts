/**
 * What there is to settle in the book in front, the gravest first, each with what can be done about it: a fix says exactly which lines it
 * takes away and which it brings before it is taken.
 */
import type { LSPClient } from "@codemirror/lsp-client";
import type { CodeAction, Diagnostic } from "vscode-languageserver-protocol";
import { deskWords } from "../../../messages/desk.js";
import type { Books } from "./books.js";
import { applied, changedLines, editsOf } from "./edits.js";
import type { Editors } from "./editor.js";
import { element, refill } from "../../../publish/page/element.js";
import { uriOf } from "./language.js";

export interface Settle {
  readonly element: HTMLElement;
  draw(path: string | undefined): void;
}

const gravities = ["error", "warning", "note"] as const;

/** 0, 1, 2: how grave it is. */
export function gravityOf({ severity = 1 }: Diagnostic): 0 | 1 | 2 {
  return severity <= 1 ? 0 : severity === 2 ? 1 : 2;
}

export function openSettle(client: LSPClient, books: Books, editors: () => Editors): Settle {
  const list = element("div", { class: "findings" });
  let drawn = "";
  const draw = (path: string | undefined): void => {
    const findings = path === undefined ? undefined : books.findings(path);
    const isChecked = path !== undefined && books.isChecked(path);
    const key = JSON.stringify([path, findings, isChecked]);
    if (key === drawn) return;
    drawn = key;
    if (path === undefined || findings === undefined)
      return refill(list, element("p", { class: "quiet" }, path === undefined ? deskWords.noBook : deskWords.checking));
    if (findings.length === 0)
      return refill(list, element("p", { class: isChecked ? "clean" : "quiet" }, isChecked ? deskWords.clean : deskWords.checking));
    const ordered = [...findings].sort((a, b) => gravityOf(a) - gravityOf(b));
    refill(list, ...ordered.map((finding) => findingCard(path, finding)));
  };
  const findingCard = (path: string, finding: Diagnostic): HTMLElement => {
    const fixes = element("div", { class: "fixes" });
    const gravity = gravities[gravityOf(finding)];
    const { line } = finding.range.start;
    const [title = "", ...rest] = (typeof finding.message === "string" ? finding.message : finding.message.value).split("\n");
    return element(
      "article",
      { class: `finding ${gravity}` },
      element("p", { class: "gravity" }, deskWords.gravities[gravity]),
      element("h2", {}, title),
      rest.map((text) => element("p", {}, withCode(text))),
      element(
        "p",
        { class: "row" },
        element("button", { type: "button", onclick: () => editors().show(path, finding.range.start) }, deskWords.goToLine(line + 1)),
        element(
          "button",
          { type: "button", onclick: (event) => void offer(path, finding, fixes, event.currentTarget as HTMLElement) },
          deskWords.whatHelps,
        ),
      ),
      fixes,
    );
  };
  const offer = async (path: string, finding: Diagnostic, holder: HTMLElement, button: HTMLElement): Promise<void> => {
    button.setAttribute("disabled", "");
    refill(holder, element("p", { class: "quiet", role: "status" }, deskWords.lookingForFixes));
    client.sync();
    const actions = await client
      .request<object, readonly CodeAction[] | null>("textDocument/codeAction", {
        textDocument: { uri: uriOf(path) },
        range: finding.range,
        context: { diagnostics: [finding], only: ["quickfix"], triggerKind: 1 },
      })
      .catch(() => null);
    button.removeAttribute("disabled");
    const usable = (actions ?? []).filter(({ edit }) => edit !== undefined);
    if (usable.length === 0) return refill(holder, element("p", { class: "quiet", role: "status" }, deskWords.noFixes));
    refill(holder, ...usable.map((action) => fixPart(action)));
  };
  const fixPart = ({ title, edit }: CodeAction): HTMLElement =>
    element(
      "details",
      {},
      element("summary", {}, title),
      [...editsOf(edit!)].map(([path, edits]) => {
        const before = books.at(path)?.text ?? "";
        return element(
          "pre",
          { class: "change", "aria-label": deskWords.changesIn(path) },
          changedLines(before, applied(before, edits)).map(({ kind, text }) =>
            element(kind === "gone" ? "del" : "ins", {}, `${kind === "gone" ? "−" : "+"} ${text}\n`),
          ),
        );
      }),
      element("button", { type: "button", class: "main", onclick: () => editors().apply(edit!) }, deskWords.doIt),
    );
  return { element: element("div", { class: "panel-body" }, list), draw };
}

/** What stands between backticks is written in a book. */
function withCode(text: string): (string | HTMLElement)[] {
  return text.split("`").map((part, at) => (at % 2 === 1 ? element("code", {}, part) : part));
}
