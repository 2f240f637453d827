/** The page of the table, in a browser and without an editor around it: what it shows, says back, and how it is used without a mouse. */
import axe from "axe-core";
import { build } from "esbuild";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { extensionWords } from "../../src/messages/vscode.js";
import type { FromPage, Shown, ToPage } from "../../src/faces/vscode/page/messages.js";
import { launchBrowser } from "../browser.js";
import { root } from "../root.js";

const folder = join(root, "src/faces/vscode/page");
const table: Shown = {
  title: "Blades for Alder Pond",
  pick: "blade",
  picks: [
    { name: "blade", label: "Blade shape" },
    { name: "setup", label: "Blades on the bait" },
  ],
  head: ["Water clarity", "Cover", "Blade shape"],
  rows: [
    {
      when: ["clear", "grass"],
      answer: "leaf, then teardrop",
      status: "decided",
      because: [
        { title: "Soft cover wants a leaf", place: 0 },
        { title: "Clear water wants flash", place: 1 },
      ],
    },
    { when: ["clear", "none"], answer: "leaf", status: "decided", because: [{ title: "Clear water wants flash", place: 2 }] },
    { when: ["stained", "any"], answer: "teardrop (when nothing else decides)", status: "fallback", because: [] },
    { when: ["muddy", "grass"], answer: "in conflict", status: "conflict", because: [{ title: "Mud <b>wants</b> thump", place: 3 }] },
    { when: ["muddy", "none"], answer: "nothing recommended", status: "gap", because: [] },
  ],
  notes: ["Cover: soft is grass or pads."],
  cautions: ["Hooks: Wear glasses."],
};

let browser: Browser;
let page: Page;
let script: string;

beforeAll(async () => {
  browser = await launchBrowser();
  const { outputFiles } = await build({
    entryPoints: [join(folder, "table.ts")],
    bundle: true,
    write: false,
    format: "iife",
    platform: "browser",
  });
  script = outputFiles[0]!.text;
});
afterAll(() => browser.close());

beforeEach(async () => {
  page = await browser.newPage({ viewport: { width: 760, height: 520 } });
  const colors =
    "--vscode-foreground:#222;--vscode-editor-background:#fff;--vscode-descriptionForeground:#555;--vscode-textLink-foreground:#005a9e;--vscode-editorError-foreground:#b3261e;--vscode-editorWarning-foreground:#7a5b00;--vscode-font-size:13px;--vscode-font-family:sans-serif;--vscode-editorWidget-border:#ccc;--vscode-focusBorder:#005a9e;--vscode-dropdown-border:#999";
  await page.setContent(
    `<!DOCTYPE html><html lang="en" style="${colors}"><head><title>Table</title><style>body{background:#fff}${readFileSync(join(folder, "table.css"), "utf8")}</style></head><body><main data-book="file:///pond.lore"></main></body></html>`,
  );
  await page.evaluate(
    `window.said = []; window.acquireVsCodeApi = () => ({ postMessage: (message) => said.push(message), getState() {}, setState: (state) => (window.kept = state) })`,
  );
  await page.evaluate(script);
});

const post = (message: ToPage): Promise<void> =>
  page.evaluate(`window.postMessage(${JSON.stringify(message)}, "*")`).then(() => page.waitForTimeout(30));
const shot = async (name: string): Promise<void> => {
  if (process.env["SHOTS"]) await page.screenshot({ path: join(process.env["SHOTS"], `${name}.png`) });
};
const said = (): Promise<FromPage[]> => page.evaluate("said");
const focused = (): Promise<string> => page.evaluate("document.activeElement.textContent");

describe("the page of the table", () => {
  test("says when it is ready, and shows what it is told", async () => {
    expect(await said()).toEqual([{ kind: "ready" }]);
    await post({ kind: "working" });
    expect(await page.locator("[role=status]").textContent()).toBe(extensionWords.table.working);
    await post({ kind: "table", table });
    expect(await page.locator("tbody tr").count()).toBe(5);
    expect(await page.locator("thead th").allTextContents()).toEqual([
      ...table.head.slice(0, -1),
      extensionWords.table.decided("Blade shape"),
    ]);
    expect(await page.evaluate("kept")).toEqual({ uri: "file:///pond.lore", pick: "blade" });
    await post({ kind: "nothing", text: "Nothing here." });
    expect(await page.locator(".content").textContent()).toBe("Nothing here.");
  });

  test("a click in a row, or on a title, goes to the pattern", async () => {
    await post({ kind: "table", table });
    await page.locator("tbody tr").nth(1).locator("td").first().click();
    await page.getByRole("button", { name: "Clear water wants flash" }).first().click();
    await page.locator("tbody tr").nth(2).locator("td").first().click();
    expect((await said()).slice(1)).toEqual([
      { kind: "go", place: 2 },
      { kind: "go", place: 1 },
    ]);
  });

  test("works without a mouse, and whoever is in it stays there when the table changes", async () => {
    await post({ kind: "table", table });
    await page.keyboard.press("Tab");
    expect(await page.evaluate("document.activeElement.tagName")).toBe("SELECT");
    await page.keyboard.press("Tab");
    expect(await focused()).toBe("Soft cover wants a leaf");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("ArrowDown");
    expect(await focused()).toBe("Mud <b>wants</b> thump");
    await post({ kind: "working" });
    await post({ kind: "table", table: { ...table, title: "Changed" } });
    expect(await focused()).toBe("Mud <b>wants</b> thump");
    await page.keyboard.press("Enter");
    expect((await said()).at(-1)).toEqual({ kind: "go", place: 3 });
    await page.keyboard.press("ArrowUp");
    expect(await focused()).toBe("Clear water wants flash");
    await page.locator("select").selectOption("setup");
    expect((await said()).at(-1)).toEqual({ kind: "pick", name: "setup" });
  });

  test("takes nothing from a book for markup, and tells what is no answer by signs and words, not by color", async () => {
    await post({ kind: "table", table });
    expect(await page.locator("tbody b").count()).toBe(0);
    expect(await page.locator("div.conflict").textContent()).toBe("⚡in conflict");
    expect(await page.locator("div.gap").textContent()).toBe("○nothing recommended");
  });

  test("sets one row below the other where it is narrow, without what does not matter", async () => {
    await page.setViewportSize({ width: 300, height: 700 });
    await post({ kind: "table", table });
    expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
    expect(await page.getByRole("row").count()).toBe(6);
    expect(await page.getByRole("cell", { name: "any" }).count()).toBe(0);
    await shot("page-narrow");
    await page.setViewportSize({ width: 760, height: 700 });
    await page.waitForTimeout(50);
    expect(await page.getByRole("cell", { name: "any" }).count()).toBe(1);
  });

  test.each([760, 300])("has no fault that axe finds, %s wide", async (width) => {
    await page.setViewportSize({ width, height: 600 });
    await post({ kind: "table", table: { ...table, warning: "Part of the book cannot be read." } });
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate<{
      readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[];
    }>("axe.run()");
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`)).toEqual([]);
    await shot("page");
  });
});
