/** What is typed stands there: no list that opens by itself may swallow the end of a line. */
import { afterEach, describe, expect, test } from "vitest";
import { shippedBooks } from "../service/marks.js";
import { connect, FOLDER, memoryHost, type Client } from "./client.js";
import { typeOut, type Typed } from "./typist.js";

let client: Client;
afterEach(() => client.end());

/** Types a book into the folder of the shipped ones, in an editor that takes the first suggestion on Enter. */
async function typedOut(path: string, text: string): Promise<Typed> {
  const others = Object.entries(shippedBooks()).filter(([other]) => other !== path);
  // How the analysis comes out is of no matter here.
  const options = { initializationOptions: { steps: 1, lenses: false } };
  client = await connect(memoryHost(new Map(others.map(([at, book]) => [`${FOLDER}/${at}`, book]))), undefined, undefined, options);
  client.open(`${FOLDER}/${path}`, "");
  return typeOut(client, `${FOLDER}/${path}`, text);
}

describe("a shipped book, typed letter by letter, comes out byte for byte", () => {
  test.each(Object.entries(shippedBooks()))("%s", { timeout: 600_000 }, async (path, text) => {
    const typed = await typedOut(path, text);
    expect(typed.taken).toEqual([]);
    expect(typed.text).toBe(text);
    expect(typed.asked).toBeGreaterThan(text.length / 10);
  });
});
