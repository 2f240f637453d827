/** The published site: what is packed means the same, and in a real browser every control does what it says. */
import { createHash } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";
import jsqr from "jsqr";
import type { QRCode } from "jsqr";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { answers } from "../../src/analysis/answers.js";
import { pageFiles } from "../../src/faces/build/build.js";
import { pack, unpack } from "../../src/publish/pack.js";
import { siteOf } from "../../src/publish/site.js";
import { answersJson } from "../../src/render/json.js";
import { readGiven } from "../../src/answer/given.js";
import { answer } from "../../src/answer/answer.js";
import { launchBrowser } from "../browser.js";
import { readBooks, readShipped, shipped } from "./shelf.js";

const root = join(import.meta.dirname, "../..");
const axe = readFileSync(join(root, "node_modules/axe-core/axe.min.js"), "utf8");
// The package is CommonJS, and its types say otherwise.
const readCode = jsqr as unknown as (data: Uint8ClampedArray, width: number, height: number) => QRCode | null;
const sha256 = (text: string): string => createHash("sha256").update(text).digest("base64");
let folder: string;
let browser: Browser;
let assets: Parameters<typeof siteOf>[2];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "waterlore-site-"));
  const built = await pageFiles();
  assets = { script: built.get("page.js")!, style: built.get("page.css")!, sha256 };
  for (const [name, text] of siteOf(
    shipped.map((path) => ({ path, model: readShipped(path).model })),
    { on: "2027-04-15", draft: false },
    assets,
  ))
    writeFileSync(join(folder, name), text);
  browser = await launchBrowser();
}, 120_000);
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

/** A page of the site; what it logs as an error and what it asks of a network is in `trouble`. */
async function open(
  file: string,
  options: BrowserContextOptions = {},
  hash = "",
): Promise<{ readonly page: Page; readonly trouble: string[] }> {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, ...options });
  const page = await context.newPage();
  const trouble: string[] = [];
  page.on("console", (message) => message.type() === "error" && trouble.push(message.text()));
  page.on("pageerror", (error) => trouble.push(error.message));
  page.on("request", (request) => !/^(file|data):/.test(request.url()) && trouble.push(request.url()));
  await page.goto(pathToFileURL(join(folder, file)).href + hash);
  await page.waitForSelector("#answer .pick, .shelf, .plan, .picture-view, .sheet, .rows", { state: "attached" });
  return { page, trouble };
}

describe("what is packed", () => {
  test.each(shipped)("answers as the book does: %s", (path) => {
    const { model, answers: own } = readShipped(path);
    const packed = unpack(pack(model));
    const theirs = answers(packed, { steps: 400_000 });
    for (const values of [
      [],
      [["clarity", "muddy"]],
      [
        ["clarity", "clear"],
        ["daylight", "dusk"],
      ],
      [["water-temp", "61"]],
    ] as const) {
      const [a, b] = [
        [model, own],
        [packed, theirs],
      ].map(([of, known]) => {
        const read = readGiven(
          of as typeof model,
          values.filter(([name]) => model.conditions.some((one) => one.name === name)),
        );
        if ("problems" in read) throw new Error(read.problems[0]!.problem);
        const answered = answer(of as typeof model, read.given, () => known as typeof own);
        return "problem" in answered ? answered : answersJson(of as typeof model, [answered]);
      });
      expect(b).toEqual(a);
    }
  });
});

test("a page weighs less than 150 kB, compressed", () => {
  for (const path of shipped)
    expect(gzipSync(readFileSync(join(folder, path.replace(".lore", ".html"))), { level: 9 }).length).toBeLessThan(150_000);
});

test("the same books give the same bytes", () => {
  const make = (): string =>
    [
      ...siteOf(
        [{ path: "blades.lore", model: readShipped("blades.lore").model }],
        { on: "2027-04-15", draft: false },
        { script: "s", style: "t", sha256 },
      ).values(),
    ].join();
  expect(make()).toBe(make());
});

test("a draft says so on every page, twice", () => {
  for (const text of siteOf(
    [{ path: "blades.lore", model: readShipped("blades.lore").model }],
    { on: "2027-04-15", draft: true },
    { script: "", style: "", sha256 },
  ).values())
    expect(text.split("Draft. This book has mistakes").length).toBe(3);
});

test("from “at the lake at dusk, water is muddy” to a bait and what it depends on in three taps", async () => {
  const { page, trouble } = await open("reservoir.html");
  await page.click("#row-clarity-muddy");
  await page.click("#row-daylight-dusk");
  await page.click(".bar");
  const first = page.locator("#answer .pick").first();
  await first.locator("h3").scrollIntoViewIfNeeded();
  expect(await first.locator("h3").textContent()).toBe("Bait family");
  expect(await first.locator(".front strong").textContent()).toContain("spinnerbait");
  // What is not certain yet has no reason that speaks of what nobody has said; each reply says what it leads to.
  expect(await first.locator(".reasons li").count()).toBe(0);
  await expect.poll(() => page.locator(".ask .chip small").count()).toBeGreaterThan(1);
  // The bar takes to the answer, which stands at the top of the screen.
  expect((await page.locator("#answer").boundingBox())!.y).toBeLessThan(100);
  expect(trouble).toEqual([]);
  await page.context().close();
});

test("with nothing known it says over what it counts, and of a pick that mostly does not apply that it is mostly not needed", async () => {
  const { page, trouble } = await open("reservoir.html");
  await page.click("#rest");
  const said = await page.locator("#answer").innerText();
  expect(said).toContain("Nothing is known yet. Below is how it comes out over all conditions of this book");
  expect(said).toContain("mostly not needed");
  // Shares are for whoever asks.
  expect(said).not.toContain("%");
  expect(said).not.toContain("does not apply most often");
  await page.click("#row-clarity-muddy");
  expect(await page.locator("#answer").innerText()).not.toContain("Nothing is known yet");
  expect(trouble).toEqual([]);
  await page.context().close();
});

test("a book without cautions has nothing to mind", async () => {
  const text = `book "Plain"\ncondition clarity: clear, muddy\npick blade: round, leaf\npattern "Mud" go with blade round when clarity is muddy\nfall back on blade leaf\n`;
  const models = [
    { path: "plain.lore", model: readBooks({ "plain.lore": text }, "plain.lore").model },
    {
      path: "careful.lore",
      model: readBooks({ "careful.lore": `${text}caution "Mud" when clarity is muddy say "Mind the mud."\n` }, "careful.lore").model,
    },
  ];
  for (const [name, page] of siteOf(models, { on: "2027-04-15", draft: false }, assets))
    if (name !== "index.html") writeFileSync(join(folder, name), page);
  for (const [file, hash, boxes] of [
    ["plain.html", "", 0],
    ["careful.html", "", 1],
    ["careful.html", "#clarity=clear", 0],
    ["careful.html", "#clarity=muddy", 1],
  ] as const) {
    const { page } = await open(file, {}, hash);
    expect(await page.locator(".mind").count(), file + hash).toBe(boxes);
    await page.context().close();
  }
});

test("what is tapped stands in the address, and the address brings it back", async () => {
  const { page } = await open("blades.html");
  await page.click("#row-clarity-muddy");
  await page.click("#row-cover-grass");
  await page.click("#row-cover-docks");
  await page.fill("#exact-water-temp", "61");
  await page.dispatchEvent("#exact-water-temp", "change");
  await expect.poll(() => new URL(page.url()).hash).toBe("#clarity=muddy&cover=grass,docks&water-temp=61+%C2%B0F");
  const said = await page.locator("#answer .lead").innerText();
  const again = await open("blades.html", {}, new URL(page.url()).hash);
  expect(await again.page.locator("#answer .lead").innerText()).toBe(said);
  await page.click("#row-clarity-unknown");
  expect(new URL(page.url()).hash).toBe("#cover=grass,docks&water-temp=61+%C2%B0F");
  await page.click("#clear");
  expect(new URL(page.url()).hash).toBe("");
  await page.context().close();
  await again.page.context().close();
});

test("the code holds the address of the answer", async () => {
  const { page } = await open("blades.html", { deviceScaleFactor: 2 }, "#clarity=muddy&daylight=dusk");
  await page.click("#share-code");
  const shot = (await page.locator(".qr").screenshot()).toString("base64");
  const { data, width, height } = await page.evaluate(async (image) => {
    const bitmap = await createImageBitmap(
      new Blob([Uint8Array.from(atob(image), (letter) => letter.charCodeAt(0))], { type: "image/png" }),
    );
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
    const context = canvas.getContext("2d")!;
    context.drawImage(bitmap, 0, 0);
    return { data: [...context.getImageData(0, 0, bitmap.width, bitmap.height).data], width: bitmap.width, height: bitmap.height };
  }, shot);
  expect(readCode(Uint8ClampedArray.from(data), width, height)?.data).toBe(page.url());
  await page.context().close();
});

test("units switch, and a value that was told stays what it was", async () => {
  const { page } = await open("reservoir.html", {}, "#water-temp=50+%C2%B0F");
  await page.selectOption("#units", "metric");
  expect(await page.inputValue("#exact-water-temp")).toBe("10");
  expect(await page.locator("#row-water-temp-unknown").getAttribute("aria-pressed")).toBe("false");
  await page.fill("#exact-water-temp", "11.3");
  await page.dispatchEvent("#exact-water-temp", "change");
  expect(await page.inputValue("#exact-water-temp")).toBe("11.3");
  await page.click("#view-wall");
  expect(await page.locator("#views").innerText()).toContain("11.1 °C");
  expect(await page.locator("#views").innerText()).not.toContain("52 °F");
  await page.context().close();
});

test("a bad number says what would be accepted", async () => {
  const { page } = await open("blades.html");
  await page.fill("#exact-water-temp", "200");
  await page.dispatchEvent("#exact-water-temp", "change");
  expect(await page.locator(".condition .problem").innerText()).toContain("33 °F");
  await page.context().close();
});

test("the day plan changes at dawn and dusk, and names why", async () => {
  const { page, trouble } = await open(
    "blades.html",
    {},
    "#clarity=clear&cover=none&~view=plan&~date=2027-05-20&~lat=37.2&~lon=-79.9&~zone=-4",
  );
  const lights = await page.locator(".stretch .light").allInnerTexts();
  expect(lights.map((text) => text.split(",")[0])).toEqual(["night", "dawn", "day", "dusk", "night"]);
  expect(await page.locator(".stretch.dusk").innerText()).toContain("Low light wants thump");
  expect(trouble).toEqual([]);
  await page.context().close();
});

test("with the keyboard alone", async () => {
  const { page } = await open("blades.html");
  await page.focus("#row-clarity-stained");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  expect(new URL(page.url()).hash).toBe("#clarity=muddy");
  expect(await page.evaluate(() => document.activeElement?.id)).toBe("row-clarity-muddy");
  await page.context().close();
});

describe("for everybody", () => {
  test.each<[string, BrowserContextOptions]>([
    ["light", {}],
    ["dark", { colorScheme: "dark" }],
    ["at 320 px", { viewport: { width: 320, height: 640 } }],
  ])("no violation of WCAG 2.2 AA: %s", { timeout: 120_000 }, async (_, options) => {
    for (const view of ["counter", "plan", "picture", "table", "wall", "card"]) {
      const { page, trouble } = await open(
        "blades.html",
        options,
        `#clarity=muddy&~view=${view}&~date=2027-05-20&~lat=37.2&~lon=-79.9&~zone=-4`,
      );
      const found = await page.evaluate<{
        readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[];
      }>(
        `(() => { const module = undefined, exports = undefined, define = undefined; ${axe}; return window.axe.run({ runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] }); })()`,
      );
      expect(found.violations.map(({ id, nodes }) => `${view}: ${id} ${nodes[0]!.html}`)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
      expect(trouble).toEqual([]);
      await page.context().close();
    }
  });

  test("the index leads to every book", async () => {
    const { page, trouble } = await open("index.html");
    expect(await page.locator(".shelf a").count()).toBe(shipped.length);
    await page.locator(".shelf a").first().click();
    await page.waitForSelector("#answer .pick");
    expect(trouble).toEqual([]);
    await page.context().close();
  });
});

/** A book by its text, on a page of its own. */
async function openBook(text: string, options: BrowserContextOptions = {}, hash = "") {
  const site = siteOf(
    [{ path: "own.lore", model: readBooks({ "own.lore": text }, "own.lore").model }],
    { on: "2027-04-15", draft: false },
    assets,
  );
  writeFileSync(join(folder, "own.html"), site.get("own.html")!);
  return open("own.html", options, hash);
}

const gauge = `book "Gauge"
condition gauge "Gauge": 0 to 40 ft, to the nearest 1 ft
condition clarity "Clarity": clear, muddy
pick bait "Bait": spoon, jig, worm
pattern "High" go with bait spoon, then worm when gauge is above 20 ft and clarity is clear
pattern "Mud" go with bait spoon, then jig when gauge is above 20 ft and clarity is muddy
pattern "Low" go with bait jig when gauge is at most 20 ft
caution "Rising water" say "Stay off the wading flats." when gauge is above 15 ft
`;

describe("a field that is left", () => {
  test("by a tap swallows no tap", async () => {
    const { page, trouble } = await openBook(gauge);
    await page.locator("#exact-gauge").fill("30");
    // As long as a person holds a button down.
    await page.click("#row-clarity-muddy", { delay: 150 });
    await expect.poll(() => page.evaluate(() => location.hash)).toBe("#clarity=muddy&gauge=30+ft");
    expect(await page.locator("#answer .front strong").textContent()).toBe("spoon");
    expect(trouble).toEqual([]);
    await page.context().close();
  });

  test("by a finger's tap swallows none, either", async () => {
    const { page } = await openBook(gauge, { hasTouch: true, isMobile: true });
    await page.locator("#exact-gauge").fill("30");
    await page.tap("#row-clarity-muddy");
    await expect.poll(() => page.evaluate(() => location.hash)).toBe("#clarity=muddy&gauge=30+ft");
    await page.context().close();
  });

  test("by Tab leads on to what comes next", async () => {
    const { page } = await openBook(gauge);
    await page.locator("#exact-gauge").fill("30");
    await page.keyboard.press("Tab");
    await expect.poll(() => page.evaluate(() => location.hash)).toBe("#gauge=30+ft");
    expect(await page.evaluate(() => document.activeElement!.id)).toBe("row-clarity-unknown");
    await page.context().close();
  });
});

test("the best question can be replied to, whatever it asks about, and the focus stays with what comes next", async () => {
  const { page } = await openBook(gauge);
  await page.locator(".ask").getByText("Gauge").first().waitFor();
  await page.locator("#ask-gauge-exact").fill("30");
  await page.keyboard.press("Enter");
  await expect.poll(() => page.locator("#answer .front strong").textContent()).toBe("spoon");
  await expect.poll(() => page.evaluate(() => document.activeElement === document.body)).toBe(false);
  await page.context().close();
});

test("what begins with one choice is one, and no large name is not the answer in most of what is possible", async () => {
  const { page } = await openBook(gauge, {}, "#gauge=30+ft");
  expect(await page.locator("#answer .front strong").textContent()).toBe("spoon");
  const open = await openBook(
    gauge.replace("at most 20 ft", "at most 13 ft").replace(/above 20 ft/g, "above 27 ft") +
      'pattern "Middle" go with bait worm when gauge is above 13 ft and gauge is at most 27 ft\n',
  );
  expect(await open.page.locator("#answer .front strong").textContent()).toBe("it depends");
  await page.context().close();
  await open.page.context().close();
});

test("what to mind stands right below what to tie on, and in every view", async () => {
  const { page } = await openBook(gauge, {}, "#gauge=30+ft");
  const places = await Promise.all([".pick", ".mind", ".next"].map((one) => page.locator(`#answer ${one}`).first().boundingBox()));
  expect(places.map((place) => place!.y)).toEqual(places.map((place) => place!.y).sort((a, b) => a - b));
  await page.locator("#answer .mind summary").click();
  await page.getByText("Stay off the wading flats.").waitFor();
  for (const view of ["picture", "table"]) {
    await page.click(`#view-${view}`);
    await page.locator(`.${view}-view .mind`).getByText("Rising water").waitFor();
  }
  await page.context().close();
});

test("an address with any row, and a copy where nothing may copy, say what they can", async () => {
  const { page, trouble } = await openBook(gauge, {}, '#~view=table&~row="]<x>');
  await page.locator(".row-table").waitFor();
  await page.click("#view-counter");
  await page.evaluate(() => Object.defineProperty(navigator, "clipboard", { value: undefined }));
  await page.click("#share-copy");
  await page.getByText("This browser lets no page copy here.").waitFor();
  expect(await page.evaluate(() => getSelection()!.toString())).toContain("own.html");
  expect(trouble).toEqual([]);
  await page.context().close();
});

test("a time in a link is one of a zone", async () => {
  const { page } = await openBook(gauge, { timezoneId: "America/Chicago" }, "#~date=2027-07-01");
  await page.locator("#moment-time").fill("06:00");
  await page.keyboard.press("Enter");
  await expect.poll(() => page.evaluate(() => location.hash)).toContain("~zone=-5");
  await page.context().close();
});

test("on a phone, dusk and muddy: the bait, what to mind and the next question without scrolling; what was told is taken back by a tap", async () => {
  const { page } = await open("reservoir.html", {}, "#clarity=muddy&daylight=dusk");
  await page.locator(".ask .chip").first().waitFor();
  const bottom = await page.locator(".ask").evaluate((element) => element.getBoundingClientRect().bottom);
  expect(bottom).toBeLessThanOrEqual(844);
  expect(await page.locator("#answer .lead strong").textContent()).toBe("spinnerbait");
  await page.locator("#rest").click();
  await page.getByText("Where it is spinnerbait, for example because:").waitFor();
  expect(await page.locator(".bar").isVisible()).toBe(false);
  await page.click("#told-clarity");
  await expect.poll(() => page.evaluate(() => location.hash)).toBe("#daylight=dusk");
  await page.context().close();
});

test("each reply to the best question says what it would lead to", async () => {
  const { page, trouble } = await openBook(
    gauge
      .replace("0 to 40 ft, to the nearest 1 ft", "low, high")
      .replace(/above \d+ ft/g, "high")
      .replace(/at most \d+ ft/g, "low")
      .replace(/gauge is (high|low)/g, "gauge is $1"),
  );
  await expect.poll(() => page.locator(".ask .chip small").allTextContents()).toEqual(["jig", "mostly spoon"]);
  expect(trouble).toEqual([]);
  await page.context().close();
});
