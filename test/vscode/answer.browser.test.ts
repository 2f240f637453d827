/** The page that explains an answer, in a browser and without an editor around it: what it shows, folds and links, and how what was told is changed. */
import axe from "axe-core";
import { build } from "esbuild";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import { extensionWords } from "../../src/messages/vscode.js";
import type { FromAnswer, ToAnswer } from "../../src/faces/vscode/page/messages.js";
import type { AnswerParts } from "../../src/service/answer-parts.js";
import { launchBrowser } from "../browser.js";
import { root } from "../root.js";

const folder = join(root, "src/faces/vscode/page");
const say = extensionWords.answer;
const parts: AnswerParts = {
  title: "Blades for Alder Pond",
  closed: ["Ice thinner than 4 in: stay off."],
  picks: [
    {
      label: "Blade shape",
      answer: "leaf, then teardrop",
      status: "decided",
      applies: true,
      why: ["“Soft cover <b>wants</b> a leaf” says leaf, then teardrop; it stands."],
      aside: ["“Mud (deep) wants thump” says round; it is beaten by “Soft cover <b>wants</b> a leaf”, as the book states."],
    },
    {
      label: "Hook",
      answer: "it depends",
      status: "open",
      applies: true,
      why: ["nothing fits every case", "single (60 %)"],
      likeliest: "single (60 %)",
      aside: [],
    },
    { label: "Setup", answer: "does not apply", status: "not applicable", applies: false, why: ["It is asked for only when …"], aside: [] },
  ],
  cautions: ["Hooks: Wear glasses."],
  taken: ["Not given, and taken as it might be: wind 5 mph."],
  ask: "To settle most, ask: Is there cover?",
  conditions: [
    {
      condition: "clarity",
      label: "Water clarity",
      question: "How far down can you see a white lure?",
      replies: [
        { value: "clear", fits: true },
        { value: "muddy", fits: false },
      ],
      several: false,
    },
    {
      condition: "cover",
      label: "Cover",
      question: "What is there?",
      replies: [
        { value: "grass", fits: true },
        { value: "pads", fits: true },
        { value: "none", fits: true },
      ],
      several: true,
    },
    {
      condition: "wind",
      label: "Wind",
      question: "How windy?",
      replies: [{ value: "calm", about: "below 5 mph", fits: true }],
      several: false,
      typed: "a number of mph",
    },
  ],
};
const titles = ["Soft cover <b>wants</b> a leaf", "Mud (deep) wants thump"];
const answer = (given: Readonly<Record<string, string>>, change = 0): ToAnswer => ({ kind: "answer", parts, given, titles, change });

let browser: Browser;
let page: Page;
let script: string;

beforeAll(async () => {
  browser = await launchBrowser();
  const { outputFiles } = await build({
    entryPoints: [join(folder, "answer.ts")],
    bundle: true,
    write: false,
    format: "iife",
    platform: "browser",
  });
  script = outputFiles[0]!.text;
});
afterAll(() => browser.close());

beforeEach(async () => {
  page = await browser.newPage({ viewport: { width: 760, height: 620 } });
  const colors =
    "--vscode-foreground:#222;--vscode-editor-background:#fff;--vscode-descriptionForeground:#555;--vscode-textLink-foreground:#005a9e;--vscode-editorError-foreground:#b3261e;--vscode-editorWarning-foreground:#7a5b00;--vscode-font-size:13px;--vscode-font-family:sans-serif;--vscode-focusBorder:#005a9e;--vscode-dropdown-border:#999;--vscode-input-placeholderForeground:#666";
  const styles = ["page.css", "answer.css"].map((name) => readFileSync(join(folder, name), "utf8")).join("");
  await page.setContent(
    `<!DOCTYPE html><html lang="en" style="${colors}"><head><title>Answer</title><style>body{background:#fff}${styles}</style></head><body><main data-book="file:///pond.lore"></main></body></html>`,
  );
  await page.evaluate(
    `window.said = []; window.acquireVsCodeApi = () => ({ postMessage: (message) => said.push(message), setState: (state) => (window.kept = state) })`,
  );
  await page.evaluate(script);
});

const post = (message: ToAnswer): Promise<void> =>
  page.evaluate(`window.postMessage(${JSON.stringify(message)}, "*")`).then(() => page.waitForTimeout(30));
const said = (): Promise<FromAnswer[]> => page.evaluate("said");
const shot = async (name: string): Promise<void> => {
  if (process.env["SHOTS"]) await page.screenshot({ path: join(process.env["SHOTS"], `${name}.png`) });
};

test("begins with what is recommended, then what to mind, then why", async () => {
  expect(await said()).toEqual([{ kind: "ready" }]);
  await post(answer({ clarity: "clear" }));
  expect(await page.locator("h2").allTextContents()).toEqual([say.recommended, say.mind, say.known, say.why]);
  expect(await page.locator(".first > *").first().textContent()).toBe(`⚠ ${parts.closed[0]!}`);
  expect(await page.locator("dt").allTextContents()).toEqual(["Blade shape", "Hook"]);
  expect(await page.locator("dd").allTextContents()).toEqual(["leaf, then teardrop", `it depends${say.likeliest("single (60 %)")}`]);
  expect(await page.locator(".mind").textContent()).toBe("Hooks: Wear glasses.");
  expect(await page.locator("[role=status]").textContent()).toBe(parts.ask);
  expect(await page.evaluate("kept")).toEqual({ uri: "file:///pond.lore", given: { clarity: "clear" } });
  await shot("answer-page");
});

test("folds what does not count, and keeps it unfolded while what is told changes", async () => {
  await post(answer({}));
  const aside = page.getByText("Mud (deep) wants thump");
  expect(await aside.isVisible()).toBe(false);
  expect(await page.getByText("It is asked for only when").isVisible()).toBe(false);
  await page.getByText(say.aside(1)).click();
  expect(await aside.isVisible()).toBe(true);
  await post(answer({ clarity: "clear" }));
  expect(await aside.isVisible()).toBe(true);
});

test("titles lead to their patterns, and are no markup", async () => {
  await post(answer({}));
  await page.getByText(say.aside(1)).click();
  await page.getByRole("button", { name: "Mud (deep) wants thump" }).click();
  await page.getByRole("button", { name: titles[0]! }).last().click();
  expect((await said()).slice(1)).toEqual([
    { kind: "go", place: 1 },
    { kind: "go", place: 0 },
  ]);
  expect(await page.locator("main b").count()).toBe(0);
});

test("what was told is changed in its place, with what goes with the rest", async () => {
  await post(answer({ cover: "grass" }));
  const clarity = page.getByLabel("Water clarity");
  expect(await clarity.locator("option").allTextContents()).toEqual([say.unknown, "clear", say.notWith("muddy")]);
  expect(await clarity.locator("option", { hasText: "muddy" }).isDisabled()).toBe(true);
  await clarity.selectOption("clear");
  await page.getByLabel("pads").check();
  await page.getByLabel("Wind").fill("6 mph");
  await page.keyboard.press("Enter");
  const given = (await said()).flatMap((one) => (one.kind === "given" ? [one] : []));
  expect(given.map((one) => one.given)).toEqual([
    { cover: "grass", clarity: "clear" },
    { cover: "grass, pads", clarity: "clear" },
    { cover: "grass, pads", clarity: "clear", wind: "6 mph" },
  ]);
  // An answer to the first of them comes when the third has been told.
  await post(answer({ cover: "grass", clarity: "clear" }, 1));
  expect(await page.getByLabel("Wind").inputValue()).toBe("6 mph");
  await post(answer(given[2]!.given, 3));
  expect(await page.getByLabel("pads").isChecked()).toBe(true);
  await page.getByLabel("none").check();
  expect((await said()).at(-1)).toMatchObject({ given: { cover: "none" } });
  await page.getByRole("button", { name: say.forget }).click();
  expect((await said()).at(-1)).toEqual({ kind: "given", given: {}, change: 5 });
});

test("says beside the controls what cannot be taken, and keeps what was typed", async () => {
  await post(answer({}));
  await page.getByLabel("Wind").fill("lots");
  await page.keyboard.press("Enter");
  await post({ kind: "working" });
  await post({ kind: "problem", text: "wind cannot be lots.", change: 1 });
  expect(await page.locator("[role=alert]").textContent()).toBe("wind cannot be lots.");
  expect(await page.getByLabel("Wind").inputValue()).toBe("lots");
  await post(answer({}, 1));
  expect(await page.locator("[role=alert]").isVisible()).toBe(false);
});

test.each([760, 320])("has no fault that axe finds, %s wide", async (width) => {
  await page.setViewportSize({ width, height: 700 });
  await post(answer({ clarity: "clear" }));
  await page.getByText(say.aside(1)).click();
  await page.evaluate(axe.source);
  const { violations } = await page.evaluate<{
    readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[];
  }>("axe.run()");
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`)).toEqual([]);
  expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
  const [first, known, rest] = await Promise.all([".first", ".known", ".rest"].map((part) => page.locator(part).boundingBox()));
  expect(first!.y).toBeLessThan(rest!.y);
  if (width < 540) expect(known!.y).toBeGreaterThan(first!.y);
  else expect(known!.x).toBeGreaterThan(first!.x + first!.width);
  await shot(`answer-page-${width}`);
});
