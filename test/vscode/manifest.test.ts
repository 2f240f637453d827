/** The extension's manifest: what it promises is there. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { editorFiles } from "../../grammar/editor-files.js";
import { checkBooks } from "../../src/faces/check/checked.js";
import { checkText } from "../../src/faces/check/text.js";
import { terminalOf } from "../../src/faces/node/terminal.js";
import { manifest } from "../../src/faces/vscode/manifest.js";
import { bookFileName } from "../../src/faces/files/new-book.js";
import { commands, extensionId } from "../../src/faces/vscode/names.js";
import { root } from "../root.js";

interface Contributes {
  readonly commands: readonly { readonly command: string }[];
  readonly languages: readonly { readonly id: string; readonly configuration: string; readonly icon: Record<string, string> }[];
  readonly grammars: readonly { readonly path: string; readonly scopeName: string }[];
  readonly snippets: readonly { readonly path: string }[];
  readonly problemMatchers: readonly {
    readonly name: string;
    readonly pattern: readonly Readonly<
      { regexp: string } & Partial<Record<"severity" | "message" | "code" | "file" | "line" | "column", number>>
    >[];
  }[];
  readonly jsonValidation: readonly { readonly url: string }[];
  readonly menus: Readonly<Record<string, readonly { readonly command: string }[]>>;
  readonly configuration: {
    readonly properties: Readonly<
      Record<string, { readonly default: unknown; readonly description?: string; readonly markdownDescription?: string }>
    >;
  };
  readonly configurationDefaults: Readonly<Record<string, Record<string, unknown>>>;
  readonly walkthroughs: readonly {
    readonly steps: readonly { readonly description: string; readonly media: { readonly svg: string; readonly altText: string } }[];
  }[];
}
const facts = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
  readonly version: string;
  readonly license: string;
  readonly devDependencies: Record<string, string>;
};
const made = manifest(facts) as {
  readonly contributes: Contributes;
  readonly engines: { readonly vscode: string };
  readonly icon: string;
  readonly version: string;
  readonly capabilities: unknown;
};
const { contributes } = made;
const media = join(root, "src/faces/vscode");
/** What the server takes from the settings of its client. */
const settingsRead = /const \{ ([\w, ]+) \} = given;/.exec(readFileSync(join(root, "src/faces/server/server.ts"), "utf8"))![1]!.split(", ");

describe("the manifest", () => {
  test("is of this version, and asks for a VS Code no older than the types it is written against", () => {
    expect(made.version).toBe(facts.version);
    expect(made.engines.vscode).toBe(`^${facts.devDependencies["@types/vscode"]}.0`);
  });

  test("contributes a matcher that finds in the report of a check all that was found, and where", async () => {
    const book = (name: string): string => readFileSync(join(root, "rules", name), "utf8");
    const texts = new Map([
      ["rules/common/conditions.lore", book("common/conditions.lore")],
      [
        "rules/a book: 2.lore",
        book("blades.lore")
          .replace(/^ +beats .*\n/gm, "")
          .replace("round, then", "roud, then"),
      ],
    ]);
    const sources = [...texts].map(([path, text]) => ({ path, text }));
    const read = (path: string) => (texts.has(path) ? { text: texts.get(path)! } : { problem: "it is not there" });
    const checked = await checkBooks(sources, read, { on: "2027-04-15" });
    const report = { ...checked, known: [], baseline: false, unreadable: [], lowest: "error" as const };
    const [headline, place] = contributes.problemMatchers[0]!.pattern;
    for (const width of [40, 80, 400]) {
      const lines = checkText(report, { ...terminalOf({}, {}), width }, { coverage: true }).split("\n");
      const found = lines.flatMap((line, i) => {
        const head = new RegExp(headline!.regexp).exec(line);
        const at = head && new RegExp(place!.regexp).exec(lines[i + 1]!);
        return at
          ? [
              [
                head[headline!.severity!],
                head[headline!.message!],
                head[headline!.code!],
                at[place!.file!],
                Number(at[place!.line!]),
                Number(at[place!.column!]),
              ],
            ]
          : [];
      });
      expect(found.length).toBeGreaterThan(2);
      expect(found).toEqual(
        checked.findings.map(({ severity, title, code, path, range }) => {
          const { line, column } = checked.texts.get(path)!.lines.position(range.start);
          return [severity, title, code, path, line, column];
        }),
      );
    }
  });

  test("contributes commands that have each one function", () => {
    const activate = readFileSync(join(root, "src/faces/vscode/activate.ts"), "utf8");
    for (const [name, { id }] of Object.entries(commands)) {
      expect(activate, id).toMatch(new RegExp(`^ {4}${name}(?:,|:)`, "m"));
      expect(contributes.commands.map(({ command }) => command)).toContain(id);
    }
    expect(contributes.commands.length).toBe(Object.keys(commands).length);
    for (const { command } of Object.values(contributes.menus).flat())
      expect(contributes.commands.map((one) => one.command)).toContain(command);
  });

  test("names the file of a book without signs that a file name may not have", () => {
    expect(['Jigs for "Alder" Pond', "Köder: Fluß / See?", "“”"].map(bookFileName)).toEqual([
      "jigs-for-alder-pond",
      "köder-fluß-see",
      "lore",
    ]);
  });

  test("names files that are there", () => {
    const files = [...editorFiles().keys()].map((file) => file.replace("grammar/editors/", "./grammar/"));
    expect(
      [
        contributes.languages[0]!.configuration,
        ...contributes.grammars.map(({ path }) => path),
        ...contributes.snippets.map(({ path }) => path),
      ].sort(),
    ).toEqual(files.sort());
    expect(existsSync(join(root, contributes.jsonValidation[0]!.url))).toBe(true);
    const pictures = [
      made.icon,
      ...Object.values(contributes.languages[0]!.icon),
      ...contributes.walkthroughs[0]!.steps.map((step) => step.media.svg),
    ];
    expect(pictures.filter((file) => !existsSync(join(media, file)))).toEqual([]);
  });

  test("has a walkthrough of three to five steps, whose links are commands", () => {
    const { steps } = contributes.walkthroughs[0]!;
    expect(steps.length).toBeGreaterThanOrEqual(3);
    expect(steps.length).toBeLessThanOrEqual(5);
    const linked = steps.flatMap(({ description }) => [...description.matchAll(/\(command:([\w.]+)\)/g)].map(([, command]) => command!));
    expect(linked.length).toBe(steps.length);
    expect(
      linked.filter((command) => command.startsWith("waterlore.") && !contributes.commands.some((one) => one.command === command)),
    ).toEqual([]);
    expect(steps.every(({ media }) => media.altText.length > 20)).toBe(true);
  });

  test("has settings, each with a default and a description, that the server reads", () => {
    for (const [name, setting] of Object.entries(contributes.configuration.properties)) {
      expect(setting.default, name).not.toBeUndefined();
      expect(setting.markdownDescription ?? setting.description, name).toMatch(/\.$/);
      // How much is traced the client of the language server reads by itself.
      if (name !== "waterlore.trace.server") expect(settingsRead, name).toContain(name.replace("waterlore.", ""));
    }
  });

  test("is the formatter of its language, and runs where nothing is trusted and no file is on a disk", () => {
    expect(contributes.configurationDefaults["[lore]"]).toMatchObject({ "editor.defaultFormatter": extensionId });
    expect(made.capabilities).toMatchObject({ untrustedWorkspaces: { supported: true }, virtualWorkspaces: { supported: "limited" } });
  });
});
