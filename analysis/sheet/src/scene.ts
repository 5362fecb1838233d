// The circuit as a picture: heights to scale, sideways a scheme; pipes and parts larger than they are.
import { columns, part_key } from "./columns";
import type { Instant, Layout, Place, Stretches } from "./data";
import { s, set } from "./dom";
import { actuators, names, plan } from "./labels";
import { t } from "./text";

export const size = { width: 640, height: 452, left: 46, right: 14, top: 26, bottom: 66 };
const pipe_width = 8, froth_below = 500, shortest = 3.5;

type Point = [number, number];
export interface Scene { picture: SVGSVGElement; show(now: Instant): void }

/** Colour of fluid by its share of new, in thousandths: brown to straw. */
export function fluid_colour(fresh: number): string {
  const old = [138, 86, 26], young = [242, 201, 92], share = fresh / 1000;
  return `rgb(${old.map((c, i) => Math.round(c + share * (young[i]! - c))).join(" ")})`;
}

export interface Frame { x(key: string): number; y(height: number): number; radius(volume: number): number; heights: [number, number]; column: number }

function frame_of(layout: Layout): Frame {
  const { x, count } = columns(layout);
  const heights = [...layout.volumes.map((v) => v.height_m), ...layout.junctions.map((j) => j.height_m),
    ...layout.lines.flatMap((line) => line.heights.map(([, height]) => height)), ...layout.reservoirs.map((r) => r.floor_m + top_of(r))];
  const low = Math.min(...heights) - 0.06, high = Math.max(...heights) + 0.02;
  const width = size.width - size.left - size.right, height = size.height - size.top - size.bottom;
  const largest = Math.max(...layout.volumes.map((v) => v.radius_m));
  const room = Math.min(30, (0.4 * width) / count);
  const chambers = new Set(layout.actuators.flatMap((a) => a.pistons.map((p) => p.volume))); // two of them share a column
  return {
    x: (key) => size.left + ((x.get(key)! + 0.5) / count) * width,
    y: (metres) => size.top + ((high - metres) / (high - low)) * (height - 0.6 * room),
    radius: (v) => Math.min(Math.max(0.45 * room, (layout.volumes[v]!.radius_m / largest) * room), chambers.has(v) ? (0.19 * width) / count : room),
    heights: [low, high], column: width / count,
  };
}

const top_of = (r: { capacity_ml: number; area_cm2: number }) => r.capacity_ml / r.area_cm2 / 100;

function axis(frame: Frame): SVGElement {
  const [low, high] = frame.heights;
  const step = high - low > 2 ? 0.5 : high - low > 0.9 ? 0.2 : 0.1;
  const ticks: number[] = [];
  for (let at = Math.ceil(low / step) * step; at <= high; at += step) ticks.push(at);
  return s("g", { class: "axis" }, ...ticks.flatMap((at) => [
    s("line", { x1: size.left - 6, x2: size.width - size.right, y1: frame.y(at), y2: frame.y(at) }),
    s("text", { x: size.left - 10, y: frame.y(at) + 4, "text-anchor": "end" }, at.toFixed(1))]),
  s("text", { x: 6, y: 14 }, t("height_axis")));
}

/** Where a port is drawn on its part. */
function port_point(layout: Layout, frame: Frame, { volume, port }: Place, roll = 0): Point {
  const part = layout.volumes[volume!]!, hole = part.ports[port!]!, r = frame.radius(volume!) * hole.radial;
  const angle = ((hole.clock_deg + roll) * Math.PI) / 180;
  return [frame.x(`v${volume}`) + r * Math.sin(angle), frame.y(part.height_m) - r * Math.cos(angle)];
}

/** The course of a pipe: points by the share of its length. */
class Course {
  private readonly shares: number[];
  private readonly points: Point[];
  readonly length: number;
  constructor(layout: Layout, frame: Frame, line: Layout["lines"][number], index: number) {
    const end = (place: Place | null, height: number): Point => {
      if (place?.volume !== undefined) return port_point(layout, frame, place);
      return [frame.x(place ? part_key(place) : `b${index}`), frame.y(height)];
    };
    const first = end(line.from, line.heights[0]![1]), last = end(line.to, line.heights.at(-1)![1]);
    this.shares = line.heights.map(([share]) => share);
    this.points = line.heights.map(([share, height], i): Point =>
      i === 0 ? first : i === line.heights.length - 1 ? last : [first[0] + share * (last[0] - first[0]), frame.y(height)]);
    this.length = this.points.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - this.points[i]![0], y - this.points[i]![1]), 0);
  }
  at(share: number): Point {
    let i = 1;
    while (i < this.shares.length - 1 && this.shares[i]! < share) ++i;
    const a = this.shares[i - 1]!, b = this.shares[i]!, part = b > a ? (share - a) / (b - a) : 0;
    const [x1, y1] = this.points[i - 1]!, [x2, y2] = this.points[i]!;
    return [x1 + part * (x2 - x1), y1 + part * (y2 - y1)];
  }
  path(begin = 0, end = 1): string {
    const between = this.points.filter((_, i) => this.shares[i]! > begin && this.shares[i]! < end);
    return `M${[this.at(begin), ...between, this.at(end)].map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}`;
  }
}

/** Paths of the gas and of the froth in a pipe. */
export function gas_paths(stretches: Stretches, length: number, path: (begin: number, end: number) => string): { gas: string; froth: string } {
  const out = { gas: "", froth: "" };
  for (let i = 0; i < stretches.length; i += 3) {
    let begin = stretches[i]! / 1000, end = stretches[i + 1]! / 1000;
    const lacking = shortest / length - (end - begin);
    if (lacking > 0) { begin = Math.max(0, begin - lacking / 2); end = Math.min(1, end + lacking / 2); }
    const share = stretches[i + 2]!;
    if (share < 10) continue;
    out[share < froth_below ? "froth" : "gas"] += path(begin, end);
  }
  return out;
}

/** From the part before it into a cylinder that stands in a line. */
function inlets(layout: Layout, frame: Frame): SVGElement {
  const at = (v: number) => [frame.x(`v${v}`), frame.y(layout.volumes[v]!.height_m)];
  return s("g", {}, ...layout.actuators.flatMap((a) => a.pistons).map(({ volume, inlet }) => {
    if (inlet === null) return null;
    const [x1, y1] = at(inlet), [x2, y2] = at(volume);
    return s("line", { class: "feed", x1, y1, x2, y2 });
  }));
}

/** The part of a circle above a level from -1 (bottom) to 1 (top). */
function pocket(x: number, y: number, r: number, level: number): string {
  if (level >= 0.999) return "";
  if (level <= -0.999) return `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;
  const half = r * Math.sqrt(1 - level * level), surface = y - level * r;
  return `M${(x - half).toFixed(1)} ${surface.toFixed(1)}A${r} ${r} 0 ${level < 0 ? 1 : 0} 1 ${(x + half).toFixed(1)} ${surface.toFixed(1)}Z`;
}

export type Update = (now: Instant) => void;

function pipes(layout: Layout, frame: Frame): { node: SVGElement; update: Update } {
  const updates: Update[] = [];
  const node = s("g", {}, ...layout.lines.map((line, i) => {
    const course = new Course(layout, frame, line, i);
    const stroke = (cls: string, d = course.path()) => s("path", { class: cls, d, "stroke-width": pipe_width });
    const casing = s("path", { class: line.hose ? "casing hose" : "casing", d: course.path(), "stroke-width": pipe_width + 4 });
    const fluid = stroke("fluid"), gas = stroke("gas", ""), froth = stroke("froth", "");
    let before: Stretches | undefined;
    updates.push((now) => {
      set(fluid, "stroke", fluid_colour(now.f[i]!));
      if (now.l[i] === before) return;
      before = now.l[i]!;
      const paths = gas_paths(before, course.length, (b, e) => course.path(b, e));
      set(gas, "d", paths.gas);
      set(froth, "d", paths.froth);
    });
    return s("g", {}, s("title", {}, line.name), casing, fluid, froth, gas);
  }));
  return { node, update: (now) => updates.forEach((update) => update(now)) };
}

function part_picture(layout: Layout, frame: Frame, i: number): { node: SVGElement; update: Update } {
  const part = layout.volumes[i]!, x = frame.x(`v${i}`), y = frame.y(part.height_m), r = frame.radius(i);
  const body = s("circle", { class: "body", cx: x, cy: y, r });
  const gas = s("path", { class: "pocket", d: "" });
  const open = layout.screws.map((screw, k) => ({ screw, k })).filter(({ screw }) => screw.at.volume === i);
  const screws = open.map(({ screw, k }) => {
    const mark = s("path", { class: "screw", d: "M-4 0L-4 -9L4 -9L4 0Z" });
    return { node: s("g", {}, s("title", {}, screw.name), mark), mark, k, port: part.ports[screw.at.port!]! };
  });
  return {
    node: s("g", {}, s("title", {}, part.name), ...screws.map(({ node }) => node), body, gas, s("circle", { class: "rim", cx: x, cy: y, r })),
    update: (now) => {
      const [, level, fresh, roll] = now.v[i]!;
      set(body, "fill", fluid_colour(fresh));
      set(gas, "d", pocket(x, y, r, level / 1000));
      for (const { node, mark, k, port } of screws) {
        const angle = port.clock_deg + roll;
        set(node, "transform", `translate(${x} ${y}) rotate(${angle.toFixed(1)}) translate(0 ${(-r * Math.max(port.radial, 0.6)).toFixed(1)})`);
        set(mark, "class", now.s === k ? (now.o > 0 ? "screw open" : "screw here") : "screw");
      }
    },
  };
}

function junction_screws(layout: Layout, frame: Frame): { node: SVGElement; update: Update } {
  const updates: Update[] = [];
  const node = s("g", {}, ...layout.screws.map((screw, k) => {
    if (screw.at.junction === undefined) return s("g");
    const mark = s("path", { class: "screw", d: "M-4 0L-4 -13L4 -13L4 0Z" });
    updates.push((now) => set(mark, "class", now.s === k ? (now.o > 0 ? "screw open" : "screw here") : "screw"));
    return s("g", { transform: `translate(${frame.x(`j${screw.at.junction}`)} ${frame.y(screw.height_m)})` }, s("title", {}, screw.name), mark);
  }));
  return { node, update: (now) => updates.forEach((update) => update(now)) };
}

function reservoirs(layout: Layout, frame: Frame): { node: SVGElement; update: Update } {
  const updates: Update[] = [];
  const node = s("g", {}, ...layout.reservoirs.map((tank, i) => {
    const chambers = [...new Set(layout.actuators.flatMap((a) => a.pistons).filter((p) => p.reservoir === i).map((p) => p.volume))];
    const middle = chambers.reduce((sum, v) => sum + frame.x(`v${v}`), 0) / Math.max(chambers.length, 1);
    const floor = frame.y(tank.floor_m), top = frame.y(tank.floor_m + top_of(tank)), half = 38;
    const fluid = s("rect", { class: "fluid-body", x: middle - half, width: 2 * half, y: floor, height: 0, fill: fluid_colour(1000) });
    updates.push((now) => {
      const level = frame.y(tank.floor_m + now.r[i]! / tank.area_cm2 / 100);
      set(fluid, "y", level.toFixed(1));
      set(fluid, "height", Math.max(0, floor - level).toFixed(1));
    });
    return s("g", {}, s("title", {}, tank.name), ...chambers.map((v) => s("line", { class: "feed", x1: frame.x(`v${v}`), x2: frame.x(`v${v}`), y1: floor, y2: frame.y(layout.volumes[v]!.height_m) })),
      fluid, s("path", { class: "rim", d: `M${middle - half} ${top}V${floor}H${middle + half}V${top}` }));
  }));
  return { node, update: (now) => updates.forEach((update) => update(now)) };
}

export function scene(layout: Layout, label: string): Scene {
  const frame = frame_of(layout);
  const parts = layout.volumes.map((_, i) => part_picture(layout, frame, i));
  const groups = [reservoirs(layout, frame), pipes(layout, frame), junction_screws(layout, frame), ...parts];
  const above = plan(layout), worked = actuators(layout, frame);
  const picture = s("svg", { class: "scene", viewBox: `0 0 ${size.width} ${size.height}`, role: "img", "aria-label": label },
    axis(frame), inlets(layout, frame), ...groups.map(({ node }) => node),
    s("g", {}, ...layout.junctions.map((j, i) => s("circle", { class: "junction", cx: frame.x(`j${i}`), cy: frame.y(j.height_m), r: 5.5 }, s("title", {}, j.name)))),
    names(layout, frame), worked.node, above.node);
  return { picture, show: (now) => { for (const { update } of [...groups, worked, above]) update(now); } };
}
