// What the sheet rests on: the comparison, what moves it, where air stays, the pedal, and what was assumed.
import { bars, dots, lines, spans, type Dot } from "./charts";
import { whole, type Estimate, type Guide, type Order, type PedalTest } from "./data";
import { h, table } from "./dom";
import { capital, count, t } from "./text";
import { digits, expected, minutes, ml, mm_in, n_lbf } from "./units";

type Part = HTMLElement | false;

const name_of = (order: string[]) => order.join(", ");
const kept = (text: string) => (text.length > 20 ? text : h("span", { class: "keep" }, text));
const same = (a: string[], b: string[]) => name_of(a) === name_of(b);

function part(id: string, title: string, ...children: (Node | string | false)[]): HTMLElement {
  return h("section", { class: "part", "aria-labelledby": id }, h("h3", { id }, title), ...children);
}

const most_best = 4;

/** The best few, the usual rules and the last. */
function shown_orders({ comparison }: Guide): Order[] {
  const last = comparison.orders.length - 1;
  return comparison.orders.filter((order, i) => i < most_best || i === last || order.known_as.length > 0).slice(0, 12);
}

/** Fewest and most strokes over the low and high runs, and of the difference to the best in the same run. */
function spread(guide: Guide, order: Order): { strokes: [number, number]; more: [number, number] } | null {
  const strokes = [order.strokes_total], more = [order.strokes_total - guide.comparison.orders[0]!.strokes_total];
  let found = false;
  for (const run of guide.comparison.low_usual_high) {
    const mine = run.orders.find((o) => same(o.order, order.order));
    if (!mine) continue;
    found = true;
    strokes.push(mine.strokes_total);
    more.push(mine.strokes_total - run.orders[0]!.strokes_total);
  }
  return found ? { strokes: [Math.min(...strokes), Math.max(...strokes)], more: [Math.min(...more), Math.max(...more)] } : null;
}

/** A value of the samples in the unit of what ranks. */
const number = (e: Estimate, cost: string) => (e.value === null ? "–" : cost === "s" ? minutes(e.value) : digits(e.value));
const percent = (e: Estimate) => (e.value === null ? "–" : t("percent", { n: e.value.toFixed(e.value > 99 && e.value < 100 ? 1 : 0) }));

/** Every order on the same samples: interval, shares, and the paired difference to the chosen one. */
function samples({ comparison }: Guide, shown: Order[]): Part {
  const { evidence } = comparison;
  if (!evidence) return false;
  const unit = evidence.cost_unit, drivers = evidence.drivers.filter((d) => d.share_percent > Math.max(1, evidence.drivers_by_chance_percent)).slice(0, 6);
  const rows = shown.filter((o) => o.sampled).map(({ order, sampled }) => {
    const { cost, against_chosen: against } = sampled!;
    const between = (low: Estimate, middle: Estimate, high: Estimate) => t("range", { usual: number(middle, unit), low: number(low, unit), high: number(high, unit) });
    const own = name_of(order) === evidence.chosen || evidence.chosen.endsWith(`(${name_of(order)})`);
    return [kept(name_of(order)), between(cost.p05, cost.p50, cost.p95), percent(sampled!.target_met_percent), percent(sampled!.as_good_as_the_best_percent),
      own ? "–" : between(against.cost_more_p2_5, against.cost_more_p50, against.cost_more_p97_5),
      own ? "–" : [against.behind_percent, against.tied_percent, against.ahead_percent].map(percent).join(" / ")];
  });
  const head = [t("col_order"), t("col_interval", { unit: t(`unit_${unit}` as "unit_strokes") }), t("col_meets"), t("col_as_good"), t("col_paired"), t("col_shares")];
  return part("samples", t("samples_title"), h("p", { class: "finding" }, evidence.finding),
    h("p", {}, t("samples_text", { n: evidence.samples, scramblings: evidence.scramblings, chosen: evidence.chosen })),
    table(t("samples_title"), head, rows, [1, 2, 3, 4, 5], true),
    evidence.failed > 0 && h("p", {}, t("samples_failed", { n: evidence.failed })),
    drivers.length > 0 && h("div", {}, h("h4", {}, t("drivers_title")), h("p", {}, t("drivers_text", { what: evidence.drivers_of, chance: evidence.drivers_by_chance_percent.toFixed(1) })),
      table(t("drivers_title"), [t("col_value"), t("col_share"), t("col_trend")],
        drivers.map((d) => [d.name, t("percent", { n: d.share_percent.toFixed(0) }), t(d.trend < 0 ? "trend_less" : "trend_more")]), [1])));
}

const signed = (n: number) => (n > 0 ? `+${n}` : `${n}`.replace("-", "−"));

function difference(guide: Guide, order: Order): string {
  const usual = order.strokes_total - guide.comparison.orders[0]!.strokes_total;
  const text = usual === 0 ? t("diff_none") : signed(usual);
  const range = spread(guide, order)?.more;
  return range && range[0] !== range[1] ? t("diff_range", { usual: text, low: signed(range[0]), high: signed(range[1]) }) : text;
}

function order_cells(guide: Guide, order: Order): (Node | string)[] {
  const range = spread(guide, order);
  return [kept(name_of(order.order)), order.known_as.join(", "), range ? expected(order.strokes_total, range.strokes) : `${order.strokes_total}`,
    difference(guide, order), ml(order.fluid_drawn_ml), minutes(order.duration_s), ml(order.air_left_ml),
    order.target_met ? t("met") : t("missed", { why: order.stopped_because })];
}

function orders(guide: Guide): Part {
  const { comparison } = guide;
  const shown = shown_orders(guide);
  const data: Dot[] = shown.map((order) => {
    const sampled = comparison.cost === "strokes" && order.sampled ? [order.sampled.cost.p05.value, order.sampled.cost.p95.value] as [number, number] : null;
    const [low, high] = sampled ?? spread(guide, order)?.strokes ?? [order.strokes_total, order.strokes_total];
    return { label: name_of(order.order), value: order.strokes_total, low, high, hollow: !order.target_met };
  });
  const head = (["col_order", "col_known", "col_strokes", "col_more", "col_fluid", "col_time", "col_left", "col_target"] as const).map((key) => t(key));
  const some = shown.length < comparison.orders_total && t("orders_shown", { shown: Math.min(most_best, shown.length), total: comparison.orders_total });
  return part("orders", t("orders_title"),
    h("p", { class: "finding" }, comparison.finding),
    h("p", {}, t("orders_text", { orders: count("orders", comparison.orders_total), bars: t(comparison.evidence && comparison.cost === "strokes" ? "bars_samples" : "bars_runs") }), " ", some),
    data.length > 1 && dots(data, t("strokes_axis"), `${t("orders_title")}: ${data.map((d) => `${d.label} ${expected(d.value, [d.low, d.high])}`).join("; ")}`),
    table(t("orders_title"), head, shown.map((order) => order_cells(guide, order)), [2, 3, 4, 5, 6], true),
    comparison.low_usual_high.length > 0 && h("p", { class: "small" }, t("col_more_note")),
    h("p", {}, h("strong", {}, `${t("check_title")}. `), t("check_text", { prediction: comparison.prediction.sentence })));
}

/** Three digits that mean something. */
const plain = (x: number) => Number(x.toPrecision(3)).toString();

function matters(guide: Guide): Part {
  const measures = guide.comparison.measure_next;
  const best = guide.comparison.orders[0]!.strokes_total;
  if (measures.length === 0)
    return part("matters", t("matters_title"), h("p", {}, t(guide.comparison.low_usual_high.length > 0 ? "matters_small" : "matters_none")));
  const data: Dot[] = measures.map((m) => ({
    label: m.key, value: best, low: Math.min(best, m.strokes_at_low, m.strokes_at_high), high: Math.max(best, m.strokes_at_low, m.strokes_at_high), hollow: false,
  }));
  const meaning = (key: string) => guide.comparison.assumptions.find((a) => a.key === key)?.meaning ?? "";
  const changes = measures.filter((m) => m.shown.changes_at !== null);
  const head = (["col_value", "col_assumed", "col_band", "col_how", "col_effect"] as const).map((key) => t(key));
  return part("matters", t("matters_title"), h("p", {}, t("matters_text")),
    spans(data, t("strokes_axis"), `${t("matters_title")}: ${data.map((d) => `${d.label} ${d.low}–${d.high}`).join("; ")}`),
    table(t("matters_title"), head, measures.map((m) => [h("span", {}, m.key, h("span", { class: "meaning" }, meaning(m.key))), kept(m.shown.assumed), kept(m.shown.band), m.how_to_measure, `${m.strokes_at_low}, ${m.strokes_at_high}`]), [4], true),
    ...(changes.length > 0 ? changes.map((m) => h("p", {}, t("matters_change", { key: m.key, value: m.shown.changes_at! }))) : [h("p", {}, t("matters_holds"))]));
}

function firm({ comparison }: Guide): Part {
  const runs = comparison.low_usual_high;
  if (runs.length === 0) return false;
  const compared = runs[0]!.orders.map((o) => o.order);
  const named = compared.map((order) => comparison.orders.find((o) => same(o.order, order)));
  const cell = (n: number, met: boolean) => (met ? `${n}` : t("firm_miss", { n }));
  return part("firm", t("firm_title"), h("p", {}, t("firm_text")),
    table(t("firm_title"), [t("col_run"), ...compared.map(name_of)],
      [[t("usual"), ...named.map((o) => (o ? cell(o.strokes_total, o.target_met) : "–"))],
        ...runs.map((run) => [run.run, ...run.orders.map((o) => cell(o.strokes_total, o.target_met))])], compared.map((_, i) => i + 1)));
}

function air(guide: Guide): Part {
  const best = guide.comparison.orders[0]!;
  const kinds = [t("air_start"), t("air_left"), t("air_beyond")];
  const places = [...new Set([...Object.keys(guide.air_start_by_place_ml), ...Object.keys(best.air_left_by_place_ml)])];
  const amounts = (place: string) => [guide.air_start_by_place_ml[place] ?? 0, best.air_left_by_place_ml[place] ?? 0, best.air_beyond_reach_by_place_ml[place] ?? 0];
  const worth = places.filter((place) => amounts(place).some((x) => x >= 0.01)).slice(0, 10);
  const text = t("air_text", { start: ml(best.air_start_ml), left: ml(best.air_left_ml), beyond: ml(best.air_beyond_reach_ml) });
  return part("air", t("air_title"), h("p", {}, text),
    worth.length > 0 && bars(worth.flatMap((place) => amounts(place).map((value, i) => ({ label: place, kind: kinds[i]!, value }))), kinds, t("air_axis"),
      `${text} ${worth.map((place) => `${place}: ${amounts(place).map((x, i) => `${ml(x)} ${kinds[i]}`).join(", ")}`).join("; ")}`),
    guide.comparison.advice.length > 0 && h("div", {}, h("h4", {}, t("air_why")), h("p", {}, t("air_why_text")),
      h("ul", {}, ...guide.comparison.advice.map((sentence) => h("li", {}, `${capital(sentence)}.`)))));
}

function course(guide: Guide): Part {
  const data = guide.films.map((film) => {
    const sum = (a: number[]) => a.reduce((x, y) => x + y, 0);
    const points = [{ x: 0, y: sum(film.instants[0]!.a!) }];
    for (const instant of whole(film)) if (instant.e === 1) points.push({ x: points.length, y: sum(instant.a) });
    return { label: name_of(film.order), points };
  });
  return part("course", t("course_title"), h("p", {}, t("course_text")),
    lines(data, t("course_axis"), t("course_air"),
      `${t("course_title")}: ${data.map((d) => `${d.label}: ${ml(d.points[0]!.y)} – ${ml(d.points.at(-1)!.y)}`).join("; ")}`, true));
}

/** Three strokes after bleeding, slow and quick, at the forces of the table [mm]. */
function strokes_table(test: PedalTest, shown: number[]): HTMLElement {
  const rows = (["slow", "quick"] as const).flatMap((kind) => test.after[`${kind}_strokes_mm`].map((stroke, n) =>
    [t(kind === "slow" ? "col_slow" : "col_quick", { n: n + 1 }), ...shown.map((i) => digits(stroke[i]!))]));
  return table(t("strokes_title"), [t("col_stroke"), ...shown.map((i) => n_lbf(test.force_n[i]!))], rows, shown.map((_, i) => i + 1));
}

/** What the travel is made of, a row for each cause, and what a millilitre of air would add. */
function travel_made(test: PedalTest, k: number): Node {
  const total = (cause: string) => test.split.filter((share) => share.cause === cause).reduce((sum, share) => sum + share.travel_mm, 0);
  const causes = [...new Set(test.split.map(({ cause }) => cause))].sort((a, b) => total(b) - total(a));
  const places = (cause: string) => test.split.filter((share) => share.cause === cause && share.place && share.travel_mm >= 0.05)
    .map((share) => t("place_share", { place: share.place, travel: digits(share.travel_mm) })).join(", ");
  const rows = causes.filter((cause) => total(cause) >= 0.05).map((cause) => [h("span", {}, cause, h("span", { class: "meaning" }, places(cause))), mm_in(total(cause))]);
  const dearest = Math.max(...test.air_cost.map((cost) => cost.travel_mm_per_ml)), cheapest = Math.min(...test.air_cost.map((cost) => cost.travel_mm_per_ml));
  const title = t("split_title", { force: n_lbf(test.split_force_n) });
  return h("section", { class: "part", "aria-labelledby": `split-${k}` }, h("h4", { id: `split-${k}` }, title), table(title, [t("col_cause"), t("travel_axis")], rows, [1]),
    test.air_cost.length > 0 && h("p", {}, t("air_cost", { least: mm_in(cheapest), most: mm_in(dearest), force: n_lbf(test.split_force_n) })));
}

function hold(test: PedalTest): string {
  const values = { hold: digits(test.hold_s), force: n_lbf(test.hold_force_n), before: mm_in(test.sink_before_mm), after: mm_in(test.sink_mm) };
  return t(Math.max(test.sink_before_mm, test.sink_mm) < 0.1 ? "hold_steady" : "hold_text", values);
}

function pedals(guide: Guide): Part[] {
  return guide.pedal_tests.map((test, k) => {
    const word = t(test.hand ? "Lever" : "Pedal"), name = capital(test.actuator);
    const data = ([["curve_before", test.before_mm], ["curve_after", test.after_mm], ["curve_without", test.without_air_mm]] as const)
      .map(([key, travel]) => ({ label: t(key), points: travel.map((y, i) => ({ x: test.force_n[i]!, y })) }));
    const shown = [...test.force_n.keys()].filter((i) => i % 3 === 2);
    const rows = shown.map((i) => [n_lbf(test.force_n[i]!), ...[test.before_mm, test.after_mm, test.without_air_mm].map((travel) => mm_in(travel[i]!))]);
    const title = t("pedal_title", { Pedal: word });
    return h("div", { class: "pedal" },
      part(`pedal-${k}`, guide.pedal_tests.length > 1 ? `${title}: ${test.actuator}` : title, h("p", { class: "finding" }, `${name}: ${test.sentence}`), h("p", {}, t("pedal_text")),
        lines(data, t("force_axis"), t("travel_axis"), `${title}, ${test.actuator}: ${data.map((d) => `${d.label} ${digits(d.points.at(-1)!.y)} mm`).join(", ")}`),
        table(title, [t("col_force"), t("curve_before"), t("curve_after"), t("curve_without")], rows, [1, 2, 3])),
      h("section", { class: "part", "aria-labelledby": `strokes-${k}` }, h("h4", { id: `strokes-${k}` }, t("strokes_title")), h("p", {}, t("strokes_text", { gap: digits(test.gap_s) })), strokes_table(test, shown),
        h("p", {}, hold(test))),
      test.split.length > 0 && travel_made(test, k));
  });
}

function assumed({ comparison }: Guide): Part {
  const head = (["col_key", "col_assumed", "col_band", "col_grade", "col_source"] as const).map((key) => t(key));
  return h("details", { class: "part" }, h("summary", {}, t("assumed_title")),
    h("p", {}, t("assumed_text", { values: count("values", comparison.assumptions.length) })),
    table(t("assumed_title"), head, comparison.assumptions.map((a) => [h("span", {}, a.key, h("span", { class: "meaning" }, a.meaning)), kept(a.value), kept(a.band), kept(a.grade), a.source]), [], true));
}

function checks({ comparison }: Guide): Part {
  const { resolution, balance } = comparison;
  const notes = comparison.warnings.length > 0 && h("div", {}, h("h4", {}, t("notes_title")), h("ul", {}, ...comparison.warnings.map((w) => h("li", {}, w))));
  return part("numbers", t("numbers_title"), h("p", {}, t("numbers_text", {
    strokes: plain(Math.max(resolution.strokes_to_target, resolution.strokes_counted, 0.01)), air: `${plain(Math.max(resolution.air_left_ml, 0.01))} mL`, how: resolution.how,
    liquid: balance.liquid_relative.toExponential(0), gas: balance.air_relative.toExponential(0),
  })), notes);
}

function rerun(guide: Guide): Part {
  const { evidence } = guide.comparison;
  return h("section", { class: "part", id: "rerun", "aria-labelledby": "rerun-title" }, h("h3", { id: "rerun-title" }, t("rerun_title")),
    h("p", {}, t("rerun_text", { version: guide.version, file: guide.scenario.file.replace(/^.*[\\/]/, "") }), " ",
      evidence ? t("rerun_seed", { n: evidence.samples, seed: evidence.seed }) : t("rerun_no_seed")),
    guide.scenario.set.length > 0 && h("p", {}, t("rerun_set", { set: guide.scenario.set.join("; ") })),
    h("details", {}, h("summary", {}, t("scenario_text")), h("pre", { tabindex: 0 }, guide.scenario_text)));
}

export function evidence_section(guide: Guide): HTMLElement {
  return h("section", { id: "evidence", "aria-labelledby": "evidence-title" },
    h("h2", { id: "evidence-title" }, t("section_evidence")),
    ...[orders(guide), samples(guide, shown_orders(guide)), matters(guide), firm(guide), air(guide), course(guide), ...pedals(guide), checks(guide), assumed(guide), rerun(guide)]);
}
