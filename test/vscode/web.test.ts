/**
 * The extension where there is no Node: the extension in the browser's own worker, and the server in another. What it finds is what the
 * extension with Node finds, with the same settings in the folder, after the same edits.
 */
import { afterEach, expect, test } from "vitest";
import { openWindow, type Window } from "./window.js";

const base = `book "Base"
condition clarity: clear, muddy
condition sky: bright, dark
pick blade: round, leaf
fall back on blade round
`;
const book = `book "Two rules"
builds on "base.lore"
pattern "Clear water wants a leaf"
  go with blade leaf
  when clarity is clear
pattern "A dark sky wants a round blade"
  go with blade round
  when sky is dark
`;

let w: Window;
afterEach(() => w?.close());

/** What the list of problems shows of the book at hand, as it is read aloud. */
const problems = (): Promise<readonly string[]> =>
  w.page.locator(".markers-panel .monaco-list-row").evaluateAll((all) => {
    const rows = all as unknown as readonly {
      readonly ariaLabel: string;
      readonly ariaLevel: string;
      readonly dataset: { readonly index: string };
    }[];
    let ours = false;
    return [...rows]
      .sort((a, b) => Number(a.dataset.index) - Number(b.dataset.index))
      .filter(({ ariaLabel, ariaLevel }) => {
        if (ariaLevel === "1") ours = ariaLabel.includes("two.lore");
        return ariaLevel === "2" && ours;
      })
      .map(({ ariaLabel }) => ariaLabel);
  });

/** What is shown after each of some edits, and what the settings are told to lack. */
async function seen(settings: Readonly<Record<string, unknown>>): Promise<{ readonly runsIn: string; readonly found: unknown }> {
  w = await openWindow(settings);
  w.put("base.lore", base);
  w.put("two.lore", book);
  w.put("waterlore.json", `{ "severities": { "conflict": "note", "gap": "error" } }`);
  await w.openFile("two.lore");
  await w.command("Problems: Focus on Problems View");
  await expect.poll(problems).toHaveLength(1);
  const found: unknown[] = [await problems()];
  w.put("waterlore.json", `{ "severities": { "conflict": "warning" } }`);
  await expect.poll(async () => (await problems()).join()).toMatch(/^Warning/);
  found.push(await problems());
  await w.focusEditor();
  await w.goToLine("two.lore", "  when sky is dark");
  await w.press("End");
  await w.type(`\nleave out "Nobody wrote this"`);
  await expect.poll(problems).toHaveLength(2);
  found.push(await problems());
  w.put("base.lore", base.replace("leaf", "willow"));
  await expect.poll(async () => (await problems()).join()).toContain("willow");
  found.push(await problems());
  w.put("waterlore.json", `{ "severities": { "conflikt": "warning" } }`);
  const warning = w.page.locator(".notifications-toasts .notification-list-item-message", { hasText: "conflikt" });
  await warning.waitFor();
  found.push(await warning.textContent());
  await w.shot(`web-${Object.keys(settings).length}`);
  await w.command("Developer: Show Running Extensions");
  const runsIn = await w.page.locator(".extension", { hasText: "Waterlore" }).first().innerText();
  await w.shot(`web-${Object.keys(settings).length}-extensions`);
  await w.close();
  return { runsIn, found };
}

test("the same findings with and without Node", async () => {
  const process = await seen({});
  const worker = await seen({ "remote.extensionKind": { "waterlore.waterlore": ["web"] } });
  expect(process.runsIn).not.toContain("web worker");
  expect(worker.runsIn).toContain("web worker");
  expect(worker.found).toEqual(process.found);
});
