// The learner picks an order before the result is shown.
import { whole, type Film, type Guide, type Order } from "./data";
import { h } from "./dom";
import { scene } from "./scene";
import { count, t } from "./text";
import { ml } from "./units";

const name_of = (order: string[]) => order.join(", ");

function result_of(guide: Guide, film: Film): Order {
  return guide.comparison.orders.find((order) => name_of(order.order) === name_of(film.order))!;
}

/** What the choice comes to, against the best. */
function verdict(guide: Guide, pick: number): string[] {
  const best = guide.comparison.orders[0]!, mine = result_of(guide, guide.films[pick]!);
  const line = (key: "exercise_yours" | "exercise_best", order: Order) =>
    t(key, { order: name_of(order.order), strokes: count("strokes", order.strokes_total), left: ml(order.air_left_ml) });
  const out = [line("exercise_yours", mine)];
  if (mine !== best) out.push(line("exercise_best", best));
  if (mine === best || mine.group === best.group) return [...out, t("exercise_same")];
  const more = mine.strokes_total - best.strokes_total, air = mine.air_left_ml - best.air_left_ml;
  if (more > 0) out.push(t("exercise_more", { strokes: count("strokes", more) }));
  if (more < 0) out.push(t("exercise_fewer", { strokes: count("strokes", -more) }));
  if (air >= 0.01) out.push(t("exercise_left", { air: ml(air) }));
  return out;
}

/** Asks first; `reveal` is called once with the film that was picked. */
export function exercise(guide: Guide, main: HTMLElement, reveal: (pick: number) => void): void {
  const view = scene(guide.layout, t("exercise_look"));
  view.show(whole(guide.films[0]!)[0]!);
  const answer = h("div", { class: "answer", "aria-live": "polite" }, h("p", {}, t("exercise_hidden")));
  const choices = guide.films.map((film, i) => ({ i, name: name_of(film.order) })).sort((a, b) => (a.name < b.name ? -1 : 1));
  const buttons = choices.map(({ i, name }) => h("button", { type: "button", click: () => {
    for (const button of buttons) button.disabled = true;
    document.body.classList.remove("asking");
    answer.replaceChildren(...verdict(guide, i).map((line) => h("p", {}, line)));
    reveal(i);
  } }, t("exercise_choose", { order: name })));
  document.body.classList.add("asking");
  main.append(h("section", { id: "exercise", "aria-labelledby": "exercise-title" },
    h("h2", { id: "exercise-title" }, t("exercise_title")), h("p", {}, t("exercise_text")),
    h("div", { class: "scene-box" }, view.picture), h("div", { class: "choices" }, ...buttons), answer));
}
