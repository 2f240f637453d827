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
  await w.goToWord("base.lore", "condition sky", "sky");
  await w.type("x");
  await problems("cove.lore").first().waitFor();
  await problems("Nobody has declared sky").first().waitFor();
  await w.shot("folder-broken");
  await w.press("Backspace");
  await expect.poll(() => problems("cove.lore").count()).toBe(0);
  await w.command("File: Revert File");
  await w.command("View: Close All Editors");
});

test("a base book renamed in the explorer is named anew in what builds on it", async () => {
  await w.command("View: Show Explorer");
  await w.page.locator(".explorer-folders-view .monaco-list-row", { hasText: "base.lore" }).click();
  await w.press("F2");
  await w.page.locator(".explorer-item-edited input:focus").waitFor();
  await w.press("Control+KeyA");
  await w.type("basics.lore");
  await w.press("Enter");
  // The editor asks whether what builds on it is to be changed as well.
  await w.page.locator(".monaco-dialog-box").getByRole("button", { name: "OK" }).click();
  await w.openFile("cove.lore");
  await expect
    .poll(async () => (await w.page.locator(".editor-group-container.active .view-lines").textContent())!.replaceAll("\u00a0", " "))
    .toContain('builds on "basics.lore"');
  await w.shot("folder-renamed");
  await w.command("File: Save Without Formatting");
  await expect.poll(() => w.read("cove.lore")).toContain('builds on "basics.lore"');
  await w.command("View: Close All Editors");
});

test("a task that checks the folder is among those that build, by the checker of the extension", async () => {
  await w.press("Control+Shift+KeyB");
  await w.input().locator(".monaco-list-row", { hasText: "waterlore: check" }).first().waitFor();
  await w.shot("folder-tasks");
  await w.choose("waterlore: check");
  // This VS Code has no terminals: what comes of it, `extension-programs.process.test.ts` and `manifest.test.ts` say.
  await w.page.locator(".statusbar-item", { hasText: "Building" }).first().waitFor();
  await w.shot("folder-task");
});

test("a name changed in a book is changed in the shop's lists once that is confirmed", async () => {
  w.put("shelf.csv", "item,color,in stock\nMud Thumper,dark,4\n");
  await w.openFile("pond.lore");
  await w.goToWord("pond.lore", "pick color", "color");
  await w.press("F2");
  await w.page.locator(".rename-box:visible input:focus").waitFor();
  await w.type("shade");
  await w.press("Enter");
  const list = w.page.locator(".part.panel .monaco-list-row", { hasText: "shelf.csv" });
  await list.waitFor();
  await w.shot("folder-list-asked");
  await list.locator("input[type=checkbox]").check({ force: true });
  await w.page.locator(".part.panel").getByRole("button", { name: "Apply" }).click();
  await expect.poll(() => w.page.locator(".editor-group-container.active .view-lines").textContent()).toContain("shade");
  await w.openFile("shelf.csv");
  await expect.poll(() => w.page.locator(".editor-group-container.active .view-lines").textContent()).toContain("item,shade,");
  await w.shot("folder-list-applied");
});

test("what the edits since the last commit change is told, saved or not", async () => {
  w.put("pier.lore", base.replace("Base", "Pier"));
  w.git("init", "-q");
  w.git("add", "pier.lore");
  w.git("commit", "-q", "-m", "Before");
  await w.openFile("pier.lore");
  await w.goToLine("pier.lore", "fall back on bait jig");
  await w.press("End");
  for (let i = 0; i < 3; i++) await w.press("Backspace");
  await w.type("worm");
  await w.command("Waterlore: Show what the edits since the last commit change");
  await expect.poll(() => w.shown().locator("body").textContent()).toContain("The fall back of bait");
  await w.shot("folder-last-commit");
  expect(w.read("pier.lore")).toContain("fall back on bait jig");
});
