/** A link and a code to exactly this answer. */
import QRCode from "qrcode";
import { pageWords } from "../../messages/publish.js";
import type { Shown } from "./contract.js";
import type { Visit } from "./visit.js";
import { element, refill } from "./element.js";

export function sharePart(visit: Visit): Shown {
  const link = element("a", { id: "share-link", href: "#" });
  const said = element("span", { role: "status" });
  const byHand = (): void => {
    getSelection()?.selectAllChildren(link);
    said.textContent = pageWords.copyByHand;
  };
  const copy = (): void => {
    // Missing where a page comes neither over https nor from this machine.
    const { clipboard } = navigator as Partial<Navigator>;
    if (clipboard === undefined) return byHand();
    clipboard.writeText(link.href).then(() => void (said.textContent = pageWords.copied), byHand);
  };
  const holder = element("div", { class: "code" });
  const details = element("details", { ontoggle: () => update() }, element("summary", { id: "share-code" }, pageWords.code), holder);
  const update = (): void => {
    const address = visit.address();
    link.href = address;
    link.textContent = address;
    said.textContent = "";
    if (details.open) refill(holder, codeOf(address) ?? element("p", {}, pageWords.tooLong));
  };
  update();
  return {
    element: element(
      "section",
      { class: "share", "aria-labelledby": "share-heading" },
      element("h2", { id: "share-heading" }, pageWords.share),
      element("p", { class: "link" }, link),
      element("p", {}, element("button", { type: "button", id: "share-copy", onclick: copy }, pageWords.copy), " ", said),
      details,
    ),
    update,
  };
}

/** A QR code, one path; undefined: the text is too long for one. */
export function codeOf(text: string): SVGElement | undefined {
  try {
    const {
      modules: { size, data },
    } = QRCode.create(text, { errorCorrectionLevel: "M" });
    const path = [...data].map((on, at) => (on ? `M${(at % size) + 4} ${Math.floor(at / size) + 4}h1v1h-1z` : "")).join("");
    const svg = (name: string, attributes: Readonly<Record<string, string>>): SVGElement => {
      const made = document.createElementNS("http://www.w3.org/2000/svg", name);
      for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
      return made;
    };
    const code = svg("svg", {
      viewBox: `0 0 ${size + 8} ${size + 8}`,
      role: "img",
      "aria-label": pageWords.codeAlt,
      "shape-rendering": "crispEdges",
      class: "qr",
    });
    code.append(svg("rect", { width: "100%", height: "100%", fill: "#fff" }), svg("path", { d: path, fill: "#000" }));
    return code;
  } catch {
    return undefined;
  }
}
