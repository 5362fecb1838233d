// The sheet proper: what to do, in which order, with what care.
import type { Guide } from "./data";
import { h } from "./dom";
import { clear, each_stroke, not_clear, order } from "./order";
import { JobRecord } from "./record";
import { capital, list, t, type List } from "./text";
import { m_ft, ml_oz, mm_in, n_lbf } from "./units";

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

function record_part(record: JobRecord): HTMLElement {
  return h("section", { class: "part whole", "aria-labelledby": "record" }, h("h3", { id: "record" }, t("record_title")),
    h("p", { class: "small" }, t("record_text")), record.form(),
    h("p", { class: "screen" }, h("button", { type: "button", class: "save", click: () => record.save() }, t("record_save")), " ", h("span", { class: "small" }, t("record_note"))));
}

function prepare({ work }: Guide): HTMLElement | false {
  return work.prepare.length > 0 && part("prepare", t("prepare_title"), h("ol", {}, ...work.prepare.map((act) => h("li", {}, act))));
}

export function work_section(guide: Guide): HTMLElement {
  const values = { ...worked(guide), fluid: guide.work.fluid }, record = new JobRecord(guide);
  return h("section", { id: "work", "aria-labelledby": "work-title" },
    h("h2", { id: "work-title" }, t("section_work")),
    cautions(guide), stop_box(guide),
    h("div", { class: "pair" }, fluid_and_tools(guide), part("before", t("checks_title"), ticks("checks_before", values))),
    prepare(guide), part("order", t("order_title"), ...order(guide, record)),
    h("div", { class: "pair" },
      h("div", {}, part("stroke", t("stroke_title"), each_stroke(guide)), part("clear", t("clear_title"), clear(guide)), stays(guide)),
      part("not_clear", t("not_clear_title"), not_clear((text) => filled(text, values)))),
    after(guide), record_part(record));
}
