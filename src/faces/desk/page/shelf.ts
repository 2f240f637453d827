/** The books of the folder, each with how it stands: found clean, with errors or warnings, not looked at yet; saved or not. */
import { deskWords } from "../../../messages/desk.js";
import { isBook } from "../contract.js";
import { element, refill } from "../../../publish/page/element.js";
import type { Books } from "./books.js";
import { gravityOf } from "./settle.js";

export interface Shelf {
  readonly element: HTMLElement;
  draw(front: string | undefined): void;
}

export function openShelf(books: Books, actions: { readonly open: (path: string) => void; readonly make: (title: string) => void }): Shelf {
  const list = element("ul", { class: "books" });
  const title = element("input", {
    id: "new-title",
    type: "text",
    required: true,
    autocomplete: "off",
    "aria-label": deskWords.newTitle,
    placeholder: deskWords.newTitle,
  });
  const form = element(
    "form",
    {
      class: "new",
      onsubmit: (event) => {
        event.preventDefault();
        actions.make(title.value.trim());
        title.value = "";
      },
    },
    title,
    element("button", { type: "submit" }, deskWords.newBook),
  );
  return {
    element: element("nav", { class: "shelf", "aria-label": deskWords.shelf }, element("h1", {}, books.folder), list, form),
    draw: (front) => {
      const shown = books.all().filter(({ path }) => !path.endsWith(".json"));
      refill(
        list,
        ...shown.map(({ path, problem, theirs }) => {
          const state = stateOf(books, path, problem !== undefined);
          return element(
            "li",
            {},
            element(
              "button",
              { type: "button", id: `book-${path}`, "aria-current": path === front && "true", onclick: () => actions.open(path) },
              element("span", { class: "name" }, path.replace(/\.lore$/, "")),
              element(
                "span",
                { class: `state ${state.kind}` },
                [state.text, theirs ? deskWords.twoVersions : books.isUnsaved(path) && deskWords.unsaved].filter(Boolean).join(" · "),
              ),
            ),
          );
        }),
      );
      if (shown.length === 0) list.append(element("li", { class: "quiet" }, deskWords.emptyFolder));
    },
  };
}

function stateOf(books: Books, path: string, unreadable: boolean): { readonly kind: string; readonly text: string } {
  if (unreadable) return { kind: "error", text: deskWords.unreadable };
  if (!isBook(path)) return { kind: "", text: deskWords.list };
  const findings = books.findings(path);
  if (findings === undefined) return { kind: "", text: deskWords.notChecked };
  const [errors, warnings] = [0, 1].map((gravity) => findings.filter((finding) => gravityOf(finding) === gravity).length);
  if (errors! > 0) return { kind: "error", text: deskWords.errors(errors!) };
  if (warnings! > 0) return { kind: "warning", text: deskWords.warnings(warnings!) };
  return books.isChecked(path) ? { kind: "clean", text: deskWords.clean } : { kind: "", text: deskWords.checking };
}
