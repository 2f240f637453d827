/**
 * Editions of a published book: what changed since the last one, and a feed of them all.
 *
 *     comparison ──sinceLast──▶ what changed, in sentences ──┬─▶ the published page
 *                                                            └─▶ an entry of the feed ──editionsFeed──▶ Atom 1.0
 *
 * The feed is the Atom Syndication Format, RFC 4287. Its entries need addresses that stay, so there is a feed only for a site that has
 * one; times are given by whoever publishes, so that the same editions make the same bytes.
 */
import { compareWords } from "../messages/compare.js";
import type { Comparison } from "../compare/compare.js";
import { told, type ToldItem } from "../compare/told.js";
import { markup } from "../render/markup.js";

/** What changed since the last edition, ready to be shown. */
export interface SinceLast {
  /** The last edition, and this: as the books call them. */
  readonly from?: string;
  readonly to?: string;
  /** Whether a recommendation changes. */
  readonly different: boolean;
  readonly headline: string;
  readonly sections: readonly { readonly heading: string; readonly items: readonly ToldItem[] }[];
}

export function sinceLast(comparison: Comparison): SinceLast {
  const [from, to] = [comparison.models.before, comparison.models.after].map(({ books }) => books.at(-1)?.edition);
  return {
    ...(from !== undefined && { from }),
    ...(to !== undefined && { to }),
    different: comparison.different || comparison.undecided.length > 0,
    ...told(comparison),
  };
}

export interface Edition {
  readonly title: string;
  readonly edition?: string;
  /** When it was published: a date-time of RFC 3339, `2027-03-01T00:00:00Z`. */
  readonly published: string;
  /** Where it can be read, from the feed's site or as a whole address. */
  readonly page: string;
  /** None: the first edition. */
  readonly changes?: SinceLast;
}

export interface Feed {
  /** "Bladed baits, Hollin Reservoir" */
  readonly title: string;
  /** Who publishes: a shop. */
  readonly author: string;
  /** The whole address of the site's folder, `https://shop.example/lore/`. */
  readonly site: string;
  /** The feed's own name in it, `editions.atom`. */
  readonly name: string;
}

/**
 * The feed as text, the newest edition first. Undefined where it would be no Atom: there is no edition, an address is no whole one, or
 * a time is none of RFC 3339.
 */
export function editionsFeed({ title, author, site, name }: Feed, editions: readonly Edition[]): string | undefined {
  const base = addressOf(site);
  const entries = editions.map((edition) => ({ edition, at: timeOf(edition.published), page: base && addressOf(edition.page, base) }));
  const sorted = entries
    .flatMap(({ edition, at, page }) => (at === undefined || page === undefined ? [] : [{ edition, at, page }]))
    .sort((a, b) => b.at - a.at);
  const self = base && addressOf(name, base);
  if (!base || !self || sorted.length === 0 || sorted.length < editions.length) return undefined;
  const lines = [
    `<?xml version="1.0" encoding="utf-8"?>`,
    `<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="en">`,
    `  <title>${markup(compareWords.feedTitle(title))}</title>`,
    `  <id>${markup(self)}</id>`,
    `  <link rel="self" type="application/atom+xml" href="${markup(self)}"/>`,
    `  <link rel="alternate" type="text/html" href="${markup(base)}"/>`,
    `  <updated>${markup(sorted[0]!.edition.published)}</updated>`,
    `  <author><name>${markup(author)}</name></author>`,
    ...sorted.flatMap((entry) => entryLines(entry.edition, entry.page)),
    `</feed>`,
  ];
  return `${lines.join("\n")}\n`;
}

/** An edition stands at its page at its time: two editions at one page are two entries. */
function entryLines({ title, edition, published, changes, page: _ }: Edition, page: string): readonly string[] {
  return [
    `  <entry>`,
    `    <title>${markup(edition === undefined ? title : `${title}, ${edition}`)}</title>`,
    `    <id>${markup(`${page}#${encodeURIComponent(published)}`)}</id>`,
    `    <link rel="alternate" type="text/html" href="${markup(page)}"/>`,
    `    <published>${markup(published)}</published>`,
    `    <updated>${markup(published)}</updated>`,
    `    <summary>${markup(changes?.headline ?? compareWords.firstEdition)}</summary>`,
    ...(changes && changes.sections.length > 0 ? [`    <content type="html">${markup(changesHtml(changes))}</content>`] : []),
    `  </entry>`,
  ];
}

/** What changed, as HTML: a paragraph, then a heading and a list for each kind of change. */
export function changesHtml({ headline, sections }: SinceLast): string {
  const item = ({ text, details }: ToldItem): string =>
    `<li>${markup(text)}${details.length > 0 ? `<ul>${details.map((detail) => `<li>${markup(detail)}</li>`).join("")}</ul>` : ""}</li>`;
  return [
    `<p>${markup(headline)}</p>`,
    ...sections.map(({ heading, items }) => `<h2>${markup(heading)}</h2><ul>${items.map(item).join("")}</ul>`),
  ].join("");
}

/** RFC 3339, section 5.6, in milliseconds. */
function timeOf(text: string): number | undefined {
  const match = /^(\d{4}-\d{2}-\d{2})T\d{2}:\d{2}:\d{2}(?:\.\d+)?(?:Z|[+-]\d{2}:\d{2})$/.exec(text);
  const time = match ? Date.parse(text) : Number.NaN;
  if (!match || Number.isNaN(time)) return undefined;
  // A day that is in no calendar, feb 30, would be taken for one in march.
  return new Date(`${match[1]!}T00:00:00Z`).toISOString().startsWith(match[1]!) ? time : undefined;
}

/** A whole address (RFC 3986: a scheme and an authority), or one in a folder that has one; nothing that runs. */
function addressOf(text: string, base?: string): string | undefined {
  if (/[\s<>"\\^`{|}]/u.test(text)) return undefined;
  if (/^https?:\/\/[^/?#]+/iu.test(text)) return base === undefined ? text.replace(/\/?$/, "/") : text;
  if (base === undefined || /^[a-z][a-z0-9+.-]*:/iu.test(text) || text.startsWith("/") || text.split("/").includes("..")) return undefined;
  return base + text.replace(/^(\.\/)+/, "");
}
