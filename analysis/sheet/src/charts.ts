// Charts as SVG, each with a text that says the same; told apart by dash and place as well as by colour.
import * as Plot from "@observablehq/plot";
import { h } from "./dom";

export const ink = { first: "#0b5563", second: "#b4530a", plain: "#4b5563" };
/** Series in the order given. */
export const series = [
  { colour: ink.first, dash: "none" },
  { colour: ink.second, dash: "8 4" },
  { colour: "#6b21a8", dash: "2 6" },
  { colour: ink.plain, dash: "10 3 2 3" },
  { colour: "#1d4ed8", dash: "4 2" },
  { colour: "#7c5a10", dash: "1 2" },
] as const;

export interface Dot { label: string; value: number; low: number; high: number; hollow: boolean }
export interface Bar { label: string; kind: string; value: number }
export interface Line { label: string; points: { x: number; y: number }[] }

const width = Math.min(720, Math.max(300, innerWidth - 40)), narrow = width < 520;
const base = { width, marginRight: narrow ? 14 : 24, style: { fontSize: narrow ? "12px" : "13px", fontFamily: "inherit", background: "none" } };
const longest = (labels: string[]) => Math.min(0.68 * width, 16 + (narrow ? 6.3 : 7.2) * Math.max(4, ...labels.map((label) => label.length)));

/** A chart's picture, its key and the sentence that stands for it where it can't be seen. */
function figure(chart: Element, description: string, key: [string, number][] = []): HTMLElement {
  for (const inner of chart.querySelectorAll("[aria-label]")) inner.removeAttribute("aria-label"); // one label for the whole
  chart.setAttribute("role", "img");
  chart.setAttribute("aria-label", description);
  return h("figure", { class: "chart" }, chart, key.length > 0 && h("ul", { class: "key" }, ...key.map(([label, i]) => h("li", {}, swatch(i), label))));
}

function swatch(i: number): Element {
  const { colour, dash } = series[i % series.length]!;
  const plot = Plot.plot({ width: 36, height: 12, margin: 2, axis: null, x: { domain: [0, 1] }, y: { domain: [0, 1] },
    marks: [Plot.line([[0, 0.5], [1, 0.5]], { stroke: colour, strokeWidth: 3, strokeDasharray: dash })] });
  plot.setAttribute("aria-hidden", "true");
  return plot;
}

/** A dot and its range for each label; long labels stand above their dot. */
export function dots(data: Dot[], axis: string, description: string): HTMLElement {
  const most = Math.max(...data.map((d) => d.label.length)), wide = (width - 40) / (narrow ? 12 : 13); // in ems, of half of which a letter takes
  const rows = most > 30 ? Math.ceil(most / (1.8 * wide)) : 0;
  return figure(Plot.plot({
    ...base, height: 46 + (30 + 15 * rows) * data.length, marginLeft: rows > 0 ? 14 : longest(data.map((d) => d.label)), marginBottom: 38,
    x: { label: axis, grid: true, nice: true, zero: true, labelAnchor: "center" }, y: { label: null, domain: data.map((d) => d.label), tickSize: 0, axis: rows > 0 ? null : "left" },
    marks: [
      Plot.ruleY(data, { y: "label", x1: "low", x2: "high", stroke: ink.first, strokeWidth: 6, strokeOpacity: 0.28, strokeLinecap: "round" }),
      Plot.dot(data, { x: "value", y: "label", r: 5.5, stroke: ink.first, strokeWidth: 2, fill: (d: Dot) => (d.hollow ? "white" : ink.first) }),
      rows > 0 ? Plot.text(data, { x: 0, y: "label", text: "label", dx: -8, dy: -9, textAnchor: "start", lineAnchor: "bottom", lineWidth: wide, lineHeight: 1.2 }) : null,
    ],
  }), description);
}

/** One bar from low to high per value, the usual marked. */
export function spans(data: Dot[], axis: string, description: string): HTMLElement {
  return figure(Plot.plot({
    ...base, height: 46 + 32 * data.length, marginLeft: longest(data.map((d) => d.label)), marginBottom: 38,
    x: { label: axis, grid: true, nice: true, labelAnchor: "center" }, y: { label: null, domain: data.map((d) => d.label), tickSize: 0, padding: 0.35 },
    marks: [
      Plot.barX(data, { y: "label", x1: "low", x2: (d: Dot) => (d.high === d.low ? d.high + 1e-6 : d.high), fill: ink.first, fillOpacity: 0.35, stroke: ink.first }),
      Plot.tickX(data, { y: "label", x: "value", stroke: "#111", strokeWidth: 2.5 }),
    ],
  }), description);
}

/** For every label a bar of each kind. */
export function bars(data: Bar[], kinds: string[], axis: string, description: string): HTMLElement {
  const labels = [...new Set(data.map((d) => d.label))], left = longest(kinds), head = " ";
  const most = Math.max(...data.map((d) => d.value));
  return figure(Plot.plot({
    ...base, height: 46 + 21 * (kinds.length + 1) * labels.length, marginLeft: left, marginRight: 44, marginBottom: 38, marginTop: 4,
    x: { label: axis, grid: true, labelAnchor: "center", domain: [0, most] },
    y: { domain: [head, ...kinds], label: null, tickSize: 0, padding: 0.25 }, fy: { domain: labels, label: null, axis: null, padding: 0.06 },
    marks: [
      Plot.text(labels, { fy: (d: string) => d, y: () => head, text: (d: string) => d, x: 0, dx: -left + 4, textAnchor: "start", fontWeight: 600 }),
      Plot.barX(data, { fy: "label", y: "kind", x: "value", fill: (d: Bar) => series[kinds.indexOf(d.kind)]!.colour }),
      Plot.text(data, { fy: "label", y: "kind", x: "value", text: (d: Bar) => (d.value < 0.005 ? "0" : d.value.toFixed(d.value < 1 ? 2 : 1)), dx: 6, textAnchor: "start" }),
      Plot.ruleX([0], { stroke: ink.plain }),
    ],
  }), description);
}

export function lines(data: Line[], x: string, y: string, description: string, step = false): HTMLElement {
  return figure(Plot.plot({
    ...base, height: narrow ? 240 : 320, marginLeft: 54, marginBottom: 40,
    x: { label: x, grid: true, labelAnchor: "center", zero: true }, y: { label: y, grid: true, zero: true, nice: true },
    marks: [
      Plot.ruleY([0], { stroke: ink.plain }),
      ...data.map((line, i) => Plot.line(line.points, { x: "x", y: "y", stroke: series[i % series.length]!.colour, strokeDasharray: series[i % series.length]!.dash,
        strokeWidth: 2.5, curve: step ? "step-after" : "monotone-x" })),
    ],
  }), description, data.map((line, i) => [line.label, i]));
}
