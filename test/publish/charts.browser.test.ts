/// <reference lib="dom" />
/**
 * The picture, the table, the wall chart and the counter card in a real browser: by pointer and by keyboard, light, dark and narrow,
 * and on paper. `CHARTS_SHOTS=folder` keeps screenshots and prints to look at.
 */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { extractText, getDocumentProxy } from "unpdf";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { launchBrowser } from "../browser.js";
import { chartPage } from "./chart-page.js";

const top = join(import.meta.dirname, "../..");
const axe = readFileSync(join(top, "node_modules/axe-core/axe.min.js"), "utf8");
const shots = process.env["CHARTS_SHOTS"];
let browser: Browser;
let built: Awaited<ReturnType<typeof chartPage>>;
let page: Page;
const trouble: string[] = [];

beforeAll(async () => {
  if (shots) mkdirSync(shots, { recursive: true });
  [built, browser] = await Promise.all([chartPage(), launchBrowser()]);
  page = await browser.newPage({ viewport: { width: 1200, height: 900 } });
  page.on("console", (message) => trouble.push(message.text()));
  page.on("pageerror", ({ message }) => trouble.push(message));
  page.on("request", (request) => {
    if (!request.url().startsWith("file:")) trouble.push(`asks for ${request.url()}`);
  });
});
afterAll(async () => {
  await browser?.close();
  if (built) rmSync(built.folder, { recursive: true });
});

async function open(
  hash: string,
  { width = 1200, scheme = "light" }: { readonly width?: number; readonly scheme?: "light" | "dark" } = {},
): Promise<void> {
  await page.setViewportSize({ width, height: 800 });
  await page.emulateMedia({ media: "screen", colorScheme: scheme });
  await page.goto("about:blank");
  await page.goto(`${built.address}#${hash}`);
  await page.waitForSelector("main section");
}

const hash = (): Promise<URLSearchParams> =>
  page.evaluate(() => globalThis.location.hash.slice(1)).then((text) => new URLSearchParams(text));

describe("the picture", () => {
  test("a tap makes the place known, and says why", async () => {
    await open("view=picture&down=clarity&across=water-temp&cover=none&daylight=daytime&sky=bright&wind=5 mph");
    await page.getByRole("button", { name: "Water clarity muddy, Water temperature cold" }).click();
    expect((await hash()).get("clarity")).toBe("muddy");
    expect((await hash()).get("water-temp")).toBe("cold");
    expect(await page.textContent(".why h3")).toBe("You chose Water clarity muddy, Water temperature cold.");
    expect(await page.textContent(".why ul")).toContain("Dirty water wants thump");
    expect(await page.locator("td[data-here]").count()).toBe(1);
  });

  test("by keyboard alone: one stop, arrows inside, Enter to choose", async () => {
    await open("view=picture&down=clarity&across=water-temp");
    await page.focus("#picture-by");
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement!.id)).toBe("cell-0-0-0");
    for (const key of ["ArrowRight", "ArrowDown", "ArrowDown", "End", "ArrowRight"]) await page.keyboard.press(key);
    expect(await page.evaluate(() => document.activeElement!.id)).toBe("cell-0-2-2");
    await page.keyboard.press("Enter");
    expect((await hash()).get("clarity")).toBe("stained");
    expect(await page.evaluate(() => document.activeElement!.id)).toBe("cell-0-2-2");
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement!.closest("table"))).toBeNull();
  });

  test("a third condition makes a chart for each of its parts", async () => {
    await open("view=picture&down=clarity&across=water-temp");
    await page.selectOption("#picture-by", "cover");
    expect(await page.locator(".chart").count()).toBe(4);
    expect((await hash()).get("by")).toBe("cover");
    await page.selectOption("#picture-down", "water-temp");
    expect([(await hash()).get("down"), (await hash()).get("across")]).toEqual(["water-temp", "clarity"]);
  });

  test("the list in words says what the chart says", async () => {
    await open("view=picture&down=clarity&across=water-temp&cover=none&daylight=daytime&sky=bright&wind=5 mph");
    await page.click("#picture-list");
    const lines = await page.locator(".words tbody tr").allTextContents();
    expect(lines).toContain("dirty or muddyanyround, then teardrop");
    expect(lines).toContain("very-clear or clearanyleaf, then teardrop");
  });
});

describe("the table", () => {
  test("is narrowed by values and by words, and shown whole again", async () => {
    await open("view=table");
    const rows = () => page.locator(".row-table tbody tr").count();
    const all = await rows();
    await page.selectOption("#table-by-clarity", "muddy");
    const muddy = await rows();
    expect(muddy).toBeLessThan(all);
    await page.fill("#table-search", "muddy grass");
    expect(await rows()).toBeLessThan(muddy);
    expect(await page.textContent(".row-table tbody")).toContain("In muddy grass hang the leaf at the back");
    await page.fill("#table-search", "no such words");
    expect(await page.textContent(".count")).toBe("No row fits all of this.");
    await page.click("#table-clear");
    expect(await rows()).toBe(all);
  });

  test("every row has an address, and says which patterns decided and why", async () => {
    await open("view=table");
    const line = page.locator(".row-table tbody tr").nth(20);
    const id = await line.getAttribute("id");
    expect(await line.locator(".reasons li").count()).toBeGreaterThan(0);
    const address = await line.locator("a").getAttribute("href");
    await open(address!.slice(1));
    expect(await page.getAttribute("tr[data-linked]", "id")).toBe(id);
    await page.waitForFunction((row) => {
      const { top, bottom } = document.getElementById(row!)!.getBoundingClientRect();
      return top >= 0 && bottom <= innerHeight;
    }, id);
  });
});

const views = {
  picture: "view=picture",
  "small multiples": "view=picture&down=clarity&across=water-temp&by=cover",
  "picture of many": "view=picture&book=reservoir.lore&down=day&across=water-temp",
  table: "view=table",
  wall: "view=wall",
  card: "view=card&clarity=muddy",
};

describe("for everybody", () => {
  for (const [name, address] of Object.entries(views))
    for (const [look, how] of Object.entries({ light: {}, dark: { scheme: "dark" }, narrow: { width: 320 } } as const)) {
      test(`${name}, ${look}: axe finds nothing, and nothing runs out of the page`, async () => {
        await open(address, how);
        await page.waitForTimeout(100);
        await page.evaluate(axe);
        const found = await page.evaluate(async () => {
          const run = (
            globalThis as unknown as {
              axe: { run(options: object): Promise<{ violations: { id: string; nodes: { html: string; failureSummary: string }[] }[] }> };
            }
          ).axe.run;
          const { violations } = await run({
            preload: false,
            runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
          });
          return violations.map(({ id, nodes }) => `${id}: ${nodes[0]!.html.slice(0, 200)} ${nodes[0]!.failureSummary}`);
        });
        if (shots) await page.screenshot({ path: join(shots, `${name}-${look}.png`), fullPage: true });
        expect(found).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
      });
    }

  test("nothing was said on the console, and nothing asked for", () => expect(trouble).toEqual([]));
});

describe("on paper", () => {
  const sheets = {
    wall: "view=wall",
    "wall, some known": "view=wall&down=clarity&across=water-temp&cover=none&daylight=daytime&sky=bright",
    "wall of many": "view=wall&book=reservoir.lore&draft=1",
    "wall, a river": "view=wall&book=river.lore",
    "wall, inshore": "view=wall&book=inshore.lore",
    "wall, the cove": "view=wall&book=hollin-cove.lore",
    card: "view=card&clarity=muddy",
    "card, all known": "view=card&clarity=muddy&cover=none&daylight=night",
    "card of many": "view=card&book=reservoir.lore&draft=1",
    "card, a river": "view=card&book=river.lore",
  };
  for (const [name, address] of Object.entries(sheets))
    for (const format of ["Letter", "A4"]) {
      test(`${name}: one page of ${format}, with everything on it`, async () => {
        await open(address);
        await page.waitForFunction(() => document.querySelector<HTMLElement>(".sheet")!.style.getPropertyValue("--fit") !== "");
        const cautions = await page.locator(".cautions li b").allTextContents();
        expect(cautions.length).toBeGreaterThan(0);
        // No large word runs out of its square.
        expect(
          await page.evaluate(() => {
            const paper = document.querySelector(".sheet")!;
            return [...paper.querySelectorAll("td, th, li")]
              .filter((box) => box.scrollWidth > box.clientWidth + 1)
              .map((box) => box.textContent);
          }),
        ).toEqual([]);
        await page.emulateMedia({ media: null });
        const printed = await page.pdf({ format, preferCSSPageSize: true, printBackground: false });
        if (shots) writeFileSync(join(shots, `${name}-${format}.pdf`), printed);
        const paper = await getDocumentProxy(new Uint8Array(printed));
        expect(paper.numPages).toBe(1);
        const { width, height } = (await paper.getPage(1)).getViewport({ scale: 1 });
        expect([width, height].map(Math.round)).toEqual(
          format === "Letter" ? (name.startsWith("wall") ? [792, 612] : [612, 792]) : name.startsWith("wall") ? [843, 596] : [596, 843],
        );
        const text = (await extractText(paper, { mergePages: true })).text.replace(/\s+/g, " ");
        for (const title of [
          ...cautions,
          "Local rules come first",
          "Hollin Landing",
          ...(address.includes("draft") ? ["Draft, not for customers"] : []),
        ])
          expect(text).toContain(title.split(" ")[0]);
        expect(text).toContain("Scan for your own");
      });
    }

  test("the longest table of the shelf is no large file", async () => {
    await open("view=table&book=reservoir.lore&pick=family");
    await page.waitForSelector("tr[id]");
    await page.emulateMedia({ media: null });
    expect((await page.pdf()).length).toBeLessThan(500_000);
  });
});
