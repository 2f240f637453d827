/**
 * One window of a real VS Code with the packed extension, on a copy of the books that ship, and what its user does in it. `SHOTS=folder`
 * keeps the pictures that are asked for.
 */
import { execFileSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { FrameLocator, Locator, Page } from "playwright-core";
import { starter } from "../../src/messages/cli.js";
import { dice } from "../bench/books.js";
import { launchBrowser } from "../browser.js";
import { root } from "../root.js";
import { startCodeServer } from "./code-server.js";

export interface Window {
  readonly page: Page;
  press(keys: string): Promise<void>;
  type(text: string): Promise<void>;
  /**
   * Types as a person does: a letter every 40 to 120 ms, a breath at the end of a line, a longer one now and then. Blanks at the beginning
   * of a line are left to the editor. `pace`: so many times that long.
   */
  write(text: string, pace?: number): Promise<void>;
  /** A new file in the folder, and what is in it now. */
  put(name: string, text: string): void;
  read(name: string): string;
  /** Git, in the folder. */
  git(...words: readonly string[]): void;
  command(title: string): Promise<void>;
  openFile(name: string): Promise<void>;
  focusEditor(): Promise<void>;
  /** To the first line of a book, as it lies in the folder, that begins so. */
  goToLine(book: string, start: string): Promise<void>;
  /** There, to the first letter of a word, or, with `behind`, behind it. */
  goToWord(book: string, start: string, word: string, where?: "before" | "behind"): Promise<void>;
  /** That line, from 1. */
  lineOf(book: string, start: string): number;
  status(id: string): Promise<string>;
  /** Of the first piece of exactly that text in the editor. */
  colorOf(text: string): Promise<string>;
  squiggles(): Locator;
  /** The list that asks something. */
  input(): Locator;
  question(): Promise<string>;
  choose(item: string): Promise<void>;
  /** What the light bulb offers, asked for by key. */
  offered(): Promise<Locator>;
  /** The page in the front of the last webview: hidden ones stay in the window. */
  shown(): FrameLocator;
  shot(name: string): Promise<void>;
  close(): Promise<void>;
}

const shots = process.env["SHOTS"];
const usual = {
  "workbench.startupEditor": "none",
  "workbench.tips.enabled": false,
  "workbench.enableExperiments": false,
  "telemetry.telemetryLevel": "off",
  "editor.minimap.enabled": false,
  "editor.hover.delay": 100,
  "chat.commandCenter.enabled": false,
  "workbench.secondarySideBar.defaultVisibility": "hidden",
  "files.autoSave": "off",
  "testing.automaticallyOpenTestResults": "neverOpen",
  "waterlore.day": "2027-04-15",
};

/** In its folder are the books that ship, and `pond.lore`, the book that a new one starts as; or nothing. */
export async function openWindow(
  settings: Readonly<Record<string, unknown>> = {},
  { empty = false }: { readonly empty?: boolean } = {},
): Promise<Window> {
  const folder = mkdtempSync(join(tmpdir(), "waterlore-books-"));
  if (!empty) {
    cpSync(join(root, "rules"), folder, { recursive: true });
    writeFileSync(join(folder, "pond.lore"), starter);
  }
  const codeServer = await startCodeServer({ folder, vsix: join(root, "dist/waterlore.vsix"), settings: { ...usual, ...settings } });
  const browser = await launchBrowser();
  const page = await browser.newPage({ viewport: { width: 1400, height: 860 } });
  page.setDefaultTimeout(30_000);
  await page.goto(codeServer.url);
  await page.locator(".monaco-workbench").waitFor();

  const press = (keys: string): Promise<void> => page.keyboard.press(keys);
  const type = (text: string): Promise<void> => page.keyboard.type(text);
  const input = (): Locator => page.locator(".quick-input-widget:visible");
  const lineOf = (book: string, start: string): number => {
    const at = readFileSync(join(folder, book), "utf8")
      .split("\n")
      .findIndex((line) => line.startsWith(start));
    if (at < 0) throw new Error(`${book} has no line that begins with ${start}`);
    return at + 1;
  };
  /** Types into the list that keys open, and takes what it leads to. A key that went to a page still opening is pressed again, as one would. */
  const take = async (keys: readonly string[], text: string, item: string): Promise<void> => {
    for (let again = 3; ; again--) {
      try {
        for (const key of keys) {
          await press(key);
          await input().waitFor({ timeout: 5000 });
        }
        await type(text);
        await input().locator(".monaco-list-row.focused", { hasText: item }).waitFor({ timeout: 10_000 });
        break;
      } catch (error) {
        if (again === 0) throw error;
        await press("Escape");
      }
    }
    await press("Enter");
  };
  const goTo = async (book: string, start: string, column = 0): Promise<void> => {
    const line = String(lineOf(book, start));
    await take(["Control+KeyG"], `${line}:${column + 1}`, `line ${line}`);
    await input().waitFor({ state: "hidden" });
    // The list is gone before the keys are the editor's again: those pressed between would be lost.
    await page.locator(".editor-group-container.active .monaco-editor.focused").waitFor();
  };
  const command = (title: string): Promise<void> => take(["F1"], title, title.replace(/^\w+: /, ""));

  return {
    page,
    press,
    type,
    command,
    input,
    lineOf,
    write: async (text, pace = 1) => {
      const roll = dice(7);
      const wait = (least: number, most: number): Promise<void> => page.waitForTimeout(pace * (least + roll(most - least)));
      for (const [i, line] of text.split("\n").entries()) {
        if (i > 0) {
          await wait(60, 200);
          await press("Enter");
          await wait(100, roll(5) === 0 ? 1500 : 300);
        }
        for (const letter of line.trimStart()) {
          await type(letter);
          await (letter === " " && roll(25) === 0 ? wait(300, 1000) : wait(40, 120));
        }
      }
    },
    put: (name, text) => writeFileSync(join(folder, name), text),
    read: (name) => readFileSync(join(folder, name), "utf8"),
    git: (...words) =>
      void execFileSync("git", ["-c", "user.name=Test", "-c", "user.email=test@example.org", ...words], { cwd: folder, stdio: "pipe" }),
    openFile: async (name) => {
      // Not by the key for it: where that came too early, the browser would print.
      await take(["F1", "Backspace"], name, name);
      await page.locator(`.editor-group-container.active .tab.active[data-resource-name="${name}"]`).waitFor();
      await page.locator(".editor-group-container.active .monaco-editor.focused").waitFor();
    },
    focusEditor: () => command("View: Focus First Editor Group"),
    goToLine: (book, start) => goTo(book, start),
    goToWord: async (book, start, word, where = "before") => {
      const line = readFileSync(join(folder, book), "utf8").split("\n")[lineOf(book, start) - 1]!;
      const at = line.search(new RegExp(`(?<![\\w-])${word.replaceAll("/", "\\/")}(?![\\w-])`));
      if (at < 0) throw new Error(`${line} has no word ${word}`);
      await goTo(book, start, at + (where === "behind" ? word.length : 0));
    },
    status: async (id) =>
      (
        (await page
          .locator(`[id="status.${id}"]`)
          .textContent({ timeout: 1000 })
          .catch(() => "")) ?? ""
      ).trim(),
    colorOf: (text) => {
      const piece = page.locator(".view-line span span").getByText(text.replaceAll(" ", "\u00a0"), { exact: true }).first();
      return piece.evaluate(
        (element) =>
          (globalThis as unknown as { getComputedStyle(of: unknown): { readonly color: string } }).getComputedStyle(element).color,
      );
    },
    squiggles: () => page.locator(".squiggly-error, .squiggly-warning"),
    question: async () =>
      (await input()
        .locator(".quick-input-title")
        .textContent({ timeout: 2000 })
        .catch(() => "")) ?? "",
    choose: (item) => input().locator(".monaco-list-row", { hasText: item }).first().click(),
    offered: async () => {
      const menu = page.locator(".action-widget:visible");
      // The editor drops the question if it looks for actions itself just then: whoever asks again is told.
      for (let tries = 1; ; tries++) {
        await press("Control+Period");
        if (
          await menu.waitFor({ timeout: 2000 }).then(
            () => true,
            () => false,
          )
        )
          return menu;
        if (tries === 10) throw new Error("nothing is offered");
      }
    },
    shown: () => page.locator("iframe.webview:visible").last().contentFrame().frameLocator("#active-frame"),
    shot: async (name) => {
      if (shots !== undefined) await page.screenshot({ path: join(shots, `${name}.png`) });
    },
    close: async () => {
      await browser.close();
      await codeServer.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
