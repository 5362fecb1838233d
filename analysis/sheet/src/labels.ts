// What is written into the picture of the circuit: names in a row at the foot, pedals with their travel, the plan from above.
import type { Layout } from "./data";
import { s, set } from "./dom";
import { size, type Frame, type Update } from "./scene";
import { t } from "./text";

interface Moving { node: SVGElement | null; update: Update }

const widest = 12.5; // of a letter, on a phone

/** A name, a line for each word where it is wider than its room. */
function name(text: string, x: number, y: number, room = 9 * widest): SVGElement {
  const words = text.length * widest > room ? text.split(" ") : [text];
  return s("text", { class: "name", x, y, "text-anchor": "middle" }, ...words.map((word, i) => s("tspan", { x, dy: i === 0 ? "1em" : "1.05em" }, word)));
}

/** Names of parts at the foot of their column: as the order says them where a part has a bleed screw. A screw at a tee has its name beside it. */
export function names(layout: Layout, frame: Frame): SVGElement {
  const chambers = new Set(layout.actuators.flatMap((a) => a.pistons.map((p) => p.volume)));
  const at = (v: number) => layout.screws.filter((screw) => screw.at.volume === v).map((screw) => screw.name);
  const foot = size.height - size.bottom + 6;
  const parts = layout.volumes.map((part, v) => (chambers.has(v) ? null : name(at(v).join(" ") || part.name, frame.x(`v${v}`), foot, frame.column)));
  const unions = layout.screws.map((screw) => (screw.at.junction === undefined ? null
    : s("text", { class: "name", x: frame.x(`j${screw.at.junction}`) + 11, y: frame.y(screw.height_m) - 4 }, screw.name)));
  return s("g", {}, ...parts, ...unions);
}

/** Pedals and levers: the name below the chambers, and a bar as long as the travel of the moment. */
export function actuators(layout: Layout, frame: Frame): Moving {
  const wide = 56, updates: Update[] = [];
  const node = s("g", {}, ...layout.actuators.map((a, k) => {
    const x = a.pistons.reduce((sum, p) => sum + frame.x(`v${p.volume}`), 0) / a.pistons.length;
    const y = Math.max(...a.pistons.map((p) => frame.y(layout.volumes[p.volume]!.height_m) + frame.radius(p.volume))) + 5;
    const bar = s("rect", { class: "travelled", x: x - wide / 2, y, width: 0, height: 7 });
    updates.push((now) => set(bar, "width", Math.max(0, Math.min(1, now.p[k]! / 1000)) * wide));
    return s("g", {}, s("title", {}, `${a.name}: ${t("travel_label")}`), s("rect", { class: "travel", x: x - wide / 2, y, width: wide, height: 7 }), bar, name(a.name, x, y + 9));
  }));
  return { node, update: (now) => updates.forEach((update) => update(now)) };
}

/** Vehicle seen from above, where places are known. */
export function plan(layout: Layout): Moving {
  const wheels = layout.screws.map((screw) => (screw.at.volume !== undefined ? layout.volumes[screw.at.volume]! : layout.junctions[screw.at.junction!]!));
  const across = wheels.map((w) => w.outboard_m), along = wheels.map((w) => w.ahead_m);
  if (new Set(wheels.map((w) => `${w.outboard_m} ${w.ahead_m}`)).size < 2) return { node: null, update: () => {} };
  const spread = (list: number[]) => Math.max(...list) - Math.min(...list);
  const scale = 44 / Math.max(spread(along), spread(across), 0.1);
  const apart = Math.max(scale, 12 / Math.max(spread(across), 0.02)); // so that two discs of one wheel are seen
  const middle = (list: number[]) => (Math.max(...list) + Math.min(...list)) / 2;
  const cx = size.width - 48, cy = 66;
  const marks = wheels.map((w) => s("rect", { class: "wheel", x: cx + (w.outboard_m - middle(across)) * apart - 4, y: cy - (w.ahead_m - middle(along)) * scale - 7, width: 8, height: 14, rx: 2 }));
  return {
    node: s("g", { class: "plan" }, s("title", {}, t("plan")), s("rect", { class: "ground", x: cx - 36, y: cy - 54, width: 72, height: 94, rx: 6 }),
      s("text", { x: cx, y: cy - 38, "text-anchor": "middle" }, t("plan_front")), ...marks),
    update: (now) => marks.forEach((mark, k) => set(mark, "class", now.s === k ? "wheel here" : "wheel")),
  };
}
