/**
 * How long a published page lets a customer wait: every shipped book, published and opened in a real browser.
 *
 *     page opened ──▶ first answer         tap on a reply ──▶ the answer is there and laid out         view chosen ──▶ shown
 *
 * Each reply is tapped by script at a fixed seed, each time among all that are there. Sizes are of the page as a server sends it, packed.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";
import { launchBrowser } from "../browser.js";
import { dice } from "./books.js";

const root = fileURLToPath(new URL("../..", import.meta.url));
const TAPS = 40;

export async function page(line: (label: string, ...values: string[]) => void): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "waterlore-bench-"));
  const browser = await launchBrowser();
  try {
    const made = spawnSync(process.execPath, [join(root, "dist/cli/waterlore.js"), "publish", join(root, "rules"), "--to", folder], {
      encoding: "utf8",
    });
    if (made.status !== 0) throw new Error(made.stderr);
    line("milliseconds; taps: p50 and p95", "size", "first answer", "first tap", "a tap", "the slowest view");
    for (const book of ["blades", "reservoir", "hollin-cove", "river", "inshore"]) {
      const file = join(folder, `${book}.html`);
      const open = await browser.newPage({ viewport: { width: 390, height: 844 } });
      await open.goto(pathToFileURL(file).href);
      const first = await open.evaluate(
        () => (performance.getEntriesByType("navigation")[0] as PerformanceNavigationTiming).domContentLoadedEventEnd,
      );
      const roll = dice(3);
      const taps: number[] = [];
      for (let n = 0; n < TAPS; n++)
        taps.push(
          await open.evaluate(
            (at) => {
              const chips = [...document.querySelectorAll<HTMLElement>(".known .chip")];
              const start = performance.now();
              chips[Math.floor(at * chips.length)]!.click();
              document.body.getBoundingClientRect();
              return performance.now() - start;
            },
            roll(1000) / 1000,
          ),
        );
      const views = await open.evaluate(() =>
        [...document.querySelectorAll<HTMLElement>("nav a, nav button, [role=tab]")].map((view) => {
          const start = performance.now();
          view.click();
          document.body.getBoundingClientRect();
          return { name: view.textContent, time: performance.now() - start };
        }),
      );
      const slowest = views.reduce((a, b) => (a.time >= b.time ? a : b));
      const [firstTap, ...others] = taps;
      others.sort((a, b) => a - b);
      const at = (part: number): string => others[Math.min(others.length - 1, Math.floor(part * others.length))]!.toFixed(0);
      line(
        book,
        `${(gzipSync(readFileSync(file)).length / 1000).toFixed(0)} kB`,
        first.toFixed(0),
        firstTap!.toFixed(0),
        `${at(0.5)} / ${at(0.95)}`,
        `${slowest.time.toFixed(0)} ${slowest.name}`,
      );
      await open.close();
    }
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true });
  }
}
