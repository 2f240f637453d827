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
  columns: [
    { name: "clarity", label: "Water clarity", values: ["clear", "stained", "muddy"] },
    { name: "cover", label: "Cover", values: ["grass", "none"] },
  ],
  answer: { name: "blade", label: "Blade shape", values: ["leaf", "teardrop"] },
  total: 5,
  rows: [
    {
      when: ["clear", "grass"],
      fits: [[0], [0]],
      answer: "leaf, then teardrop",
      status: "decided",
      options: [0, 1],
      because: [
        { title: "Soft cover wants a leaf", place: 0 },
        { title: "Clear water wants flash", place: 1 },
      ],
    },
    {
      when: ["clear", "none"],
      fits: [[0], [1]],
      answer: "leaf",
      status: "decided",
      options: [0],
      because: [{ title: "Clear water wants flash", place: 2 }],
    },
    {
      when: ["stained", "any"],
      fits: [[1], null],
      answer: "teardrop (when nothing else decides)",
      status: "fallback",
      options: [1],
      because: [],
    },
    {
      when: ["muddy", "grass"],
      fits: [[2], [0]],
      answer: "in conflict",
      status: "conflict",
      options: [],
      because: [{ title: "Mud <b>wants</b> thump", place: 3 }],
    },
    { when: ["muddy", "none"], fits: [[2], [1]], answer: "nothing recommended", status: "gap", options: [], because: [] },
  ],
  notes: ["Cover: soft is grass or pads."],
  cautions: ["Hooks: Wear glasses."],
  closed: [],
};
const say = extensionWords.table;

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
    `<!DOCTYPE html><html lang="en" style="${colors}"><head><title>Table</title><style>body{background:#fff}${["page.css", "table.css"].map((name) => readFileSync(join(folder, name), "utf8")).join("")}</style></head><body><main data-book="file:///pond.lore"></main></body></html>`,
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
  const rows = () => page.locator("tbody tr:visible");
  const status = () => page.locator("[role=status]").textContent();

  test("says when it is ready, and shows what it is told", async () => {
    expect(await said()).toEqual([{ kind: "ready" }]);
    await post({ kind: "working" });
    expect(await status()).toBe(say.working);
    await post({ kind: "table", table });
    expect(await rows().count()).toBe(5);
    expect(await page.locator("thead th").allTextContents()).toEqual(["Water clarity", "Cover", say.decided("Blade shape")]);
    expect(await page.evaluate("kept")).toEqual({ uri: "file:///pond.lore", pick: "blade", filters: { values: {}, text: "" } });
    await post({ kind: "nothing", text: "Nothing here." });
    expect(await page.locator(".content").textContent()).toBe("Nothing here.");
  });

  test("takes a long table in parts", async () => {
    await post({ kind: "table", table: { ...table, rows: table.rows.slice(0, 2) } });
    expect(await rows().count()).toBe(2);
    await post({ kind: "rows", rows: table.rows.slice(2) });
    expect(await rows().count()).toBe(5);
    expect(await status()).toBe(say.rows(5, 5));
  });

  test("a click in a row, or on a title, goes to the pattern", async () => {
    await post({ kind: "table", table });
    await rows().nth(1).locator("td").first().click();
    await page.getByRole("button", { name: "Clear water wants flash" }).first().click();
    await rows().nth(2).locator("td").first().click();
    expect((await said()).slice(1)).toEqual([
      { kind: "go", place: 2 },
      { kind: "go", place: 1 },
    ]);
  });

  test("works without a mouse, and whoever is in it stays there when the table changes", async () => {
    await post({ kind: "table", table });
    // Of all titles, Tab leads to one.
    const names: string[] = [];
    for (let tab = 0; tab < 7; tab++) {
      await page.keyboard.press("Tab");
      names.push(await page.evaluate("document.activeElement.dataset.key ?? document.activeElement.className"));
    }
    expect(names).toEqual(["pick", "find", "content", "by clarity", "by cover", "by blade", "0/0"]);
    expect(await focused()).toBe("Soft cover wants a leaf");
    await page.keyboard.press("ArrowRight");
    expect(await focused()).toBe("Clear water wants flash");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("ArrowDown");
    expect(await focused()).toBe("Mud <b>wants</b> thump");
    await post({ kind: "working" });
    await post({ kind: "table", table: { ...table, title: "Changed" } });
    expect(await focused()).toBe("Mud <b>wants</b> thump");
    await page.keyboard.press("Enter");
    expect((await said()).at(-1)).toEqual({ kind: "go", place: 3 });
    await page.keyboard.press("Home");
    expect(await focused()).toBe("Soft cover wants a leaf");
    await page.keyboard.press("End");
    expect(await focused()).toBe("Mud <b>wants</b> thump");
    await page.locator("[data-key=pick]").selectOption("setup");
    expect((await said()).at(-1)).toEqual({ kind: "pick", name: "setup" });
  });

  test("shows only what fits the values chosen and has the words looked for, and keeps to them over edits and picks", async () => {
    await post({ kind: "table", table });
    await page.getByLabel(say.narrow("Cover")).selectOption("grass");
    expect(await status()).toBe(say.rows(3, 5));
    await page.getByLabel(say.narrow("Blade shape")).selectOption("teardrop");
    expect(await rows().locator("div.answer").allTextContents()).toEqual(["leaf, then teardrop", "teardrop (when nothing else decides)"]);
    await page.getByLabel(say.find).fill("FLASH clear");
    expect(await rows().locator("div.answer").allTextContents()).toEqual(["leaf, then teardrop"]);
    // Of another pick, one filter has no column.
    const other: Shown = { ...table, pick: "setup", answer: { ...table.answer, name: "setup", label: "Blades on the bait" } };
    await post({ kind: "table", table: other });
    expect(await rows().count()).toBe(1);
    expect(await page.getByLabel(say.narrow("Cover")).inputValue()).toBe("grass");
    expect(await page.evaluate("kept")).toEqual({
      uri: "file:///pond.lore",
      pick: "setup",
      filters: { values: { cover: "grass", blade: "teardrop" }, text: "FLASH clear" },
    });
    await page.getByRole("button", { name: say.clear }).click();
    expect(await rows().count()).toBe(5);
    expect(await page.getByLabel(say.find).inputValue()).toBe("");
    expect(await page.getByRole("button", { name: say.clear }).count()).toBe(0);
  });

  test("marks what a pattern decides by a sign, brings it into sight, and says how many rows that is", async () => {
    const many = { ...table.rows[2]!, when: ["stained", "none"] };
    await post({ kind: "table", table: { ...table, total: 45, rows: [...Array.from({ length: 40 }, () => many), ...table.rows] } });
    await post({ kind: "mark", title: "Clear water wants flash" });
    expect(await page.locator("tr.marked").count()).toBe(2);
    expect(await page.locator("tr[aria-current=true]").count()).toBe(2);
    expect(await page.evaluate("getComputedStyle(document.querySelector('tr.marked td'), '::before').content")).toContain("▸");
    expect(await status()).toBe(`${say.rows(45, 45)} ${say.marked(2, "Clear water wants flash")}`);
    const { y, height } = (await page.locator("tr.marked").first().boundingBox())!;
    expect(y).toBeGreaterThan(100);
    expect(y + height).toBeLessThan(520);
    await page.getByLabel(say.narrow("Cover")).selectOption("grass");
    expect(await status()).toContain(say.marked(1, "Clear water wants flash"));
    await post({ kind: "mark" });
    expect(await page.locator("tr.marked").count()).toBe(0);
  });

  test("takes nothing from a book for markup, and tells what is no answer by signs and words, not by color", async () => {
    await post({ kind: "table", table });
    expect(await page.locator("tbody b").count()).toBe(0);
    expect(await page.locator("div.conflict").textContent()).toBe("⚡in conflict");
    expect(await page.locator("div.gap").textContent()).toBe("○nothing recommended");
  });

  test("stays a table however narrow it is: its head stays above, and what it recommends beside its conditions", async () => {
    const wide: Shown = {
      ...table,
      total: 60,
      columns: [...table.columns, ...["Wind", "Sky", "Depth", "Date"].map((label) => ({ name: label, label, values: [] }))],
      rows: Array.from({ length: 60 }, () => ({ ...table.rows[0]!, when: ["clear", "grass", "any", "any", "any", "any"] })),
    };
    await post({ kind: "table", table: wide });
    await page.evaluate("document.querySelector('.content').scrollTo(0, 900)");
    const box = (of: string) => page.locator(of).first().boundingBox();
    const [header, head, answer, content] = [await box("header"), await box("thead"), await box("th.answer"), await box(".content")];
    expect(head!.y).toBeCloseTo(header!.y + header!.height, 0);
    expect(answer!.x + answer!.width).toBeLessThanOrEqual(content!.x + content!.width);
    await shot("page-wide");
    for (const width of [760, 300]) {
      await page.setViewportSize({ width, height: 520 });
      expect(await page.evaluate("getComputedStyle(document.querySelector('tbody tr')).display")).toBe("table-row");
      expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
    }
    await shot("page-narrow");
  });

  test.each([760, 300])("has no fault that axe finds, %s wide", async (width) => {
    await page.setViewportSize({ width, height: 600 });
    await post({ kind: "table", table: { ...table, warning: "Part of the book cannot be read." } });
    await post({ kind: "mark", title: "Clear water wants flash" });
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate<{
      readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[];
    }>("axe.run()");
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`)).toEqual([]);
    await shot("page");
  });
});
