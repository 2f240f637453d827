/** When and where: fields that fill in the date, the light and the sun. Where the device is, is asked only after a tap. */
import { pageWords } from "../../messages/publish.js";
import { instantOf, moonAt, sunAt } from "../sky.js";
import type { Shown } from "./contract.js";
import type { Visit } from "./visit.js";
import { whenReleased } from "./release.js";
import { element } from "./element.js";

export function momentPart(visit: Visit): Shown {
  const field = (key: string, label: string, type: string, more: Readonly<Record<string, string>> = {}) => {
    const input = element("input", {
      id: `moment-${key}`,
      type,
      ...more,
      onchange: () => whenReleased(() => visit.choose(key, input.value === "" ? undefined : input.value)),
    });
    return { key, input, row: element("p", {}, element("label", { for: `moment-${key}` }, label), input) };
  };
  const fields = [
    field("date", pageWords.date, "date"),
    field("time", pageWords.time, "time"),
    field("lat", pageWords.latitude, "number", { step: "any", min: "-90", max: "90", inputmode: "text" }),
    field("lon", pageWords.longitude, "number", { step: "any", min: "-180", max: "180", inputmode: "text" }),
    field("zone", pageWords.zone, "number", { step: "0.25", min: "-15", max: "15", inputmode: "text" }),
  ];
  const sun = element("p", { class: "sun" });
  const trouble = element("p", { role: "status" });
  const now = (): void => {
    const at = new Date();
    const two = (n: number): string => String(n).padStart(2, "0");
    visit.change(
      new Map(),
      new Map([
        ["date", `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`],
        ["time", `${two(at.getHours())}:${two(at.getMinutes())}`],
        ["zone", String(-at.getTimezoneOffset() / 60)],
      ]),
    );
  };
  const here = (): void => {
    if (!("geolocation" in navigator)) return void (trouble.textContent = pageWords.hereFailed);
    navigator.geolocation.getCurrentPosition(
      ({ coords }) =>
        visit.change(
          new Map(),
          new Map([
            ["lat", coords.latitude.toFixed(2)],
            ["lon", coords.longitude.toFixed(2)],
          ]),
        ),
      () => void (trouble.textContent = pageWords.hereFailed),
    );
  };
  const update = (): void => {
    const { choices } = visit.state();
    const moment = visit.moment();
    for (const { key, input } of fields)
      if (document.activeElement !== input || input.value === "")
        input.value = choices.get(key) ?? (key === "zone" ? String(moment.zone / 60) : "");
    const { date, minute, zone, place } = moment;
    if (date === undefined || minute === undefined || !place) return void (sun.textContent = "");
    const at = instantOf({ date, minute, zone });
    const [height, later] = [at, new Date(at.valueOf() + 60_000)].map((one) => sunAt(one, place).height);
    sun.textContent = pageWords.sunNow(
      height!.toFixed(0).replace("-0", "0").replace("-", "−"),
      later! > height!,
      (moonAt(at).lit * 100).toFixed(0),
    );
  };
  update();
  return {
    element: element(
      "details",
      { class: "moment", open: visit.state().choices.has("date") || visit.state().choices.has("lat") },
      element("summary", { id: "moment" }, pageWords.whenWhere),
      element("p", {}, pageWords.whenWhereIntro),
      element(
        "div",
        { class: "fields" },
        fields.map(({ row }) => row),
      ),
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", id: "moment-now", onclick: now }, pageWords.now),
        element("button", { type: "button", id: "moment-here", onclick: here }, pageWords.here),
      ),
      sun,
      trouble,
    ),
    update,
  };
}
