/**
 * A book written from the top, letter by letter, with a short rest at the end of each line: what an editor is told meanwhile.
 *
 *     letter ─(2 ms)─ letter … Enter ─(until all is known)─ letter … ─(a pause, now and then)─ letter …
 *                                  └──▶ after each: what is shown, moved or not
 *
 * A pause falls into the middle of words and sentences, and is longer than the editor takes for writing.
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
  /** How often whoever wrote paused, and how often an error of reading was shown then. */
  readonly pauses: number;
  readonly redInPauses: number;
  /** How often what is shown became something else, apart from where it stands and how large it is. */
  readonly changes: number;
}

/** Its kind and its headline. */
const titleOf = ({ code, message }: Diagnostic): string =>
  `${code} ${(typeof message === "string" ? message : message.value).split("\n")[0]}`;
const ofReading: ReadonlySet<unknown> = new Set(["syntax", "mixing", "name", "kind", "unit", "range", "duplicate", "circle", "file"]);

/** Longer than a look for the next key. Milliseconds. */
const PAUSE = 1150;

/** Types a text into an open, empty book, with a pause after every so many letters. */
export async function replay(client: Client, uri: string, text: string, pauseEvery = Infinity): Promise<Replayed> {
  let [version, red, elsewhere, pauses, redInPauses, changes, before] = [1, 0, 0, 0, 0, 0, "[]"];
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
    const isPause = at % pauseEvery === pauseEvery - 1;
    if (isPause) await setTimeout(PAUSE);
    look();
    const shown = (client.latest(uri)?.diagnostics ?? []).filter(({ code }) => ofReading.has(code));
    if (shown.length > 0) red++;
    if (isPause) pauses++;
    if (isPause && shown.length > 0) redInPauses++;
    const statement = text
      .slice(0, at + 1)
      .split("\n")
      .findLastIndex((one) => /^\S/.test(one));
    if (shown.some(({ range }) => range.start.line < statement)) elsewhere++;
  }
  await client.told(uri);
  look();
  return { letters: text.length, red, elsewhere, pauses, redInPauses, changes };
}
