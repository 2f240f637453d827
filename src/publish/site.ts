/**
 * A site of books: one page each and an index, as texts by file name.
 *
 *     rules/blades.lore ──▶ blades.html ─┐
 *     rules/river.lore  ──▶ river.html  ─┴─▶ index.html
 *
 * The same books, day and assets give the same bytes.
 */
import type { Model } from "../model/model.js";
import { pageWords } from "../messages/publish.js";
import type { DataFile } from "./data-files.js";
import { editionsFeed, type SinceLast } from "./editions.js";
import type { Facts } from "./facts.js";
import { pack } from "./pack.js";
import { bookPage, indexPage, type Assets } from "./page-html.js";

export interface SiteBook {
  readonly path: string;
  readonly model: Model;
  readonly data?: readonly DataFile[];
  /** Since the last edition, if there is one to compare with. */
  readonly changes?: SinceLast;
}

/** The feed of editions, which only a site with an address has. */
const FEED = "editions.atom";

export interface SiteOptions {
  /** `2027-04-15` */
  readonly on: string;
  readonly draft: boolean;
  readonly address?: string;
}

/** Books that recommend nothing, such as those that only name conditions, have no page. */
export function siteOf(books: readonly SiteBook[], { on, draft, address }: SiteOptions, assets: Assets): ReadonlyMap<string, string> {
  const taken = new Set(["index.html"]);
  const shelved = books.filter(recommends).map(({ path, model, data = [], changes }) => {
    const file = fileName(path, taken);
    const files = data.map(({ path: name, text }): [string, string] => [`${file.replace(/\.html$/, "")}-data/${name}`, text]);
    const facts: Facts = {
      ...factsOf(model, { on, draft }),
      ...(address !== undefined && { address }),
      data: files.map(([name]) => name),
    };
    return { file, facts, packed: pack(model), files, changes };
  });
  const shops = [...new Set(shelved.map(({ facts }) => facts.shop))];
  const shared: Facts = { title: "", ...(shops.length === 1 && { shop: shops[0] }), on, draft };
  const feed =
    address === undefined
      ? undefined
      : editionsFeed(
          { title: pageWords.indexTitle(shared.shop), author: shared.shop ?? pageWords.someShop, site: address, name: FEED },
          shelved.map(({ file, facts: { title, edition }, changes }) => ({
            title,
            edition,
            published: `${on}T00:00:00Z`,
            page: encodeURI(file),
            changes,
          })),
        );
  return new Map([
    ["index.html", indexPage(shelved, shared, assets)],
    ...shelved.flatMap(({ file, facts, packed, files, changes }): readonly [string, string][] => [
      [file, bookPage(facts, packed, assets, changes)],
      ...files,
    ]),
    ...(feed === undefined ? [] : [[FEED, feed] as const]),
  ]);
}

/** What a page says of its book. */
export function factsOf(model: Model, { on, draft }: SiteOptions): Facts {
  const { title, shop, water, edition, goodFrom, goodTo } = model.books.at(-1)!;
  return { title, shop, water, edition, goodFrom, goodTo, on, draft };
}

export function recommends({ model }: Pick<SiteBook, "model">): boolean {
  return model.picks.some(({ judgement }) => !judgement);
}

/** `rules/river.lore` ──▶ `river.html`; a second one `river-2.html`. */
function fileName(path: string, taken: Set<string>): string {
  const base = path
    .split("/")
    .at(-1)!
    .replace(/\.lore$/, "")
    .replace(/[^\p{L}\p{N}._-]+/gu, "-");
  let file = `${base}.html`;
  for (let n = 2; taken.has(file.toLowerCase()); n++) file = `${base}-${n}.html`;
  taken.add(file.toLowerCase());
  return file;
}
