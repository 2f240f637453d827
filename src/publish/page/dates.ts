/** Whether the book is good today, by the clock of whoever reads it. */
import { pageWords } from "../../messages/publish.js";
import type { Facts } from "./contract.js";

export function sayWhetherGood({ goodFrom, goodTo }: Facts, holder: HTMLElement, today = new Date()): void {
  const day = [today.getFullYear(), today.getMonth() + 1, today.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
  holder.textContent =
    goodTo !== undefined && day > goodTo
      ? pageWords.outOfDate(goodTo)
      : goodFrom !== undefined && day < goodFrom
        ? pageWords.notYet(goodFrom)
        : "";
  holder.hidden = holder.textContent === "";
}
