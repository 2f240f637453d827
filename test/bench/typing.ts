/** How restless an editor is while somebody types: one that shows "writing" while errors of the statement at hand wait, and one that does not. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { connect, FOLDER, memoryHost } from "../server/client.js";
import { replay } from "../server/replay.js";

const book = readFileSync(fileURLToPath(new URL("../../test/vscode/spoons.lore", import.meta.url)), "utf8");
const uri = `${FOLDER}/spoons.lore`;

export async function typing(line: (label: string, ...values: string[]) => void): Promise<void> {
  line("", "changes shown", "red", "red elsewhere", "red in pauses");
  for (const writing of [true, false]) {
    const client = await connect(memoryHost(new Map()), undefined, undefined, { initializationOptions: { writing } });
    client.open(uri, "");
    const { changes, red, elsewhere, pauses, redInPauses, letters } = await replay(client, uri, book, 47);
    const share = (count: number): string => `${((100 * count) / letters).toFixed(1)} %`;
    const inPauses = `${redInPauses} of ${pauses}`;
    line(writing ? "errors at hand wait" : "all at once", String(changes), share(red), share(elsewhere), inPauses);
    await client.end();
  }
}
