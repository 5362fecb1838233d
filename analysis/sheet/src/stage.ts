// One order on the stage: what the person sees, what is true, and the counters.
import type { Guide, Instant, StrokeSeen } from "./data";
import { h } from "./dom";
import { Reel } from "./film";
import { hose } from "./hose";
import { scene } from "./scene";
import { t } from "./text";
import { clock, ml, turns } from "./units";

export interface Stage { node: HTMLElement; reel: Reel; show(time: number): void; describe(): string }

/** What is being done at an instant, in a word or two. */
function act_at(reel: Reel, i: number): string {
  const now = reel.instants[i]!, before = reel.instants[Math.max(0, i - 1)]!;
  if (i === 0) return t("act_start");
  if (i === reel.instants.length - 1) return t("act_end");
  const moved = Math.max(...now.p.map((p, k) => p - before.p[k]!)), back = Math.min(...now.p.map((p, k) => p - before.p[k]!));
  if (moved > 1) return t("act_press");
  if (back < -1) return t("act_release");
  if (Math.max(...now.p) > 2) return t("act_hold");
  return now.o > 0 ? t("act_open", { turns: turns(now.o) }) : now.s === null ? t("act_wait") : t("act_closed");
}

function what_was_seen({ bubble_seen, bubbles_ml, fluid_ml }: StrokeSeen): string {
  if (bubble_seen) return t("seen_bubbles", { amount: ml(bubbles_ml) });
  return Math.abs(fluid_ml) < 0.05 ? t("seen_nothing") : t(fluid_ml < 0 ? "seen_in" : "seen_clear", { amount: ml(Math.abs(fluid_ml)) });
}

export function stage(guide: Guide, film: number): Stage {
  const { layout } = guide, reel = new Reel(guide.films[film]!), name = reel.film.order.join(", ");
  const view = scene(layout, t("scene_label", { order: name })), strip = hose(layout);
  const value = (cls: string) => h("span", { class: `value ${cls}` });
  const stroke = value("stroke"), act = value("act"), air = value("air"), level = value("level"), seen = value("seen"), time = value("time");
  const circuits = layout.circuits > 1 ? Array.from({ length: layout.circuits }, (_, c) => ({ c, out: value("circuit") })) : [];
  const entry = (label: string, ...values: Node[]) => h("div", {}, h("dt", {}, label), h("dd", {}, ...values));
  const known = reel.film.best ? [t("best"), ...reel.film.known_as] : reel.film.worst ? [...reel.film.known_as, t("worst")] : reel.film.known_as;
  let index = 0;
  const node = h("article", { class: "stage" },
    h("h4", {}, name, known.length > 0 && h("span", { class: "known" }, ` ${known.join(", ")}`)),
    h("div", { class: "sees" }, h("h5", {}, t("sees")), strip.picture,
      h("dl", {}, entry(t("stroke_counter"), stroke), entry(t("now_doing"), act), entry(t("last_seen"), seen), entry(t("level_label"), level), entry(t("clock_label"), time))),
    h("div", { class: "truth" }, h("h5", {}, t("truth")), h("div", { class: "scene-box" }, view.picture),
      h("dl", {}, entry(t("air_inside"), air), ...circuits.map(({ c, out }) => entry(t("air_circuit", { n: c + 1 }), out)))));

  const entering = (now: Instant) => {
    const volume = now.s === null ? undefined : layout.screws[now.s]!.at.volume;
    return volume === undefined ? 1000 : now.v[volume]![2];
  };
  const show = (at: number) => {
    index = reel.index_at(at);
    const now = reel.instants[index]!, last = reel.last_stroke(index), total = reel.air(index);
    view.show(now);
    strip.show(now, last ? 1000 * last.new_share : entering(now), reel.bottle(index));
    stroke.textContent = t("job_stroke", { n: reel.done[index]!, total: reel.total });
    const doing = act_at(reel, index);
    act.textContent = now.s === null ? doing : `${t("at_screw", { screw: layout.screws[now.s]!.name })}, ${doing}`;
    seen.textContent = last ? what_was_seen(last) : t("not_yet");
    level.textContent = now.r.map((r) => ml(r)).join(" / ");
    time.textContent = clock(now.t);
    air.textContent = ml(total);
    air.dataset.ml = total.toFixed(4);
    node.dataset.strokes = `${reel.done[index]}`;
    for (const { c, out } of circuits) out.textContent = ml(now.a[c]!);
  };
  const describe = () => {
    const now = reel.instants[index]!;
    return t("announce", { order: name, place: now.s === null ? t("act_start") : t("at_screw", { screw: layout.screws[now.s]!.name }), n: reel.done[index]!, total: reel.total, air: ml(reel.air(index)) });
  };
  return { node, reel, show, describe };
}
