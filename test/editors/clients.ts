/** What both editors are asked to do, with the built command: see what is wrong with a book, ask about a word, mend it by quick fixes alone. */
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect } from "vitest";
import { check } from "../check.js";

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const program = here("../../src/faces/waterlore.js");

/** A word that is no option, and two patterns of which nobody has said which wins. */
const broken = `book "Pier"
pick bait: worm, jig
condition sky: in order bright, dark
condition wind: in order calm, strong
pattern "Sun wants worm"
  go with bait wrom
  when sky is bright
pattern "Wind wants jig"
  go with bait jig
  when wind is strong
fall back on bait jig
`;

export interface Answer {
  readonly seen: readonly string[];
  readonly hover: unknown;
  readonly applied: readonly string[];
  readonly left: readonly string[];
  readonly text: string;
}

/** Fails loudly where the editor is not installed. */
export function run(editor: string, packages: string, words: (script: string) => readonly string[], script: string): Answer {
  if (spawnSync(editor, ["--version"]).status !== 0)
    throw new Error(`${editor} is not installed. On Debian: apt-get install -y --no-install-recommends ${packages}`);
  if (!existsSync(here("../../dist/cli/waterlore.js"))) throw new Error("Waterlore is not built: npm run build");
  const folder = mkdtempSync(join(tmpdir(), "waterlore-editor-"));
  try {
    spawnSync("git", ["init", "-q"], { cwd: folder });
    const [book, answer] = [join(folder, "pier.lore"), join(folder, "answer.json")];
    writeFileSync(book, broken);
    const ran = spawnSync(editor, words(here(script)), {
      cwd: folder,
      encoding: "utf8",
      timeout: 90_000,
      env: {
        ...process.env,
        HOME: folder,
        XDG_CACHE_HOME: folder,
        SERVER: [process.execPath, program, "language-server", "--stdio"].join("\n"),
        BOOK: book,
        ANSWER: answer,
      },
    });
    if (!existsSync(answer)) throw new Error(`${editor} gave no answer: ${ran.stdout}${ran.stderr}`);
    return JSON.parse(readFileSync(answer, "utf8")) as Answer;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Every editor comes to the same end. */
export function expectMended({ seen, hover, applied, left, text }: Answer): void {
  expect(seen.join(" ")).toContain("name");
  expect(JSON.stringify(hover)).toMatch(/bright/);
  expect(applied).toEqual(["Write worm", "Let “Sun wants worm” beat “Wind wants jig”"]);
  expect(left).toEqual([]);
  expect(check(text).findings).toEqual([]);
}
