/** The folder as a whole in a real VS Code: books that nobody has opened, books that are moved, and the task that checks them all. */
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { openWindow, type Window } from "./window.js";

let w: Window;
const base = `book "Base"\ncondition sky: in order bright, dark\npick bait: worm, jig\npattern "Sun wants worm"\n  go with bait worm\n  when sky is bright\nfall back on bait jig\n`;
const cove = `book "Cove"\nbuilds on "base.lore"\npattern "Dark wants worm"\n  lean to bait worm by 2\n  when sky is dark\n`;

beforeAll(async () => {
  w = await openWindow({ "explorer.confirmDragAndDrop": false });
  w.put("base.lore", base);
  w.put("cove.lore", cove);
});
afterAll(() => w?.close());
afterEach(async ({ task }) => {
  if (task.result?.state === "fail") await w.shot(`failed, ${task.name}`);
});

const problems = (text: string) => w.page.locator(".markers-panel .monaco-list-row", { hasText: text });

test("a base book broken in the editor is told of in a book that nobody has opened, until it is mended", async () => {
  await w.openFile("base.lore");
  await w.command("View: Focus Problems");
  await w.command("View: Focus First Editor Group");
  await w.goToLine("base.lore", "condition sky");
  await w.press("Home");
  for (let i = 0; i < "condition ".length; i++) await w.press("ArrowRight");
  await w.type("x");
  await problems("cove.lore").first().waitFor();
  await problems("Nobody has declared sky").first().waitFor();
  await w.shot("folder-broken");
  await w.press("Backspace");
  await expect.poll(() => problems("cove.lore").count()).toBe(0);
  await w.command("File: Revert File");
  await w.command("View: Close All Editors");
});
