/**
 * The extension as its user has it: packed, installed in a real VS Code, in a real browser, on a copy of the books that ship. Each part is
 * one window, used from top to bottom.
 */
import type { FrameLocator } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { extensionWords } from "../../src/messages/vscode.js";
import { openWindow, type Window } from "./window.js";

let w: Window;

afterEach(async ({ task }) => {
  if (task.result?.state === "fail") await w.shot(`failed, ${task.name}`);
});

describe("beside a process of Node", () => {
  beforeAll(async () => {
    w = await openWindow();
  });
  afterAll(() => w?.close());

  describe("a book opened", () => {
    test("is in its language, colored, and has no problem", async () => {
      await w.openFile("blades.lore");
      await expect.poll(() => w.status("editor.mode")).toBe("Lore");
      const kinds = ["pattern", '"Dirty water wants thump"', "round", "-- Clarity.", "because"];
      await expect.poll(async () => new Set(await Promise.all(kinds.map(w.colorOf))).size).toBe(kinds.length);
      await w.shot("open");
      expect(await w.squiggles().count()).toBe(0);
    });
  });

  describe("a book broken, and mended by what is offered alone", () => {
    const beats = '  beats "Clear water wants a natural bait"';

    test("shows what is wrong where it is wrong, and in the list of problems", async () => {
      await w.openFile("pond.lore");
      await w.goToLine("pond.lore", beats);
      await w.press("Control+Shift+KeyK");
      await w.squiggles().first().waitFor();
      await w.command("View: Focus Problems");
      const problem = w.page.locator(".markers-panel .monaco-list-row", { hasText: "Clear water wants a natural bait" }).first();
      await problem.waitFor();
      await w.shot("problems");
      expect(await problem.textContent()).toContain("disagree");
      expect(await w.page.locator(".markers-panel").textContent()).toContain("conflict");
    });

    test("says on the spot what it means, with a day one can picture, and leads to the page about it", async () => {
      // The text lies above its underline.
      await w.squiggles().first().hover({ force: true });
      const hover = w.page.locator(".monaco-hover:visible").filter({ hasText: "For example" });
      await hover.waitFor();
      await w.shot("hover");
      expect(await hover.textContent()).toContain("A dock throws shade");
      await hover.locator("a", { hasText: "conflict" }).first().click();
      const hint = w.shown();
      await hint.locator("h1").waitFor();
      await w.shot("hint");
      expect(await hint.locator("h1").textContent()).toBe("Conflict");
      await w.page.locator('.tab[data-resource-name="pond.lore"]').click();
    });

    test("is mended by the light bulb, without a mouse", async () => {
      await w.goToLine("pond.lore", "pattern");
      await w.press("F8");
      await w.press("Escape");
      const menu = await w.offered();
      await w.shot("fixes");
      expect(await menu.textContent()).toContain("Let “A dock throws shade” beat “Clear water wants a natural bait”");
      await w.press("Enter");
      await expect.poll(() => w.squiggles().count()).toBe(0);
      await w.shot("mended");
      await w.command("File: Revert File");
    });

    test("a slip of the pen is mended in the same way", async () => {
      await w.openFile("blades.lore");
      await w.goToLine("blades.lore", "  go with blade round, then teardrop");
      await w.press("End");
      await w.type("p");
      await w.squiggles().first().waitFor();
      const menu = await w.offered();
      await w.shot("spelling");
      expect(await menu.textContent()).toContain("teardrop");
      await w.press("Enter");
      await expect.poll(() => w.squiggles().count()).toBe(0);
      await w.command("File: Revert File");
    });
  });

  describe("typing", () => {
    test("is helped by what may come next", async () => {
      await w.openFile("blades.lore");
      await w.goToLine("blades.lore", '  say "Small lead');
      await w.press("End");
      await w.press("Enter");
      await w.type("fall back on ");
      await w.press("Control+Space");
      const list = w.page.locator(".suggest-widget:visible");
      await list.waitFor();
      await expect.poll(() => list.textContent()).toContain("speed");
      await w.shot("completion");
      await w.press("Escape");
      await w.command("File: Revert File");
    });

    test("ends in the usual shape", async () => {
      await w.openFile("pond.lore");
      await w.goToLine("pond.lore", "  go with color dark, then bright");
      await w.press("Home");
      await w.type("     ");
      await w.command("Format Document");
      await expect
        .poll(() => w.page.locator(".view-line", { hasText: "go\u00a0with\u00a0color\u00a0dark,\u00a0then" }).textContent())
        .toBe("\u00a0\u00a0go\u00a0with\u00a0color\u00a0dark,\u00a0then\u00a0bright");
      await w.command("File: Revert File");
    });
  });

  describe("what stands above patterns and promises", () => {
    const standing = () => w.page.locator('[id="waterlore.waterlore.waterlore.standing"]');
    const lens = (text: string) => w.page.locator(".editor-group-container.active .codelens-decoration a", { hasText: text });

    test("leads to the rows that a pattern decides", async () => {
      await w.openFile("pond.lore");
      await lens("decides 33 %").first().click();
      const table = w.shown();
      await expect.poll(() => table.locator("tr.marked").count()).toBeGreaterThan(0);
      expect(await table.locator("tr.marked").first().textContent()).toContain("Mud wants a dark bait");
      await w.shot("lens-rows");
      await w.command("View: Close Other Editors in Group");
    });

    test("leads to the pattern that one disagrees with, and the status bar to what is to be settled next", async () => {
      await w.openFile("pond.lore");
      await expect.poll(() => standing().textContent()).toContain("100 % answered");
      await w.goToLine("pond.lore", '  beats "Clear water wants a natural bait"');
      await w.press("Control+Shift+KeyK");
      await lens("against “A dock throws shade”").click();
      await expect.poll(() => w.status("editor.selection")).toContain(`Ln ${w.lineOf("pond.lore", 'pattern "A dock throws shade"')},`);
      await expect.poll(() => standing().textContent()).toContain("1 to settle: Two patterns disagree");
      await w.shot("lens-rival");
      await standing().click();
      await w.page.locator(".action-widget:visible").waitFor();
      await w.shot("settle-next");
      await w.press("Escape");
      await w.command("File: Revert File");
    });

    test("leads to the day on which a promise fails, and the test explorer says so", async () => {
      w.put(
        "promising.lore",
        `${w.read("pond.lore")}\npromise "Natural in the clear": color must be natural when clarity is clear\npromise "Never nothing": color must have an answer\n`,
      );
      await w.openFile("promising.lore");
      await w.goToLine("promising.lore", "promise");
      await lens("fails: clarity clear, cover docks").click();
      await expect.poll(() => w.shown().locator("body").textContent()).toContain("dark");
      await w.shot("lens-day");
      await w.page.locator('.activitybar a[aria-label="Testing"]').click();
      await w.command("Test: Run All Tests");
      const tree = w.page.locator(".test-explorer");
      await tree.locator(".monaco-list-row", { hasText: "promising.lore" }).first().waitFor();
      await expect.poll(() => tree.locator(".codicon-testing-failed-icon").count()).toBeGreaterThan(0);
      await w.shot("promises");
      await w.command("View: Show Explorer");
      await w.command("View: Close All Editors");
    });
  });

  describe("a name extracted", () => {
    test("is written over at once", async () => {
      await w.openFile("pond.lore");
      await w.goToLine("pond.lore", "  when clarity is clear");
      await w.press("End");
      await w.press("Enter");
      await w.type("and cover has grass");
      await w.goToLine("pond.lore", "  when clarity is muddy");
      await w.press("End");
      await w.type(" and cover has grass");
      const menu = await w.offered();
      await menu.locator(".monaco-list-row.focused", { hasText: "Name this test" }).waitFor();
      await w.press("Enter");
      const box = w.page.locator(".rename-box:visible");
      await box.locator("input:focus").waitFor();
      await w.shot("extracted");
      await w.type("weedy");
      await w.press("Enter");
      await box.waitFor({ state: "hidden" });
      await expect
        .poll(async () => (await w.page.locator(".editor-group-container.active .view-lines").textContent())!.replaceAll("\u00a0", " "))
        .toContain("situation weedy: cover has grass");
      await w.command("File: Revert File");
    });
  });

  describe("waterlore.json", () => {
    test("is completed and checked like any of the tool's files", async () => {
      w.put("waterlore.json", '{ "severities": { "conflcit": "off" } }\n');
      await w.openFile("waterlore.json");
      const wrong = w.page.locator(".editor-group-container.active").locator(".squiggly-warning, .squiggly-error");
      await expect.poll(() => wrong.count()).toBe(1);
      await w.shot("settings-file");
      w.put("waterlore.json", "{}\n");
    });
  });

  describe("the table beside the book", () => {
    let table: FrameLocator;

    test("shows the rows of a pick", async () => {
      await w.openFile("blades.lore");
      await w.command(`Waterlore: ${extensionWords.commands.showTable}`);
      table = w.shown();
      await expect.poll(() => table.locator("tbody tr").count()).toBeGreaterThan(5);
      await w.shot("table");
      expect(await table.locator("thead th").last().textContent()).toBe(extensionWords.table.decided("Blade shape"));
    });

    test("a click in a row goes to the pattern that decided", async () => {
      const title = "In muddy grass hang the leaf at the back";
      await table.locator("tbody tr", { hasText: title }).first().locator("td.answer > div").click();
      const decided = await table.locator("tbody tr", { hasText: title }).first().locator("button").first().textContent();
      await expect.poll(() => w.status("editor.selection")).toContain(`Ln ${w.lineOf("blades.lore", `pattern "${decided}"`)},`);
      await w.shot("row");
    });

    test("follows the cursor: its pick is shown, and what its pattern decides is marked", async () => {
      await w.focusEditor();
      await w.goToLine("blades.lore", 'pattern "Two leaf blades flash the most"');
      await expect.poll(() => table.locator("thead th").last().textContent()).toBe(extensionWords.table.decided("Blades on the bait"));
      await expect.poll(() => table.locator("tr.marked").count()).toBeGreaterThan(0);
      expect(await table.locator("tr.marked").first().textContent()).toContain("Two leaf blades flash the most");
      await w.shot("table-cursor");
    });

    test("shows only what fits a value chosen, also after the book was edited and of another pick", async () => {
      const status = () => table.locator("[role=status]").textContent();
      const filter = () => table.getByLabel(extensionWords.table.narrow("Water clarity"));
      await w.goToLine("blades.lore", 'pattern "Dirty water wants thump"');
      await expect.poll(() => table.locator("thead th").last().textContent()).toBe(extensionWords.table.decided("Blade shape"));
      const all = await table.locator("tbody tr").count();
      await filter().selectOption("muddy");
      await expect.poll(status).toContain(` of ${all} rows.`);
      const muddy = await table.locator("tbody tr:visible").count();
      expect(muddy).toBeLessThan(all);
      await w.shot("table-filter");
      await w.focusEditor();
      await w.goToLine("blades.lore", 'pattern "Dirty water wants thump"');
      await w.press("End");
      await w.press("Enter");
      await w.type("-- said twice");
      await expect.poll(status).toContain(`${muddy} of ${all} rows.`);
      expect(await filter().inputValue()).toBe("muddy");
      await w.command("File: Revert File");
      await w.goToLine("blades.lore", 'pattern "Two leaf blades flash the most"');
      await expect.poll(() => table.locator("thead th").last().textContent()).toBe(extensionWords.table.decided("Blades on the bait"));
      await w.goToLine("blades.lore", 'pattern "Clear water wants flash"');
      await expect.poll(() => table.locator("thead th").last().textContent()).toBe(extensionWords.table.decided("Blade shape"));
      expect(await filter().inputValue()).toBe("muddy");
      await table.getByRole("button", { name: extensionWords.table.clear }).click();
      expect(await table.locator("tbody tr:visible").count()).toBe(all);
    });

    test("does not hide how the book stands, even where that is open twice", async () => {
      const standing = w.page.locator('[id="waterlore.waterlore.waterlore.standing"]');
      await w.command("View: Split Editor Down");
      await expect.poll(() => standing.textContent()).toContain("answered");
      await table.getByLabel(extensionWords.table.find).click();
      await w.page.waitForTimeout(1000);
      await w.shot("standing-beside-page");
      expect(await standing.isVisible()).toBe(true);
      expect(await standing.textContent()).toContain("answered");
      await w.command("View: Close All Editors");
    });

    test("follows the book as it is typed", async () => {
      await w.openFile("pond.lore");
      await w.command(`Waterlore: ${extensionWords.commands.showTable}`);
      table = w.shown();
      await expect.poll(() => table.locator("thead th").last().textContent()).toBe(extensionWords.table.decided("Jig color"));
      await w.focusEditor();
      await w.goToLine("pond.lore", "fall back on color bright");
      await w.press("Control+Shift+KeyK");
      await table.locator(".gap").first().waitFor();
      await w.shot("table-gap");
      expect(await table.locator(".gap").first().textContent()).toContain(extensionWords.table.signs["gap"]!);
      await w.command("File: Revert File");
      await expect.poll(() => table.locator(".gap").count()).toBe(0);
    });
  });

  describe("an answer explained", () => {
    test("asks one thing at a time, takes “I don't know”, and says what to tie on and why", async () => {
      await w.openFile("blades.lore");
      await w.command(`Waterlore: ${extensionWords.commands.explain}`);
      await expect.poll(() => w.input().textContent()).toContain(extensionWords.ask.unknown);
      await w.shot("ask");
      const first = await w.question();
      expect(first).toContain("casting");
      await w.choose(extensionWords.ask.other);
      await w.choose("Daylight");
      await expect.poll(w.question).toContain("dawn");
      await w.choose("night");
      await expect.poll(w.question).toBe(first);
      await w.choose(extensionWords.ask.unknown);
      await expect.poll(w.question).not.toBe(first);
      await w.shot("ask-again");
      await w.choose(extensionWords.ask.enough);
      const answer = w.shown();
      await expect.poll(() => answer.locator("h2").first().textContent()).toBe(extensionWords.answer.recommended);
      expect(await answer.getByLabel("Daylight").inputValue()).toBe("night");
      await w.shot("answer");
    });

    test("follows what is told otherwise on its page, and what is written in the book; its titles lead to their patterns", async () => {
      await w.openFile("pond.lore");
      await w.command(`Waterlore: ${extensionWords.commands.explain}`);
      await expect.poll(() => w.input().textContent()).toContain(extensionWords.ask.enough);
      await w.choose(extensionWords.ask.enough);
      const answer = w.shown();
      const color = answer.locator("dd").first();
      await expect.poll(() => color.textContent()).toContain("depends");
      await answer.locator("select").first().selectOption("muddy");
      await answer.getByLabel("none").check();
      await expect.poll(() => color.textContent()).toBe("dark, then bright");
      await w.shot("answer-told");
      await answer.getByRole("button", { name: "Mud wants a dark bait" }).first().click();
      await expect.poll(() => w.status("editor.selection")).toContain(`Ln ${w.lineOf("pond.lore", 'pattern "Mud wants a dark bait"')},`);
      await w.goToLine("pond.lore", "  go with color dark, then bright");
      await w.press("End");
      await w.type(", then natural");
      await expect.poll(() => color.textContent()).toBe("dark, then bright, then natural");
      expect(await answer.locator("select").first().inputValue()).toBe("muddy");
      await w.command("File: Revert File");
    });
  });

  describe("a new book", () => {
    test("is a file in the folder, named after its title, that has nothing wrong with it", async () => {
      await w.openFile("conditions.lore");
      await w.command(`Waterlore: ${extensionWords.commands.newBook}`);
      await w.input().waitFor();
      await w.type('Spinners for "Alder" Pond');
      await w.shot("new-book-title");
      await w.press("Enter");
      await w.page.locator('.tab.active[data-resource-name="spinners-for-alder-pond.lore"]').waitFor();
      await expect.poll(() => w.page.locator(".editor-group-container.active .view-lines").textContent()).toContain("'Alder'");
      expect(await w.status("editor.mode")).toBe("Lore");
      await w.page.waitForTimeout(1000);
      await w.shot("new-book");
      expect(await w.squiggles().count()).toBe(0);
      expect(w.read("common/spinners-for-alder-pond.lore")).toContain(`book "Spinners for 'Alder' Pond"`);
    });

    test("the walkthrough shows the way, with a drawing for each step", async () => {
      await w.command("Welcome: Open Walkthrough");
      await w.input().waitFor();
      await w.type(extensionWords.walkthrough.title);
      await w.press("Enter");
      await w.page.locator(".getting-started-step").first().waitFor();
      expect(await w.page.locator(".getting-started-step").count()).toBe(extensionWords.walkthrough.steps.length);
      await w.page.waitForTimeout(1500);
      await w.shot("walkthrough");
    });
  });
});

describe("in a web worker", () => {
  beforeAll(async () => {
    w = await openWindow({ "remote.extensionKind": { "waterlore.waterlore": ["web"] }, "workbench.colorTheme": "Default Dark Modern" });
  });
  afterAll(() => w?.close());

  test("a book is checked with the books it builds on, and its table shown", async () => {
    await w.openFile("blades.lore");
    await w.command(`Waterlore: ${extensionWords.commands.showTable}`);
    const table = w.shown();
    await expect.poll(() => table.locator("tbody tr").count()).toBeGreaterThan(5);
    await w.shot("web-table");
    expect(await w.squiggles().count()).toBe(0);
    await w.command("Developer: Show Running Extensions");
    await expect
      .poll(() => w.page.locator(".runtime-extensions-editor .monaco-list-row", { hasText: "Waterlore" }).textContent())
      .toContain("web worker");
  });

  test("a book broken shows what is wrong, and leads to the page about it", async () => {
    await w.openFile("pond.lore");
    await w.goToLine("pond.lore", '  beats "Clear water wants a natural bait"');
    await w.press("Control+Shift+KeyK");
    await w.squiggles().first().waitFor();
    await w.squiggles().first().hover({ force: true });
    await w.page.locator(".monaco-hover:visible a", { hasText: "conflict" }).first().click();
    await expect.poll(() => w.shown().locator("h1").textContent()).toBe("Conflict");
    await w.shot("web-hint");
  });
});
