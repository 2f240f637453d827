/**
 * A book written from the top, letter by letter, with a short rest at the end of each line: what an editor is told meanwhile.
 *
 *     letter ─(2 ms)─ letter … Enter ─(until all is known)─ letter …
 *                                  └──▶ after each: what is shown, moved or not
 */
import { setTimeout } from "node:timers/promises";
import type { Diagnostic } from "vscode-languageserver";
import { byText, lineMap } from "../../src/text.js";
import type { Client } from "./client.js";

export interface Replayed {
  /** Letters typed, and after how many of them an error of reading was shown. */
  readonly letters: number;
  readonly red: number;
  /** After how many it was shown outside of the line that is being written and the statement that it belongs to. */
  readonly elsewhere: number;
  /** How often what is shown became something else, apart from where it stands and how large it is. */
  readonly changes: number;
}

/** Its kind and its headline. */
const titleOf = ({ code, message }: Diagnostic): string =>
  `${code} ${(typeof message === "string" ? message : message.value).split("\n")[0]}`;
const ofReading: ReadonlySet<unknown> = new Set(["syntax", "mixing", "name", "kind", "unit", "range", "duplicate", "circle", "file"]);

/** Types a text into an open, empty book. */
export async function replay(client: Client, uri: string, text: string): Promise<Replayed> {
  let [version, red, elsewhere, changes, before] = [1, 0, 0, 0, "[]"];
  const start = client.published.length;
  let seen = start;
  const look = (): void => {
    for (; seen < client.published.length; seen++) {
      const now = JSON.stringify(client.published[seen]!.diagnostics.map(titleOf).sort(byText));
      if (now !== before) changes++;
      before = now;
    }
  };
  for (let at = 0; at < text.length; at++) {
    const { line, column } = lineMap(text).position(at);
    const place = { line: line - 1, character: column - 1 };
    client.change(uri, ++version, { range: { start: place, end: place }, text: text[at]! });
    await setTimeout(text[at] === "\n" ? 200 : 3);
    if (text[at] === "\n") await client.told(uri);
    look();
    const shown = (client.latest(uri)?.diagnostics ?? []).filter(({ code }) => ofReading.has(code));
    if (shown.length > 0) red++;
    const statement = text
      .slice(0, at + 1)
      .split("\n")
      .findLastIndex((one) => /^\S/.test(one));
    if (shown.some(({ range }) => range.start.line < statement)) elsewhere++;
  }
  await client.told(uri);
  look();
  return { letters: text.length, red, elsewhere, changes };
}
