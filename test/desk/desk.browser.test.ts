/** The desk in a real browser with real typing: what is written is checked, seen as a customer, saved, and never lost. */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, BrowserContext, BrowserContextOptions, FrameLocator, Page } from "playwright-core";
import { afterAll, beforeAll, expect, onTestFinished, test } from "vitest";
import { deskFiles, pageFiles } from "../../src/faces/build/build.js";
import { deskPage } from "../../src/faces/desk/desk-html.js";
import { serveDesk } from "../../src/faces/desk/serve.js";
import { openShopFolder } from "../../src/faces/desk/shop-folder.js";
import { launchBrowser } from "../browser.js";

const axe = readFileSync(join(import.meta.dirname, "../../node_modules/axe-core/axe.min.js"), "utf8");
const shots = process.env["SHOTS"];
let browser: Browser;
let desk: ReturnType<typeof deskPage>;

beforeAll(async () => {
  const [own, page] = await Promise.all([deskFiles(), pageFiles()]);
  desk = deskPage({
    script: own.get("desk.js")!,
    style: own.get("desk-style.css")!,
    server: own.get("server.js")!,
    page: { script: page.get("page.js")!, style: page.get("page.css")! },
  });
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

interface Shop {
  readonly folder: string;
  readonly context: BrowserContext;
  readonly page: Page;
  /** What it logs as an error, and what it asks of anybody but its own server. */
  readonly trouble: string[];
  read(name: string): string;
  put(name: string, text: string): void;
  customer(): FrameLocator;
  /** Another tab, of the same browser. */
  tab(): Promise<Page>;
  shot(name: string): Promise<void>;
}

async function openShop(files: Readonly<Record<string, string>>, options: BrowserContextOptions = {}): Promise<Shop> {
  const folder = mkdtempSync(join(tmpdir(), "waterlore-shop-"));
  const put = (name: string, text: string): void => {
    mkdirSync(join(folder, name, ".."), { recursive: true });
    writeFileSync(join(folder, name), text);
  };
  for (const [name, text] of Object.entries(files)) put(name, text);
  const serving = await serveDesk(openShopFolder(folder), desk, 0);
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
  const trouble: string[] = [];
  const tab = async (address: string): Promise<Page> => {
    const page = await context.newPage();
    page.on("console", (message) => message.type() === "error" && trouble.push(message.text()));
    page.on("pageerror", (error) => trouble.push(error.message));
    page.on("request", (request) => {
      const url = request.url();
      if (!/^(blob|data):/.test(url) && new URL(url).origin !== new URL(serving.address).origin) trouble.push(url);
    });
    await page.goto(address);
    await page.locator(".shelf").waitFor();
    return page;
  };
  const page = await tab(serving.address);
  onTestFinished(async () => {
    await context.close();
    await serving.close();
    rmSync(folder, { recursive: true, force: true });
  });
  return {
    folder,
    context,
    page,
    trouble,
    put,
    read: (name) => readFileSync(join(folder, name), "utf8"),
    customer: () => page.frameLocator(".preview iframe").last(),
    tab: () => tab(new URL(serving.address).origin),
    shot: async (name) => {
      if (shots !== undefined) await page.screenshot({ path: join(shots, `${name}.png`) });
    },
  };
}

/** On a busy machine, too. */
const eventually = <T>(found: () => Promise<T>) => expect.poll(found, { timeout: 20_000 });

const pond = `book "Pond"
condition clarity: clear, muddy
pick lure: spoon, jig
pattern "Mud wants thump"
  go with lure jig
  when clarity is muddy
fall back on lure spoon
`;
const broken = pond.replace("fall back on lure spoon\n", "");
const state = (page: Page, book: string) => page.locator(`[id="book-${book}"] .state`);

test("a first book, from an empty folder: titled, written, its mistake settled, seen as a customer, saved", async () => {
  const { page, trouble, folder, read, customer, shot } = await openShop({});
  await shot("desk-empty");
  await page.locator("#new-title").fill("Jigs for Heron Pond");
  await page.keyboard.press("Enter");
  await eventually(() => state(page, "jigs-for-heron-pond.lore").textContent()).toBe("Nothing to settle · not saved");
  expect(existsSync(join(folder, "jigs-for-heron-pond.lore"))).toBe(false);
  await customer().getByRole("heading", { name: "Jigs for Heron Pond" }).waitFor();

  await page.locator(".cm-content:visible").click();
  await page.keyboard.press("Control+End");
  await page.keyboard.type('pattern "Stain wants flash"\ngo with color bright\nwhen clarity is st', { delay: 25 });
  // Not gray, as suggestions are that are about to be replaced.
  await page.locator(".cm-tooltip-autocomplete:not(.cm-tooltip-autocomplete-disabled)").getByText("stained").first().waitFor();
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  expect(await page.locator(".cm-content:visible").innerText()).toMatch(/when clarity is stained\n/);
  await page.locator("#panel-settle").click();
  // Until all is found, nothing that is not found counts as sound.
  const said = new Set<string>();
  await eventually(async () => {
    const text = await page.locator(".findings").innerText();
    said.add(text.split("\n")[0]!);
    return text;
  }).toContain("Two patterns disagree");
  expect([...said]).not.toContain("Nothing to settle");
  await shot("desk-settle");
  await page.locator("#save").click();
  await eventually(() => page.locator("#notice").textContent()).toBe("jigs-for-heron-pond.lore is saved.");
  expect(read("jigs-for-heron-pond.lore")).toContain('pattern "Stain wants flash"');
  expect(trouble).toEqual([]);
});

test("a fix says which lines it changes, and changes just these; one undo takes it back", async () => {
  const { page, trouble, shot } = await openShop({ "pond.lore": broken });
  await eventually(() => state(page, "pond.lore").textContent()).toBe("1 error");
  await page.locator("#panel-settle").click();
  await page.getByRole("button", { name: "What would help?" }).first().click();
  const fix = page.locator(".fixes details").first();
  await fix.locator("summary").click();
  const brought = (await fix.locator("ins").allTextContents()).map((line) => line.replace(/^\+ /, "").trimEnd());
  expect(brought.length).toBeGreaterThan(0);
  await shot("desk-fix");
  await fix.getByRole("button", { name: "Do this" }).click();
  for (const line of brought) expect(await page.locator(".cm-content:visible").innerText()).toContain(line);
  await eventually(() => state(page, "pond.lore").textContent()).toBe("Nothing to settle · not saved");
  await page.locator(".cm-content:visible").click();
  await page.keyboard.press("Control+z");
  await eventually(() => state(page, "pond.lore").textContent()).toBe("1 error");
  expect(trouble).toEqual([]);
});

test("what was not saved is there again after the tab was killed", async () => {
  const { page, tab, read } = await openShop({ "pond.lore": pond });
  await page.locator(".cm-content:visible").click();
  await page.keyboard.press("Control+End");
  await page.keyboard.type("-- half a th");
  await page.waitForTimeout(100);
  await page.close({ runBeforeUnload: false });
  const again = await tab();
  await eventually(() => again.locator(".cm-content:visible").innerText()).toContain("-- half a th");
  expect(await again.locator("#standing").textContent()).toBe("not saved");
  expect(read("pond.lore")).toBe(pond);
  await again.locator(".cm-content:visible").click();
  await again.keyboard.press("Control+s");
  await eventually(() => again.locator("#standing").textContent()).toBe("saved");
  expect(read("pond.lore")).toBe(`${pond}-- half a th`);
});

test("a book changed in the folder is taken over where nothing was typed; else both are kept until one is chosen", async () => {
  const { page, put, read, shot } = await openShop({ "pond.lore": pond });
  const text = page.locator(".cm-content:visible");
  await text.click();
  put("pond.lore", pond.replace("Mud wants thump", "Mud wants noise"));
  await eventually(() => text.innerText()).toContain("Mud wants noise");
  await page.keyboard.press("Control+End");
  await page.keyboard.type("-- mine");
  put("pond.lore", pond.replace("Mud wants thump", "Mud wants weight"));
  await page.getByRole("button", { name: "Keep mine as a book of its own" }).waitFor();
  expect(await page.locator("#save").isDisabled()).toBe(true);
  await shot("desk-two-versions");
  await page.getByRole("button", { name: "Keep mine as a book of its own" }).click();
  await eventually(() => text.innerText()).toContain("Mud wants weight");
  await page.locator('[id="book-pond-2.lore"]').click();
  await eventually(() => text.innerText()).toContain("-- mine");
  await page.locator("#save").click();
  await eventually(() => page.locator("#standing").textContent()).toBe("saved");
  expect(read("pond-2.lore")).toContain("-- mine");
  expect(read("pond.lore")).toContain("Mud wants weight");
});

test("two tabs with one book tell each other", async () => {
  const { page, tab } = await openShop({ "pond.lore": pond });
  const other = await tab();
  for (const one of [page, other]) await eventually(() => one.locator("#notice").textContent()).toContain("open in another tab");
});

test("a name is changed in every book, whether it was opened or not", async () => {
  const { page } = await openShop({
    "base.lore": pond,
    "cove.lore": 'book "Cove"\nbuilds on "base.lore"\npattern "Clear wants flash"\n  go with lure spoon\n  when clarity is clear\n',
  });
  await page.locator('[id="book-base.lore"]').click();
  await page.locator(".cm-line", { hasText: "pick lure" }).locator(".word-enum").dblclick();
  await page.keyboard.press("F2");
  await page.locator(".cm-dialog input").fill("bait");
  await page.keyboard.press("Enter");
  await eventually(() => page.locator(".cm-content:visible").innerText()).toContain("pick bait");
  await page.locator('[id="book-cove.lore"]').click();
  await eventually(() => page.locator(".cm-content:visible").innerText()).toContain("go with bait spoon");
  await eventually(() => state(page, "cove.lore").textContent()).toBe("Nothing to settle · not saved");
});

test("what a customer sees stays at its view and what was told while the book changes, and can reach nothing of the desk", async () => {
  const { page, customer, trouble } = await openShop({ "pond.lore": pond });
  await customer().locator("#row-clarity-muddy").click();
  await customer().getByText("jig", { exact: true }).first().waitFor();
  await page.locator(".cm-content:visible").click();
  await page.keyboard.press("Control+Home");
  await page.keyboard.press("End");
  await page.keyboard.press("Backspace");
  await page.keyboard.type(' at noon"');
  await customer().getByRole("heading", { name: "Pond at noon" }).waitFor();
  expect(await customer().locator("#row-clarity-muddy").getAttribute("aria-pressed")).toBe("true");
  const frame = page.frames().at(-1)!;
  expect(await frame.evaluate("try { parent.document.title } catch (error) { error.name }")).toBe("SecurityError");
  expect(trouble).toEqual([]);
});

test.each(["light", "dark"] as const)("in a %s theme no fault of access is found, on any size", async (colorScheme) => {
  const { page, shot } = await openShop({ "pond.lore": broken }, { colorScheme });
  await eventually(() => state(page, "pond.lore").textContent()).toBe("1 error");
  await page.locator("#panel-settle").click();
  for (const width of [1440, 820, 390, 320]) {
    await page.setViewportSize({ width, height: 844 });
    await page.evaluate(axe);
    const faults = await page.evaluate(
      "axe.run({ iframes: false }).then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + nodes.map(({ target }) => target).join(', ')))",
    );
    expect(faults).toEqual([]);
    expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
    await shot(`desk-${colorScheme}-${width}`);
  }
});
