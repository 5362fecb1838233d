// The sheet proper: what to do, in which order, with what care.
import type { Guide, Visit } from "./data";
import { h, table } from "./dom";
import { capital, count, list, t, type List } from "./text";
import { digits, expected, m_ft, minutes, ml, ml_oz, mm_in, n_lbf, turns } from "./units";

/** "pedal" or "lever", as the person who works it says. */
function worked(guide: Guide): Record<string, string> {
  const kinds = new Set(guide.layout.actuators.map((a) => a.hand));
  return kinds.size > 1 ? { pedal: t("pedal_or_lever"), Pedal: t("Pedal_or_lever") }
    : kinds.has(true) ? { pedal: t("lever"), Pedal: t("Lever") } : { pedal: t("pedal"), Pedal: t("Pedal") };
}

const filled = (text: string, values: Record<string, string>) => text.replace(/\{(\w+)\}/g, (all, name: string) => values[name] ?? all);

function ticks(name: List, values: Record<string, string>): HTMLElement {
  return h("ul", { class: "ticks" }, ...list(name).map((text) =>
    h("li", {}, h("label", {}, h("input", { type: "checkbox" }), h("span", {}, filled(text, values))))));
}

function part(id: string, title: string, ...children: (Node | string | false)[]): HTMLElement {
  return h("section", { class: "part", "aria-labelledby": id }, h("h3", { id }, title), ...children);
}

function cautions(guide: Guide): HTMLElement {
  return part("cautions", t("cautions"), h("ul", { class: "cautions" }, ...guide.work.cautions.map(({ topic, text }) =>
    h("li", {}, h("strong", {}, `${capital(topic)}. `), text))));
}

function reserve_notes(guide: Guide): string[] {
  return guide.comparison.orders[0]!.pedals.map((pedal) => {
    const [force, travel] = Object.entries(pedal.travel_without_air_mm)[0]!;
    const note = `${capital(pedal.actuator)}: ${t("reserve_note", { travel: mm_in(travel), force: n_lbf(Number(force)) })}`;
    return pedal.reserve_percent === null ? note : `${note} ${t("reserve_left", { percent: pedal.reserve_percent.toFixed(0) })}`;
  });
}

function stop_box(guide: Guide): HTMLElement {
  return h("section", { class: "stop", "aria-labelledby": "stop" }, h("h3", { id: "stop" }, t("stop_title")),
    h("ul", {}, ...list("stop_driving").map((text) => h("li", {}, filled(text, worked(guide))))),
    ...reserve_notes(guide).map((text) => h("p", { class: "small" }, text)),
    h("p", {}, t("stop_end")));
}

function fluid_and_tools({ work, layout }: Guide): HTMLElement {
  const share = work.top_up_below === 0.5 ? t("half") : t("percent", { n: (100 * work.top_up_below).toFixed(0) });
  const hose = t("hose_size", { bore: mm_in(layout.hose.bore_mm), length: m_ft(layout.hose.length_m) });
  return part("fluid", t("fluid_title"), h("ul", {},
    h("li", {}, t("fluid_grade", { fluid: work.fluid })),
    h("li", {}, t("fluid_hand", { amount: ml_oz(work.fluid_at_hand_ml) })),
    h("li", {}, t("fluid_level", { share })),
    ...list("tools").map((text) => h("li", {}, filled(text, { hose })))));
}

function order_row(guide: Guide, visit: Visit, step: number): (Node | string)[] {
  const box = () => h("input", { type: "checkbox", "aria-label": t("tick_done", { screw: visit.screw }) });
  const made = h("input", { type: "text", inputmode: "numeric", size: 3, class: "made", "aria-label": t("tick_made", { screw: visit.screw }) });
  const top_ups = visit.top_up_before_strokes.map((n) => t("topup_before", { n }));
  return [`${step}`, h("span", {}, h("strong", {}, visit.screw), visit.wheel === visit.screw ? "" : ` ${visit.wheel}`),
    guide.work.turns > 0 ? turns(guide.work.turns) : t("no_turns"),
    `${expected(visit.strokes, visit.strokes_range)}`,
    visit.last_bubble > 0 || visit.last_bubble_range[1] > 0 ? t("bubble_in", { n: expected(visit.last_bubble, visit.last_bubble_range) }) : t("no_bubble"),
    top_ups.length > 0 ? top_ups.join(", ") : t("topup_none"),
    visit.clear_stroke_ml > 0 ? ml_oz(visit.clear_stroke_ml) : "–", made, box()];
}

function order(guide: Guide): HTMLElement {
  const { work, comparison } = guide;
  const best = comparison.orders[0]!;
  const head = (["col_step", "col_screw", "col_open", "col_expect", "col_bubble", "col_topup", "col_clear", "col_made", "col_done"] as const).map((key) => t(key));
  const before = work.visits.filter((visit) => visit.before.length > 0).map((visit) =>
    h("p", {}, h("strong", {}, `${visit.screw}. `), t("before_screw", { acts: visit.before.join(", ") })));
  return part("order", t("order_title"),
    h("p", {}, t("order_method", { method: work.method, time: minutes(best.duration_s), strokes: count("strokes", best.strokes_total) })),
    table(t("order_title"), head, work.visits.map((visit, i) => order_row(guide, visit, i + 1)), [], true),
    !best.target_met && h("p", { class: "misses" }, t("misses", { air: ml(best.air_left_ml), why: best.stopped_because })),
    h("p", { class: "small" }, t(comparison.low_usual_high.length > 0 ? "interval_note" : "interval_none")),
    ...before,
    h("p", { class: "rule" }, t("order_rule")));
}

function each_stroke({ work }: Guide): HTMLElement {
  const acts = work.stroke.join(t("acts_then"));
  return part("stroke", t("stroke_title"), h("p", {}, t("stroke_text", {
    acts: capital(acts), share: (100 * work.stroke_share).toFixed(0), hold: `${digits(work.hold_s)} s`, dwell: `${digits(work.dwell_s)} s`,
  })));
}

function clear(guide: Guide): HTMLElement {
  const text = count("bubble_free", guide.work.clear_strokes);
  return h("div", { class: "pair" },
    part("clear", t("clear_title"), h("p", {}, t("clear_text", {
      clear: capital(text), colour: guide.work.new_colour > 0 ? t("clear_colour") : "",
    }))),
    part("not_clear", t("not_clear_title"), h("ul", {}, ...list("not_clear").map((line) => h("li", {}, filled(line, worked(guide)))))));
}

function stays({ comparison }: Guide): HTMLElement {
  return part("stays", t("stays_title"), comparison.advice.length > 0
    ? h("ul", {}, ...comparison.advice.map((sentence) => h("li", {}, `${capital(sentence)}.`)))
    : h("p", {}, t("stays_none")));
}

function after(guide: Guide): HTMLElement {
  const pedals = guide.comparison.orders[0]!.pedals.map((pedal) => {
    const points = Object.entries(pedal.travel_mm).map(([force, travel]) => {
      const without = pedal.travel_without_air_mm[force]!;
      const point = t("expect_point", { travel: mm_in(travel), force: n_lbf(Number(force)) });
      return Math.abs(without - travel) < 0.5 ? point : `${point} (${t("expect_air", { travel: mm_in(without) })})`;
    });
    return h("p", {}, t("expect_pedal", { actuator: capital(pedal.actuator), points: points.join("; ") }));
  });
  return part("after", t("after_title"), ticks("after", worked(guide)), ...pedals, h("p", { class: "small" }, t("torque")));
}

function record(guide: Guide): HTMLElement {
  const line = (label: string) => h("label", { class: "entry" }, h("span", {}, label), h("input", { type: "text" }));
  return part("record", t("record_title"),
    h("div", { class: "record" }, ...list("record").map((label) => line(filled(label, worked(guide)))),
      ...guide.work.visits.map((visit) => line(`${visit.screw}: ${t("record_strokes")}`))),
    h("p", { class: "small screen" }, t("record_note")));
}

function prepare({ work }: Guide): HTMLElement | false {
  return work.prepare.length > 0 && part("prepare", t("prepare_title"), h("ol", {}, ...work.prepare.map((act) => h("li", {}, act))));
}

export function work_section(guide: Guide): HTMLElement {
  const values = { ...worked(guide), fluid: guide.work.fluid };
  return h("section", { id: "work", "aria-labelledby": "work-title" },
    h("h2", { id: "work-title" }, t("section_work")),
    cautions(guide), stop_box(guide),
    h("div", { class: "pair" }, fluid_and_tools(guide), part("before", t("checks_title"), ticks("checks_before", values))),
    prepare(guide), order(guide), each_stroke(guide), clear(guide), stays(guide), after(guide), record(guide));
}
