/** What the editor is told of each file, against the plain saying of it: all that open books find in the text that the file has now, each once. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Diagnostic } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { Finding } from "../../src/diagnostics.js";
import { openPublisher, type Publisher } from "../../src/faces/server/publisher.js";
import type { View } from "../../src/service/view.js";
import { lineMap } from "../../src/text.js";

const paths = ["base.lore", "pier.lore", "ramp.lore"] as const;

interface Desktop {
  readonly publisher: Publisher;
  /** The texts that the files have now. */
  readonly texts: Map<string, string>;
  readonly open: Set<string>;
  readonly published: { readonly uri: string; readonly version: number | undefined; readonly said: readonly string[] }[];
}

function desktop(): Desktop {
  const texts = new Map<string, string>(paths.map((path) => [path, "one two three"]));
  const open = new Set<string>();
  const published: Desktop["published"] = [];
  const publisher = openPublisher({
    library: {
      uriOf: (path) => `file:///${path}`,
      textAt: (path) => texts.get(path),
      documentAt: (path) => (open.has(path) ? ({ version: texts.get(path)!.length } as TextDocument) : undefined),
    },
    diagnostics: () => ({ supports: { related: true, page: true, tags: true }, hintPage: () => undefined }),
    publish: (uri, version, diagnostics) => void published.push({ uri, version, said: diagnostics.map(saidBy) }),
  });
  return { publisher, texts, open, published };
}

const saidBy = ({ range, message }: Diagnostic): string =>
  `${range.start.line}:${range.start.character} ${typeof message === "string" ? message : message.value}`;

function found(path: string, start: number, message: string, more: Partial<Finding> = {}): Finding {
  return { code: "gap", severity: "error", path, range: { start, end: start + 3 }, title: "Gap", message, help: "", ...more };
}

/** A book as it has been read together with all the others. */
function view({ texts }: Desktop, path: string, findings: readonly Finding[]): View {
  const books = [...texts].map(([name, text]) => ({ path: name, text, tree: {} }));
  const text = texts.get(path)!;
  return { path, text, lines: lineMap(text), model: { books }, findings } as unknown as View;
}

const severities = {};

describe("what is told", () => {
  test("is, of each file, all that open books find in the text it has now, each once", () => {
    const some = fc.array(fc.tuple(fc.constantFrom(...paths), fc.nat(2), fc.constantFrom("A", "B")), { maxLength: 4 });
    const step = fc.oneof(
      fc.record({ do: fc.constant("settled" as const), path: fc.constantFrom(...paths), some }),
      fc.record({ do: fc.constantFrom("write" as const, "close" as const), path: fc.constantFrom(...paths) }),
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
        const it = desktop();
        const known = new Map<string, { readonly texts: ReadonlyMap<string, string>; readonly findings: readonly Finding[] }>();
        for (const one of steps) {
          const { path } = one;
          if (one.do === "settled") {
            const findings = one.some.map(([where, start, message]) => found(where, start, message));
            it.open.add(path);
            known.set(path, { texts: new Map(it.texts), findings });
            it.publisher.settled({ view: view(it, path, findings), severities });
          } else if (one.do === "write") {
            it.texts.set(path, `${it.texts.get(path)!} more`);
            continue;
          } else {
            it.open.delete(path);
            known.delete(path);
            it.publisher.closed(path, `file:///${path}`);
          }
          // Of a file whose text has changed since, what is told follows with the next reading of a book that has read it.
          const touched = one.do === "settled" ? [path, ...one.some.map(([where]) => where)] : [path];
          for (const file of touched) {
            const expected = new Set(
              [...known.values()]
                .filter(({ texts }) => texts.get(file) === it.texts.get(file))
                .flatMap(({ findings }) => findings.filter((finding) => finding.path === file))
                .map(({ range, message }) => `0:${range.start} Gap\n${message}`),
            );
            const last = it.published.filter(({ uri }) => uri === `file:///${file}`).at(-1)?.said ?? [];
            expect([...last].sort()).toEqual([...expected].sort());
          }
        }
        for (const uri of paths.map((path) => `file:///${path}`)) {
          const told = it.published.filter((one) => one.uri === uri).map((one) => JSON.stringify(one));
          expect(told.every((one, i) => one !== told[i - 1])).toBe(true);
        }
      }),
    );
  });

  test("is said as the book itself says it, where others find the same with another share in mind", () => {
    for (const order of [
      ["base.lore", "pier.lore"],
      ["pier.lore", "base.lore"],
    ]) {
      const it = desktop();
      for (const path of order)
        it.publisher.settled({ view: view(it, path, [found("base.lore", 0, `as ${path} has it`, { where: "sky is dark" })]), severities });
      expect(it.published.filter(({ uri }) => uri === "file:///base.lore").at(-1)!.said).toEqual(["0:0 Gap\nas base.lore has it"]);
    }
  });
});

describe("what reading finds", () => {
  test("is not told again while it moves along with the text, and is as soon as it says something else", () => {
    const it = desktop();
    const path = "pier.lore";
    const read = (text: string, start: number, message: string): void => {
      it.texts.set(path, text);
      it.publisher.read({ view: view(it, path, [found(path, start, message)]), severities });
    };
    it.open.add(path);
    read("one two three", 4, "A");
    expect(it.published.length).toBe(1);
    read("now one two three", 8, "A");
    read("now one two three four", 8, "A");
    expect(it.published.length).toBe(1);
    read("now one two three four!", 8, "B");
    expect(it.published.at(-1)!.said).toEqual(["0:8 Gap\nB"]);
    it.publisher.forget(path);
    read("now one two three four!", 8, "B");
    expect(it.published.length).toBe(2);
  });

  test("takes the place of what was told of the book itself, and leaves what it found in others", () => {
    const it = desktop();
    it.open.add("pier.lore");
    const [own, other] = [found("pier.lore", 0, "A"), found("base.lore", 0, "A")];
    it.publisher.settled({ view: view(it, "pier.lore", [own, other]), severities });
    it.publisher.read({ view: view(it, "pier.lore", []), severities });
    expect(it.published.filter(({ uri }) => uri === "file:///pier.lore").at(-1)!.said).toEqual([]);
    it.publisher.settled({ view: view(it, "ramp.lore", [found("base.lore", 4, "B")]), severities });
    expect(it.published.filter(({ uri }) => uri === "file:///base.lore").map(({ said }) => said)).toEqual([
      ["0:0 Gap\nA"],
      ["0:0 Gap\nA", "0:4 Gap\nB"],
    ]);
  });
});
