/**
 * Letters of one alphabet that look like those of another, and signs that do not show.
 *
 *     clаrity      its а is Cyrillic, U+0430           ──▶ clarity
 *     cla​rity      U+200B stands after cla             ──▶ clarity
 *     вoда         its o is Latin                      ──▶ вода
 *
 * What stands between two hyphens of a name is written in one alphabet; Latin letters among Cyrillic or Greek ones, or the other way
 * round, are a slip or a trick (Unicode Technical Standard 39, section 5.1; the pairs are from its table of confusables). A joiner is
 * at home in Arabic and Indic words, in these alphabets it only hides.
 */

/** A sign that is not what it looks like. */
export interface Stranger {
  readonly sign: string;
  readonly kind: "Latin" | "Cyrillic" | "Greek" | "wide" | "hidden";
}

/** The word in letters of one alphabet, where there is such a reading. Case and accents stay. */
export function unmasked(word: string): string {
  return /^[\u0000-\u007f]*$/.test(word) ? word : word.split("-").map(unmaskedPart).join("-");
}

/** A name as all tell it apart: unmasked, in lower case, its accents composed (Unicode normalization form C). */
export function plainName(name: string): string {
  return unmasked(name.normalize("NFC")).toLowerCase();
}

/** The signs that `unmasked` replaces or drops, each once. */
export function strangersIn(word: string): readonly Stranger[] {
  const signs = word.split("-").flatMap((part) => {
    const plain = unmaskedPart(part);
    return [...part].filter((sign) => !plain.includes(sign));
  });
  return [...new Set(signs)].map((sign): Stranger => ({ sign, kind: kindOf(sign) }));
}

const hidden = /[\u00ad\u200b\u2060]/g;
const joiners = /[\u200c\u200d]/g;
const wide = /[\uff21-\uff3a\uff41-\uff5a]/g;
const fromWideToAscii = 0xfee0;

const pairs = {
  Cyrillic: ["асԁеһіјӏорԛѕхуԝАВСЕНІЈКМОРЅТХУ", "acdehijlopqsxywABCEHIJKMOPSTXY"],
  Greek: ["αγινορυΑΒΕΖΗΙΚΜΝΟΡΤΥΧ", "ayivopuABEZHIKMNOPTYX"],
} as const;

const toLatin = new Map(Object.values(pairs).flatMap(([theirs, latin]) => [...theirs].map((letter, i) => [letter, latin[i]!] as const)));
/** What a word may be in, whole, and what its letters then are. */
const alphabets: readonly { readonly whole: RegExp; readonly letters: ReadonlyMap<string, string> }[] = [
  { whole: /^[\p{Script=Latin}\p{Script=Common}\p{Script=Inherited}]*$/u, letters: toLatin },
  { whole: /^[\p{Script=Cyrillic}\p{Script=Common}\p{Script=Inherited}]*$/u, letters: fromLatin("Cyrillic") },
  { whole: /^[\p{Script=Greek}\p{Script=Common}\p{Script=Inherited}]*$/u, letters: fromLatin("Greek") },
];

function fromLatin(alphabet: keyof typeof pairs): ReadonlyMap<string, string> {
  const [theirs, latin] = pairs[alphabet];
  return new Map([...latin].map((letter, i) => [letter, theirs[i]!]));
}

function unmaskedPart(part: string): string {
  const shown = part.replace(hidden, "").replace(wide, (letter) => String.fromCharCode(letter.charCodeAt(0) - fromWideToAscii));
  const bare = shown.replace(joiners, "");
  if (alphabets.some(({ whole }) => whole.test(bare))) return bare;
  for (const { whole, letters } of alphabets) {
    const plain = [...bare].map((letter) => letters.get(letter) ?? letter).join("");
    if (whole.test(plain)) return plain;
  }
  return shown;
}

function kindOf(sign: string): Stranger["kind"] {
  if (/^[\u00ad\u200b-\u200d\u2060]$/.test(sign)) return "hidden";
  if (/^[\uff21-\uff3a\uff41-\uff5a]$/.test(sign)) return "wide";
  return /\p{Script=Cyrillic}/u.test(sign) ? "Cyrillic" : /\p{Script=Greek}/u.test(sign) ? "Greek" : "Latin";
}
