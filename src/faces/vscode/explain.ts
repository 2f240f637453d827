/**
 * "Explain an answer": asks one condition at a time, then opens the page that says what to tie on, and why.
 *
 *     ┌─ How far down can you see a white lure? ──────── 1 known ─┐
 *     │ clear · stained · muddy                                   │   a reply, or
 *     │ I don't know                                              │   nothing is taken for it, and it is not asked again, or
 *     │ ask about something else… · that is all I know            │
 *     └───────────────────────────────────────────────────────────┘   ← takes the last reply back
 *
 * What to ask next, and what would be accepted, the server says; here it is only shown.
 */
import { QuickInputButtons, QuickPickItemKind, window, type QuickPickItem, type TextDocument, type Uri } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { extensionWords } from "../../messages/vscode.js";
import type { Question } from "../../service/questions.js";
import { ASK, type AskAnswer, type AskParams } from "../server/requests.js";
import type { Told } from "./page/messages.js";

const say = extensionWords.ask;

/** What was replied, in the order of asking; without a value: it is not known. */
type Replies = readonly { readonly condition: string; readonly value?: string }[];

type Step =
  | { readonly do: "reply"; readonly value?: string }
  | { readonly do: "ask"; readonly question: Question }
  | { readonly do: "several" | "other" | "enough" | "back" | "stop" };

interface Choice extends QuickPickItem {
  readonly step?: Step;
}

export async function explainAnswer(
  client: BaseLanguageClient,
  document: TextDocument,
  show: (uri: Uri, given: Told) => void,
): Promise<void> {
  const textDocument = { uri: document.uri.toString() };
  let replies: Replies = [];
  let chosen: Question | undefined;
  for (;;) {
    const { given, unknown } = spoken(replies);
    const params: AskParams = { textDocument, given, unknown };
    const { questions = [], problem } = await client.sendRequest<AskAnswer>(ASK, params);
    if (problem !== undefined) {
      if (replies.length === 0) return void window.showWarningMessage(problem);
      // The last reply was not accepted, or does not go with the others.
      void window.showWarningMessage(problem);
      replies = replies.slice(0, -1);
      continue;
    }
    const question = chosen ?? questions[0];
    chosen = undefined;
    if (question === undefined) return show(document.uri, given);
    const step = await ask(question, { replies, others: questions.length > 1 });
    if (step.do === "stop") return;
    if (step.do === "enough") return show(document.uri, given);
    if (step.do === "back") replies = replies.slice(0, -1);
    else if (step.do === "other") chosen = await chooseQuestion(questions);
    else if (step.do === "several") {
      const value = await chooseSeveral(question);
      if (value === undefined) chosen = question;
      else replies = [...replies, { condition: question.condition, value }];
    } else if (step.do === "reply") replies = [...replies, { condition: question.condition, value: step.value }];
  }
}

function spoken(replies: Replies): { readonly given: Record<string, string>; readonly unknown: readonly string[] } {
  return {
    given: Object.fromEntries(replies.flatMap(({ condition, value }) => (value === undefined ? [] : [[condition, value]]))),
    unknown: replies.flatMap(({ condition, value }) => (value === undefined ? [condition] : [])),
  };
}

/** One question; what is typed is offered as a reply where the condition takes more than the values listed. */
function ask(question: Question, { replies, others }: { readonly replies: Replies; readonly others: boolean }): Promise<Step> {
  const listed = question.replies.map(({ value, about }): Choice => ({ label: value, description: about, step: { do: "reply", value } }));
  const more: readonly Choice[] = [
    ...(question.members ? [{ label: say.several, step: { do: "several" as const } }] : []),
    { label: "", kind: QuickPickItemKind.Separator },
    { label: say.unknown, description: say.unknownDetail, step: { do: "reply" } },
    ...(others ? [{ label: say.other, step: { do: "other" as const } }] : []),
    { label: say.enough, step: { do: "enough" } },
  ];
  const box = window.createQuickPick<Choice>();
  box.title = question.question;
  box.placeholder = say.choose(replies.filter(({ value }) => value !== undefined).length, question.typed);
  box.items = [...listed, ...more];
  box.buttons = replies.length === 0 ? [] : [QuickInputButtons.Back];
  box.ignoreFocusOut = true;
  return new Promise((resolve) => {
    let step: Step = { do: "stop" };
    const settle = (next: Step): void => {
      step = next;
      box.hide();
    };
    if (question.typed !== undefined)
      box.onDidChangeValue((value) => {
        const typed = value.trim();
        const own: Choice[] =
          typed === "" ? [] : [{ label: typed, description: question.label, alwaysShow: true, step: { do: "reply", value: typed } }];
        box.items = [...own, ...listed.filter(({ label }) => label !== typed), ...more];
      });
    box.onDidTriggerButton(() => settle({ do: "back" }));
    box.onDidAccept(() => {
      const [chosen] = box.selectedItems;
      if (chosen?.step) settle(chosen.step);
    });
    box.onDidHide(() => {
      box.dispose();
      resolve(step);
    });
    box.show();
  });
}

async function chooseQuestion(questions: readonly Question[]): Promise<Question | undefined> {
  const items = questions.map((question) => ({ label: question.label, detail: question.question, question }));
  return (await window.showQuickPick(items, { placeHolder: say.pickOther, ignoreFocusOut: true }))?.question;
}

/** Members joined as a customer would give them; undefined: back to the question. */
async function chooseSeveral({ members = [], question }: Question): Promise<string | undefined> {
  const chosen = await window.showQuickPick(members, {
    canPickMany: true,
    placeHolder: say.pickSeveral,
    title: question,
    ignoreFocusOut: true,
  });
  return chosen === undefined || chosen.length === 0 ? undefined : chosen.join(", ");
}
