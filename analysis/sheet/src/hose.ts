// The clear hose and the bottle: all that the person sees.
import type { Instant, Layout } from "./data";
import { s, set } from "./dom";
import { fluid_colour, gas_paths } from "./scene";
import { t } from "./text";

const begin = 30, end = 470, y = 34, wide = 22;

export interface Hose { picture: SVGSVGElement; show(now: Instant, colour: number, bottle_ml: number): void }

/** A hose laid out straight, screw on the left, bottle on the right. */
export function hose(layout: Layout): Hose {
  const path = (b = 0, e = 1) => `M${(begin + b * (end - begin)).toFixed(1)} ${y}H${(begin + e * (end - begin)).toFixed(1)}`;
  const stroke = (cls: string, d: string) => s("path", { class: cls, d, "stroke-width": wide });
  const fluid = stroke("fluid", path()), gas = stroke("gas", ""), froth = stroke("froth", "");
  const bottle = s("rect", { x: end + 21, y: 96, width: 78, height: 0, class: "fluid-body" });
  const picture = s("svg", { class: "hose-strip", viewBox: "0 0 600 120", role: "img" },
    s("path", { class: "casing clear", d: path(), "stroke-width": wide + 4 }), fluid, froth, gas,
    s("path", { class: "screw here", d: `M${begin - 18} ${y - 9}h16v18h-16Z` }),
    bottle, s("path", { class: "rim", d: `M${end + 20} ${y - 18}V96H${end + 100}V${y - 18}` }), s("path", { class: "casing clear", "stroke-width": 4, d: `M${end} ${y}h40v48` }),
    s("text", { x: begin, y: 72 }, t("from_screw")), s("text", { x: end, y: 72, "text-anchor": "end" }, t("to_bottle")));
  return {
    picture,
    show: (now, colour, bottle_ml) => {
      const fitted = now.s !== null, paths = gas_paths(now.h, end - begin, path);
      set(fluid, "stroke", fluid_colour(colour));
      set(fluid, "d", fitted ? path() : "");
      set(gas, "d", fitted ? paths.gas : path());
      set(froth, "d", fitted ? paths.froth : "");
      const height = Math.min(66, 8 + bottle_ml / 4);
      set(bottle, "y", 96 - height);
      set(bottle, "height", height);
      set(bottle, "fill", fluid_colour(colour));
      const state = !fitted ? t("hose_none")
        : `${t("hose_label", { screw: layout.screws[now.s!]!.name })}: ${now.h.length === 0 ? t("hose_full") : now.h.length === 3 && now.h[0] === 0 && now.h[1] === 1000 ? t("hose_empty") : t("hose_bubbles")}`;
      set(picture, "aria-label", state);
    },
  };
}
