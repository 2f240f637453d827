/**
 * Where in a JSON text each value stands, so that what is wrong with it can be said with its line.
 *
 *     { "severities": { "gap": "eror" } }        "" → 0    "/severities" → 16    "/severities/gap" → 25
 *
 * Values are named by JSON pointers (RFC 6901). The grammar is that of RFC 8259, with names given once only. The parser is loaded when
 * there is something to read.
 */

export type JsonRead =
  | { readonly value: unknown; readonly places: ReadonlyMap<string, number> }
  /** From where on it cannot be read, and the name that is written a second time there, if that is why. */
  | { readonly misfit: number; readonly twice?: string };

export async function readJson(text: string): Promise<JsonRead> {
  const { visit } = await import("jsonc-parser");
  const places = new Map<string, number>();
  let wrong: { readonly misfit: number; readonly twice?: string } | undefined;
  const pointerOf = (path: readonly (string | number)[]): string =>
    path.reduce<string>((pointer, name) => pointerTo(pointer, String(name)), "");
  const begins = (at: number, _length: number, _line: number, _column: number, path: () => readonly (string | number)[]): void =>
    void places.set(pointerOf(path()), at);
  try {
    visit(
      text,
      {
        onError: (_, misfit) => void (wrong ??= { misfit }),
        onObjectBegin: begins,
        onArrayBegin: begins,
        onLiteralValue: (_, ...place) => begins(...place),
        onObjectProperty: (name, misfit, _length, _line, _column, path) => {
          if (places.has(pointerOf([...path(), name]))) wrong ??= { misfit, twice: name };
        },
      },
      { disallowComments: true },
    );
    return wrong ?? { value: JSON.parse(text), places };
  } catch (error) {
    // Nested so deep that no better place is known.
    if (error instanceof RangeError) return { misfit: 0 };
    throw error;
  }
}

/** The pointer to a member of what a pointer points at. */
export function pointerTo(pointer: string, name: string): string {
  return `${pointer}/${name.replaceAll("~", "~0").replaceAll("/", "~1")}`;
}

/** The names on the way that a pointer points. */
export function namesOf(pointer: string): readonly string[] {
  return pointer
    .split("/")
    .slice(1)
    .map((name) => name.replaceAll("~1", "/").replaceAll("~0", "~"));
}
