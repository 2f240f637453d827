/**
 * The README is true: every `npx waterlore …` of its tour prints what stands under it, from the books the README shows.
 *
 * `README_UPDATE=1` writes what the commands print now. A last line `…` means that the output goes on.
 */
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, expect, test } from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));
const readme = join(root, "README.md");
const folder = mkdtempSync(join(tmpdir(), "waterlore-readme-"));
cpSync(join(root, "rules"), join(folder, "rules"), { recursive: true });
writeFileSync(join(folder, "two-rules.lore"), /```lore\n(book "Two rules"[\s\S]*?)```/.exec(readFileSync(readme, "utf8"))![1]!);
afterAll(() => rmSync(folder, { recursive: true }));

const tour = /```sh\nnpx waterlore ([^\n]+)\n```\n\n```text\n([\s\S]*?)```/g;

function printed(command: string): string {
  const words = [...command.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare!);
  return spawnSync(process.execPath, [join(root, "dist/cli/waterlore.js"), ...words], {
    cwd: folder,
    encoding: "utf8",
    env: { ...process.env, NO_COLOR: "1" },
  }).stdout;
}

test("the tour prints what it says", () => {
  const text = readFileSync(readme, "utf8");
  const commands = [...text.matchAll(tour)];
  expect(commands.length).toBeGreaterThanOrEqual(5);
  if (process.env["README_UPDATE"]) {
    writeFileSync(
      readme,
      text.replace(tour, (_, command: string, shown: string) => {
        const output = printed(command);
        const cut = shown.endsWith("…\n")
          ? `${output
              .split("\n")
              .slice(0, Number(/^\d+/.exec(shown)?.[0] ?? shown.trimEnd().split("\n").length - 1))
              .join("\n")
              .trimEnd()}\n…\n`
          : output;
        return `\`\`\`sh\nnpx waterlore ${command}\n\`\`\`\n\n\`\`\`text\n${cut}\`\`\``;
      }),
    );
    return;
  }
  for (const [, command, shown] of commands) {
    if (shown!.endsWith("\n…\n")) expect(printed(command!).startsWith(shown!.slice(0, -"…\n".length).trimEnd()), command).toBe(true);
    else expect(printed(command!), command).toBe(shown);
  }
});
