// The player: one or two orders on one clock.
import type { Guide } from "./data";
import { h } from "./dom";
import { fluid_colour } from "./scene";
import { stage, type Stage } from "./stage";
import { t } from "./text";

const speeds = [0.5, 1, 2, 4, 8];
const stroke_pause = 1200; // between strokes when motion is to be reduced [ms]

class Player {
  readonly node: HTMLElement;
  private stages: Stage[] = [];
  private time = 0;
  private speed = 2;
  private playing = false;
  private last_tick = 0;
  private readonly still = matchMedia("(prefers-reduced-motion: reduce)");
  private readonly floor = h("div", { class: "stages" });
  private readonly scrub = h("input", { type: "range", min: 0, step: 0.05, value: 0, "aria-label": t("scrub"), input: () => this.go(Number(this.scrub.value)) });
  private readonly toggle = h("button", { type: "button", class: "play", click: () => this.play(!this.playing) }, t("play"));
  private readonly said = h("p", { class: "said", "aria-live": "polite" });

  constructor(private readonly guide: Guide, second: number) {
    const inside = h("input", { type: "checkbox", checked: true, change: () => this.node.classList.toggle("outside", !inside.checked) });
    const picks = [this.pick(t("replay_first"), 0, false), this.pick(t("replay_second"), second, true)];
    const choose = () => this.load(picks.map((p) => Number(p.select.value)).filter((i, k) => i >= 0 && (k === 0 || i !== Number(picks[0]!.select.value))));
    for (const { select } of picks) select.addEventListener("change", choose);
    const button = (label: string, act: () => void) => h("button", { type: "button", click: act }, label);
    this.node = h("div", { class: "player", keydown: (event) => this.key(event as KeyboardEvent) },
      h("div", { class: "picks" }, ...(guide.films.length > 1 ? picks.map((p) => p.label) : []), h("label", {}, inside, t("show_inside"))),
      h("div", { class: "controls" }, this.toggle, button(t("to_start"), () => this.go(0)), button(t("stroke_back"), () => this.by_stroke(-1)), button(t("stroke_on"), () => this.by_stroke(1)), this.speeds()),
      this.scrub, this.floor, this.said);
    choose();
  }

  private pick(label: string, chosen: number, none: boolean): { label: HTMLElement; select: HTMLSelectElement } {
    const options = this.guide.films.map((film, i) => h("option", { value: i, selected: i === chosen }, [film.order.join(", "), film.best ? t("best") : "", film.worst ? t("worst") : "", ...film.known_as].filter(Boolean).join(" – ")));
    const select = h("select", {}, none && h("option", { value: -1 }, t("replay_only_one")), ...options);
    if (none && (chosen === 0 || this.guide.films.length < 2)) select.value = "-1";
    return { label: h("label", {}, label, select), select };
  }

  private speeds(): HTMLElement {
    const select = h("select", {}, ...speeds.map((n) => h("option", { value: n, selected: n === this.speed }, t("speed_n", { n }))));
    select.addEventListener("change", () => { this.speed = Number(select.value); });
    return h("label", {}, t("speed"), select);
  }

  private load(films: number[]): void {
    this.play(false);
    this.stages = films.map((film) => stage(this.guide, film));
    this.floor.replaceChildren(...this.stages.map(({ node }) => node));
    this.floor.classList.toggle("two", films.length > 1);
    this.scrub.max = (Math.ceil(20 * this.length) / 20).toFixed(2);
    this.go(Math.min(this.time, this.length));
  }

  private get length(): number { return Math.max(...this.stages.map(({ reel }) => reel.length)); }
  private get first(): Stage { return this.stages[0]!; }

  /** Shows a time; says so when it was asked for and nothing moves by itself. */
  private go(time: number, quietly = false): void {
    this.time = Math.min(Math.max(time, 0), this.length);
    for (const one of this.stages) one.show(this.time);
    this.scrub.value = `${this.time}`;
    this.scrub.setAttribute("aria-valuetext", this.first.describe());
    if (!quietly) this.said.textContent = this.stages.map((one) => one.describe()).join(" ");
  }

  private by_stroke(step: number): void {
    const { reel } = this.first, done = reel.done[reel.index_at(this.time)]!;
    const within = step < 0 && this.time > reel.time_of_stroke(done) + 0.01 ? 0 : step;
    this.go(reel.time_of_stroke(done + within));
  }

  private by_instant(step: number): void {
    const { reel } = this.first, i = reel.index_at(this.time) + step;
    this.go(reel.times[Math.min(Math.max(i, 0), reel.times.length - 1)]!);
  }

  private play(on: boolean): void {
    if (on === this.playing) return;
    this.playing = on;
    this.toggle.textContent = t(on ? "pause" : "play");
    if (!on) return;
    if (this.time >= this.length) this.go(0, true);
    if (this.still.matches) return void setTimeout(() => this.jump(), stroke_pause);
    this.last_tick = performance.now();
    requestAnimationFrame((now) => this.tick(now));
  }

  private tick(now: number): void {
    if (!this.playing) return;
    this.go(this.time + (this.speed * Math.max(0, now - this.last_tick)) / 1000, true);
    this.last_tick = now;
    if (this.time < this.length) requestAnimationFrame((next) => this.tick(next));
    else this.end();
  }

  /** Motion reduced: from stroke to stroke. */
  private jump(): void {
    if (!this.playing) return;
    this.by_stroke(1);
    if (this.time < this.length) setTimeout(() => this.jump(), stroke_pause / this.speed);
    else this.end();
  }

  private end(): void {
    this.play(false);
    this.go(this.length);
  }

  private key(event: KeyboardEvent): void {
    const on = (event.target as Element).tagName;
    if (event.altKey || event.ctrlKey || event.metaKey || on === "SELECT") return;
    const acts: Record<string, () => void> = {
      ArrowLeft: () => this.by_instant(-1), ArrowRight: () => this.by_instant(1), PageUp: () => this.by_stroke(-1), PageDown: () => this.by_stroke(1),
      Home: () => this.go(0), End: () => this.go(this.length),
    };
    if (on !== "BUTTON" && (event.target as HTMLInputElement).type !== "checkbox") acts[" "] = () => this.play(!this.playing);
    const act = acts[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  }
}

function legend(): HTMLElement {
  const sample = (label: string, style: string, cls = "") => h("li", {}, h("span", { class: `sample ${cls}`, style }), label);
  return h("ul", { class: "key", "aria-label": t("legend_title") },
    sample(t("legend_new"), `background:${fluid_colour(1000)}`), sample(t("legend_old"), `background:${fluid_colour(0)}`),
    sample(t("legend_air"), "", "air"), sample(t("legend_froth"), "", "froth"), sample(t("legend_screw"), "", "open"));
}

/** The replay; `second` is the film shown beside the best, 0 for the usual choice. */
export function replay_section(guide: Guide, second: number): HTMLElement {
  const usual = guide.films.length > 1 ? guide.films.length - 1 : 0;
  return h("section", { id: "replay", "aria-labelledby": "replay-title" },
    h("h2", { id: "replay-title" }, t("section_replay")),
    h("p", {}, t("replay_text")), h("p", { class: "small screen" }, t("replay_keys")), h("p", { class: "small paper" }, t("replay_still")),
    legend(), new Player(guide, second || usual).node);
}
