// The order of the screws: what to expect at each, and what was made.
import type { Guide, Visit } from "./data";
import { h, table } from "./dom";
import type { JobRecord } from "./record";
import { capital, count, list, t } from "./text";
import { degrees, minutes, ml, ml_oz, spread, turns } from "./units";

type Cell = Node | string;

/** "4 strokes (3 to 5)", and below it when the last bubble comes. */
function expected(visit: Visit): Cell {
  const { last_bubble: last, last_bubble_range: range } = visit;
  const bubble = last > 0 ? t("bubble_in", { n: `${last}${spread(range)}` }) : range[1] > 0 ? t("bubble_perhaps", { n: range[1] }) : t("no_bubble");
  return h("span", {}, h("strong", {}, `${count("strokes", visit.strokes)}${spread(visit.strokes_range)}`), h("span", { class: "below keep" }, bubble));
}

/** The part that a screw is on, where its name does not say it. */
const part_of = ({ screw, wheel }: Visit) => (wheel.split(" ").some((word) => screw.split(" ").includes(word)) ? "" : ` ${wheel}`);

/** A column of the table; `of` fills it for the visit at a step. */
interface Column { head: string; of(visit: Visit, i: number): Cell }

function columns(guide: Guide, record: JobRecord): Column[] {
  const made = (key: "strokes" | "last_bubble" | "fluid"): Column => ({
    head: t(`col_made_${key}`), of: (visit, i) => record.field(`screws.${i}.${key}`, `${visit.screw}: ${t(`col_made_${key}`)}`),
  });
  const top_up: Column = { head: t("col_topup"), of: (visit) => visit.top_up_before_strokes.map((n) => t("topup_before", { n })).join(", ") || t("topup_none") };
  return [
    { head: t("col_step"), of: (_, i) => `${i + 1}` },
    { head: t("col_screw"), of: (visit) => h("span", {}, h("strong", {}, visit.screw), part_of(visit)) },
    { head: t("col_open"), of: () => (guide.work.turns > 0 ? turns(guide.work.turns) : t("no_turns")) },
    { head: t("col_expect"), of: expected },
    ...(guide.work.visits.some((visit) => visit.top_up_before_strokes.length > 0) ? [top_up] : []),
    { head: t("col_clear"), of: (visit) => (h("span", { class: "keep" }, visit.clear_stroke_ml > 0 ? ml_oz(visit.clear_stroke_ml) : "–")) },
    made("strokes"), made("last_bubble"), made("fluid"),
    { head: t("col_done"), of: (visit) => h("input", { type: "checkbox", "aria-label": t("tick_done", { screw: visit.screw }) }) },
  ];
}

/** What belongs under the heading of the order. */
export function order(guide: Guide, record: JobRecord): (Node | false)[] {
  const { work, comparison } = guide, best = comparison.orders[0]!, all = columns(guide, record);
  const before = work.visits.filter((visit) => visit.before.length > 0).map((visit) =>
    h("p", {}, h("strong", {}, `${visit.screw}. `), t("before_screw", { acts: visit.before.join(", ") })));
  return [
    h("p", {}, t("order_method", { method: work.method, time: minutes(best.duration_s), strokes: count("strokes", best.strokes_total), degrees: degrees(work.temperature_degc) }),
      ...(best.top_ups === 0 ? [" ", t("topup_never")] : [])),
    h("p", { class: "rule" }, t("order_rule")),
    table(t("order_title"), all.map(({ head }) => head), work.visits.map((visit, i) => all.map(({ of }) => of(visit, i))), [], true),
    !best.target_met && h("p", { class: "misses" }, t("misses", { air: ml(best.air_left_ml), why: best.stopped_because })),
    ...before,
    h("p", { class: "small" }, t(comparison.low_usual_high.length > 0 ? "interval_note" : "interval_none")),
  ];
}

/** How to make a stroke. */
export function each_stroke({ work }: Guide): HTMLElement {
  const seconds = (x: number) => `${Number(x.toFixed(1))} s`;
  return h("p", {}, `${capital(work.stroke.join(t("acts_then")))}.`,
    work.presses && ` ${t("stroke_text", { share: (100 * work.stroke_share).toFixed(0), hold: seconds(work.hold_s), dwell: seconds(work.dwell_s) })}`);
}

/** When to leave a screw. */
export function clear({ work }: Guide): HTMLElement {
  return h("p", {}, t("clear_text", { clear: capital(count("bubble_free", work.clear_strokes)), colour: work.new_colour > 0 ? t("clear_colour") : "" }));
}

export const not_clear = (fill: (text: string) => string): HTMLElement => h("ul", {}, ...list("not_clear").map((line) => h("li", {}, fill(line))));
