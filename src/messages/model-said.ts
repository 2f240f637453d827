/** What the messages of the resolver share. */
import type { Finding } from "../diagnostics.js";

/** What a finding of the resolver says. */
export type Said = Pick<Finding, "code" | "title" | "message" | "help">;
export type Kind = "condition" | "pick" | "judgement" | "situation";

export const article = (word: string): string => `${/^[aeiou]/.test(word) ? "an" : "a"} ${word}`;
/** The next step where a close word is known, else another one. */
export const write = (text: string | undefined, otherwise: string): string =>
  text === undefined ? otherwise : `Did you mean \`${text}\`?`;
