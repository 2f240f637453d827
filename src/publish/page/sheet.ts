/**
 * A sheet of paper: what is printed on one page, Letter or A4.
 *
 *     head      title, shop and water, edition and dates; what closes everything
 *     body      a chart or choices
 *     foot      cautions, local rules, the code
 *
 * The type is made smaller until all of it fits: nothing is cut off, and no caution is left out.
 */
import { chartWords } from "../../messages/charts.js";
import { closedLines, element, type Child } from "./element.js";
import type { Needs } from "./needs.js";

export function sheet(needs: Needs, kind: "wall" | "card", title: string, subtitle: Child, ...body: readonly Child[]): HTMLElement {
  const book = needs.model.books.at(-1)!;
  const edition = [book.edition && chartWords.edition(book.edition), chartWords.goodFor(book.goodFrom, book.goodTo)]
    .filter((part) => part)
    .join(", ");
  const code = needs.code();
  const warned = needs.cautions();
  // Where nothing can be told for what is known, any of them may apply.
  const cautions =
    warned.length > 0 ? warned : needs.model.cautions.map(({ title, say: text, when }) => ({ title, text, sure: when === undefined }));
  return element(
    "article",
    { class: `sheet sheet-${kind}`, "aria-label": title },
    element(
      "header",
      {},
      element("div", {}, element("h3", {}, title), subtitle),
      element(
        "p",
        { class: "imprint" },
        element("b", {}, book.shop ?? book.title),
        book.water !== undefined && element("span", {}, book.water),
        edition !== "" && element("span", {}, edition),
        needs.draft && element("strong", {}, chartWords.draft),
      ),
    ),
    closedLines(needs.closed()),
    ...body,
    element(
      "footer",
      {},
      element(
        "div",
        { class: "cautions" },
        element("p", { class: "rules" }, chartWords.localRules),
        element(
          "ul",
          {},
          cautions.map(({ title, text, sure }) =>
            element("li", {}, element("b", {}, title), sure ? ": " : ` ${chartWords.mayApply}: `, text),
          ),
        ),
      ),
      code && element("div", { class: "code" }, code, element("p", {}, chartWords.scan)),
    ),
  );
}

const SMALLEST = 0.4;
/** Where there is room, large words grow: they are read from across the shop. */
const LARGEST_WORDS = 1.8;
const STEPS = 8;

/**
 * Makes the type of a sheet that stands in the page as large as fits on its paper: large words until none is wider than its cell, then
 * all of it until nothing is below the edge, and then large words again as far as there is room.
 */
export function fit(paper: HTMLElement): void {
  paper.classList.add("measured");
  const boxes = [...paper.querySelectorAll("td, th, li")];
  const wideEnough = (): boolean => boxes.every((box) => box.scrollWidth <= box.clientWidth + 1);
  const onPaper = (): boolean => paper.scrollHeight <= paper.clientHeight + 1 && paper.scrollWidth <= paper.clientWidth + 1;
  paper.style.setProperty("--fit", "1");
  const words = largest(paper, "--word", SMALLEST, 1, wideEnough);
  largest(paper, "--fit", SMALLEST, 1, onPaper);
  largest(paper, "--word", words, LARGEST_WORDS, () => wideEnough() && onPaper());
  paper.classList.remove("measured");
}

/** Sets the largest scale that fits, by halving, and returns it; `from` where nothing does. */
function largest(paper: HTMLElement, name: string, from: number, to: number, isFitting: () => boolean): number {
  const fits = (scale: number): boolean => {
    paper.style.setProperty(name, String(scale));
    return isFitting();
  };
  if (fits(to)) return to;
  let [low, high] = [from, to];
  for (let step = 0; step < STEPS; step++) {
    const middle = (low + high) / 2;
    if (fits(middle)) low = middle;
    else high = middle;
  }
  fits(low);
  return low;
}

export function printButton(id: string): HTMLElement {
  return element("button", { type: "button", id, class: "print", onclick: () => print() }, chartWords.print);
}
