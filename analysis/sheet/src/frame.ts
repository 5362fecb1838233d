// Head and foot of the page, printing, and what every printed page carries.
import type { Guide } from "./data";
import { h } from "./dom";
import { t } from "./text";

const prints = ["work", "evidence", "all"] as const;
type Print = (typeof prints)[number];

const css_text = (text: string) => `"${text.replace(/[^ !#-;=?-[\]-~]/gu, (c) => `\\${c.codePointAt(0)!.toString(16)} `)}"`;

/** Margin boxes of printed pages, where the browser knows them; else a foot that repeats on every page. */
function printed_margins(guide: Guide): Node[] {
  const [before = "", between = "", after = ""] = t("page_of").split(/\{[nm]\}/).map(css_text);
  const stamp = t("stamp", { date: guide.date, version: guide.version });
  const title = guide.scenario.title.length > 90 ? `${guide.scenario.title.slice(0, 88)}…` : guide.scenario.title;
  const style = h("style", {}, `@page { margin: 16mm 13mm 18mm;
    @top-left { content: ${css_text(title)}; } @top-right { content: ${css_text(stamp)}; }
    @bottom-left { content: ${css_text(t("simulated"))}; }
    @bottom-right { content: ${before} counter(page) ${between} counter(pages) ${after}; } }`);
  document.head.append(style);
  const rule = style.sheet?.cssRules[0];
  if (rule && /@bottom-right/.test(rule.cssText)) return [];
  return [h("div", { class: "printed-foot" }, `${guide.scenario.title} · ${stamp} · ${t("simulated")}`)];
}

function choose_print(print: Print): void {
  document.body.dataset.print = print;
}

// Closed details would print as their headings alone.
function open_for_print(): void {
  let opened: HTMLDetailsElement[] = [];
  addEventListener("beforeprint", () => {
    if (document.body.dataset.print !== "all") return;
    opened = [...document.querySelectorAll("details")].filter((d) => !d.open);
    for (const d of opened) d.open = true;
  });
  addEventListener("afterprint", () => { for (const d of opened) d.open = false; });
}

function print_panel(): HTMLElement {
  const labels = { work: t("print_work"), evidence: t("print_evidence"), all: t("print_all") };
  return h("form", { class: "print-panel", "aria-label": t("print_title"), submit: (event) => { event.preventDefault(); print(); } },
    h("fieldset", {}, h("legend", {}, t("print_title")), ...prints.map((value) =>
      h("label", {}, h("input", { type: "radio", name: "print", checked: value === document.body.dataset.print, change: () => choose_print(value) }), labels[value]))),
    h("button", { type: "submit" }, t("print_button")));
}

export function page_frame(guide: Guide, main: HTMLElement): Node[] {
  choose_print(location.hash === "#print-all" ? "all" : "evidence");
  open_for_print();
  const links = [["work", t("nav_work")], ["evidence", t("nav_evidence")], ["replay", t("nav_replay")], ["rerun", t("nav_rerun")]] as const;
  return [
    h("a", { class: "skip", href: "#main" }, t("skip")),
    h("header", { class: "head" },
      h("p", { class: "brand" }, t("brand"), h("span", {}, t("stamp", { date: guide.date, version: guide.version }))),
      h("h1", {}, guide.scenario.title),
      h("p", {}, h("strong", { class: "simulated" }, t("simulated")), " ", h("span", { class: "screen" }, t("deference"))),
      h("div", { class: "bar" },
        h("nav", { "aria-label": t("nav") }, ...links.map(([id, label]) => h("a", { href: `#${id}` }, label))),
        print_panel())),
    main,
    h("footer", { class: "foot screen" },
      h("details", {}, h("summary", {}, t("licences")), h("pre", { tabindex: 0 }, document.getElementById("licences")!.textContent))),
    ...printed_margins(guide),
  ];
}
