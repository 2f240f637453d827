/**
 * What a customer sees: the published page of the book in front as it is written now, in a frame of its own that can reach nothing of the
 * desk. Whenever the book changes it is made anew, at the same view with the same replies.
 *
 *     book ──waterlore/page──▶ facts, packed model ──bookPage──▶ a page in memory ──▶ frame
 */
import type { LSPClient } from "@codemirror/lsp-client";
import { deskWords } from "../../../messages/desk.js";
import { isBook } from "../contract.js";
import { bookPage, type Assets } from "../../../publish/page-html.js";
import { PAGE, type PageAnswer, type PageParams } from "../../server/requests.js";
import { element } from "../../../publish/page/element.js";
import { uriOf } from "./language.js";

export interface Preview {
  readonly element: HTMLElement;
  /** Draws the book in front anew, unless its page would be the same. */
  draw(path: string | undefined): Promise<void>;
}

export function openPreview(client: LSPClient, assets: Assets): Preview {
  const note = element("p", { class: "quiet", role: "status" }, deskWords.opening);
  const holder = element("div", { class: "preview" });
  const whole = element("div", { class: "panel-body" }, note, holder);
  let shown: { readonly path: string; readonly html: string; readonly address: string } | undefined;
  /** After the `#`, of each book: what was told, and the view. */
  const states = new Map<string, string>();
  addEventListener("message", ({ data, source }: MessageEvent<unknown>) => {
    if (shown === undefined || source !== holder.querySelector("iframe")?.contentWindow) return;
    if (typeof data === "object" && data !== null && "state" in data && typeof data.state === "string") states.set(shown.path, data.state);
  });
  const show = (path: string, html: string): void => {
    if (shown?.path === path && shown.html === html) return;
    const address = URL.createObjectURL(new Blob([html], { type: "text/html;charset=utf-8" }));
    const frame = element("iframe", {
      // Not even its own store: whatever a book says, its page stays by itself.
      sandbox: "allow-scripts allow-modals",
      title: deskWords.panels.customer,
      src: `${address}${states.get(path) ?? ""}`,
    });
    const before = shown;
    shown = { path, html, address };
    frame.addEventListener("load", () => {
      for (const other of holder.querySelectorAll("iframe")) if (other !== frame) other.remove();
      if (before) URL.revokeObjectURL(before.address);
    });
    holder.append(frame);
  };
  return {
    element: whole,
    draw: async (path) => {
      if (path === undefined || !isBook(path)) {
        note.textContent = path === undefined ? deskWords.noBook : deskWords.noPageOfLists;
        holder.hidden = true;
        return;
      }
      client.sync();
      const params: PageParams = { textDocument: { uri: uriOf(path) } };
      const answer = await client.request<PageParams, PageAnswer>(PAGE, params).catch((): PageAnswer => ({ problem: deskWords.noPage }));
      const { facts, packed, problem } = answer;
      note.textContent = problem ?? "";
      if (facts === undefined || packed === undefined) return;
      holder.hidden = false;
      show(path, bookPage(facts, packed, assets));
    },
  };
}
