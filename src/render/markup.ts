/**
 * Texts in HTML and XML, as they are written.
 *
 *     Ann's <b> & "mud"  ──▶  Ann&#39;s &lt;b&gt; &amp; &quot;mud&quot;
 */

/** For between tags or in an attribute. A sign that XML does not have, not even as a number (XML 1.0, section 2.2), becomes U+FFFD. */
export function markup(text: string): string {
  return text.replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, "\ufffd").replace(/[&<>"']/g, (sign) => entities[sign]!);
}

/** JSON that can stand inside a `<script>`: no text in it ends the element. */
export function scriptJson(value: unknown): string {
  return JSON.stringify(value).replaceAll("<", "\\u003c");
}

const entities: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };
