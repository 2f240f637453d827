/**
 * An hour of writing in the real editor, with nothing set but what comes with the extension: a book from an empty folder, renamed in,
 * mended, built upon, asked. After every step the file holds what was meant, byte for byte.
 *
 * It takes some ten minutes at a person's pace, so it has a command of its own: `npm run test:hour`. `PACE=0.2` is for a look.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { starter } from "../../src/messages/cli.js";
import { extensionWords } from "../../src/messages/vscode.js";
import { openWindow, type Window } from "./window.js";

const pace = Number(process.env["PACE"] ?? 1);
const title = "Spoons for Hollin Cove";
const file = "spoons-for-hollin-cove.lore";
const ramp = `book "Ramp"
builds on "${file}"

pattern "Copper off the ramp"
  lean to finish copper by 3
  when clarity is clear
`;
/** What the book is to be. */
let meant = readFileSync(join(import.meta.dirname, "spoons.lore"), "utf8");

let w: Window;
beforeAll(async () => {
  w = await openWindow({}, { empty: true });
});
afterAll(() => w?.close());
afterEach(async ({ task }) => {
  if (task.result?.state === "fail") await w.shot(`failed, ${task.name}`);
});

/** What the server has been asked to change comes when it comes, so that it may take to save again. */
const saved = (name = file, text = meant): Promise<void> =>
  expect
    .poll(
      async () => {
        const before = w.read(name);
        if (before !== text) await w.press("Control+KeyS");
        return before;
      },
      { interval: 500 },
    )
    .toBe(text);
const standing = () => w.page.locator('[id="waterlore.waterlore.waterlore.standing"]');
const problems = () => w.page.locator(".markers-panel .monaco-list-row");

/** Through the command: an own file with a title, and then a text in place of what it starts as. */
async function newBook(named: string, name: string): Promise<void> {
  await w.command(`Waterlore: ${extensionWords.commands.newBook}`);
  await w.input().waitFor();
  await w.write(named, pace);
  await w.press("Enter");
  await w.page.locator(`.tab.active[data-resource-name="${name}"]`).waitFor();
  await expect.poll(() => w.read(name)).toBe(starter.replace(/(?<=^book ").*(?=")/, named));
}

test("a new book in an empty folder", async () => {
  await newBook(title, file);
  await w.shot("hour-1-new");
});

test("fifteen patterns are written, and stand there as they were meant", { timeout: 900_000 }, async () => {
  await w.press("Control+KeyA");
  await w.press("Delete");
  const half = meant.indexOf('pattern "Grass stains');
  await w.write(meant.slice(0, half), pace);
  await w.shot("hour-2-half-written");
  await w.write(meant.slice(half), pace);
  await w.shot("hour-3-written");
  await saved();
  await expect.poll(() => standing().textContent()).toContain("100 % answered");
  await w.shot("hour-4-saved");
});

test("three renames", async () => {
  for (const [start, old, now, all] of [
    ["condition temp", "temp", "water-temp", /(?<=condition |band |when )temp\b/g],
    ["pick finish", "gold", "copper", /(?<=finish |silver, )gold\b/g],
    ['pattern "Clear and broken"', "Clear and broken", "Clear water likes silver", /Clear and broken/g],
  ] as const) {
    await w.goToWord(file, start, old);
    await w.press("F2");
    const box = w.page.locator(".rename-box:visible");
    await box.locator("input:focus").waitFor();
    await w.press("Control+KeyA");
    await w.write(now, pace);
    await w.press("Enter");
    await box.waitFor({ state: "hidden" });
    meant = meant.replace(all, now);
    await saved();
  }
  await w.shot("hour-5-renamed");
});

/** Where, what is written there in place of what, and what the light bulb is to offer for it; nothing in its place: the line is taken out. */
const slips: readonly (readonly [start: string, right: string, wrong: string | undefined, fix: string])[] = [
  ["  when clarity is muddy", "muddy", "mudyd", "Write muddy"],
  ["  go with size 1/2 oz", "size", "sise", "Write size"],
  ["  when water-temp is cool or warm", "warm", "wram", "Write warm"],
  ['  beats "Warm fish take more"', "more", "mroe", "Warm fish take more"],
  ["  go with finish silver", "silver", "silvr", "Write silver"],
  ["  when cover has docks", "docks", "dokcs", "Write docks"],
  ["condition cover", "grass, docks", "grass docks", "comma"],
  ["  go with pace slow", "with", "wth", "go with"],
  ["fall back on pace", "steady", "stedy", "Write steady"],
  ['  beats "Warm fish take more"', "", undefined, "Let “Wood wants a spoon that lifts” beat “Warm fish take more”"],
];

test("ten slips, each mended by what is offered", { timeout: 300_000 }, async () => {
  for (const [start, right, wrong, fix] of slips) {
    if (wrong === undefined) {
      await w.goToLine(file, start);
      await w.press("Control+Shift+KeyK");
    } else {
      await w.goToWord(file, start, right, "behind");
      for (let n = 0; n < right.length; n++) await w.press("Backspace");
      await w.write(wrong, pace);
    }
    await w.squiggles().first().waitFor();
    if (wrong === undefined) await w.goToWord(file, 'pattern "Wood', "Wood");
    const menu = await w.offered();
    await w.shot(`hour-6-${slips.findIndex((one) => one[3] === fix)}`);
    const row = menu.locator(".monaco-list-row.focused", { hasText: fix });
    for (let down = 8; down > 0 && (await row.count()) === 0; down--) await w.press("ArrowDown");
    await row.waitFor();
    await w.press("Enter");
    await menu.waitFor({ state: "hidden" });
    await saved();
    await expect.poll(() => w.squiggles().count()).toBe(0);
  }
});

test("a base book broken and mended is told of in the book that builds on it", async () => {
  await newBook("Ramp", "ramp.lore");
  await w.press("Control+KeyA");
  await w.press("Delete");
  await w.write(ramp, pace);
  await saved("ramp.lore", ramp);
  await expect.poll(() => standing().textContent()).toContain("100 % answered");
  await w.openFile(file);
  await w.goToWord(file, "pick finish", "copper", "behind");
  for (const _ of "copper") await w.press("Backspace");
  await w.write("brass", pace);
  await w.command("Problems: Focus on Problems View");
  const ofRamp = problems().filter({ hasText: "ramp.lore" });
  await ofRamp.first().waitFor();
  await expect.poll(() => problems().filter({ hasText: "finish cannot be copper" }).count()).toBeGreaterThan(1);
  await w.shot("hour-7-base-broken");
  await w.focusEditor();
  for (const _ of "brass") await w.press("Backspace");
  await w.write("copper", pace);
  await w.press("Control+KeyS");
  await w.page.locator(".tab.active:not(.dirty)").waitFor();
  await saved();
  await expect.poll(() => problems().count()).toBe(0);
  await w.shot("hour-8-base-mended");
  await w.press("Control+KeyJ");
});

test("the table and the explanation tell what the patterns say", async () => {
  await w.openFile(file);
  await w.command(`Waterlore: ${extensionWords.commands.showTable}`);
  const table = w.shown();
  // It shows the pick that the cursor is at.
  const gloom = table.locator("tbody tr", { hasText: "Gloom wants fire" }).first();
  await expect.poll(() => gloom.textContent()).toContain("fire tiger");
  await w.shot("hour-9-table");
  await w.openFile(file);
  await w.command(`Waterlore: ${extensionWords.commands.explain}`);
  await expect.poll(() => w.input().textContent()).toContain(extensionWords.ask.unknown);
  await w.choose(extensionWords.ask.other);
  await w.choose("Water clarity");
  await w.choose("muddy");
  await expect.poll(() => w.input().textContent()).toContain(extensionWords.ask.enough);
  await w.choose(extensionWords.ask.enough);
  await expect.poll(() => w.shown().locator("body").textContent()).toContain("fire tiger");
  await w.shot("hour-10-explained");
});

test("a book moved is found again by the book that builds on it", async () => {
  await w.command("View: Close All Editors");
  await w.command("View: Show Explorer");
  await w.page.locator(".explorer-folders-view .monaco-list-row", { hasText: file }).click();
  await w.press("F2");
  // Whatever takes the focus from a name that is being typed ends it there.
  await w.page.locator(".explorer-item-edited input:focus").waitFor();
  await w.press("Control+KeyA");
  await w.type("cove/spoons.lore");
  await w.press("Enter");
  await w.page.locator(".monaco-dialog-box").getByRole("button", { name: "OK" }).click();
  await w.openFile("ramp.lore");
  await saved("ramp.lore", ramp.replace(file, "cove/spoons.lore"));
  expect(w.read("cove/spoons.lore")).toBe(meant);
  await expect.poll(() => w.squiggles().count()).toBe(0);
  await w.shot("hour-11-moved");
});
