// The job record: fields for everything that the program's own record file asks, on screen and on paper, and a file of them.
import type { Guide } from "./data";
import { h } from "./dom";
import { list, t, word_of } from "./text";
import { n_lbf } from "./units";

/** A place to fill in: a line of the record file, its key with its table ("hold.sink", "screws.0.fluid"), and what stands there. */
interface Slot { line: number; key: string; table: string; usual: string; node?: HTMLInputElement | HTMLSelectElement }

const units: Record<string, string> = { second: "mm", third: "mm", travel: "mm", sink: "mm", goes_down: "mm", lost: "mL", fluid: "mL", force: "N", gap: "s", after: "s", seconds: "s" };
const answers: Record<string, string[]> = { torque_done: ["true", "false"], "seen.wet": ["true", "false"], "seen.bubbles": ["none", "declined", "did not decline"] };
const travels = ["travel_before", "travel", "clamped.travel"]; // by force or by hose

const last = (key: string) => key.split(".").at(-1)!;
const unit_of = (slot: Slot) => (travels.includes(slot.table) ? "mm" : slot.table === "screws" || slot.key.includes(".") ? units[last(slot.key)] ?? "" : "");

/** Lines of a record file that hold a value in quotes. */
function slots_of(text: string): Slot[] {
  const slots: Slot[] = [];
  let table = "", screw = -1;
  text.split("\n").forEach((row, line) => {
    const head = /^\[+([\w.]+)\]+/.exec(row), entry = /^("(?:[^"\\]|\\.)*"|\w+)\s*=\s*("(?:[^"\\]|\\.)*")/.exec(row);
    if (head) { table = head[1]!; if (table === "screws") ++screw; }
    if (!entry) return;
    const name = entry[1]!.startsWith('"') ? (JSON.parse(entry[1]!) as string) : entry[1]!;
    if (table === "screws" && name === "name") return;
    slots.push({ line, table, key: table === "screws" ? `screws.${screw}.${name}` : table ? `${table}.${name}` : name, usual: JSON.parse(entry[2]!) as string });
  });
  return slots;
}

/** As it stands in the file: words as they are, bare numbers with their unit. */
function value_of(slot: Slot): string {
  const value = slot.node?.value.trim() ?? slot.usual, unit = unit_of(slot);
  if (value === "true" || value === "false") return value;
  const number = /^[\d.]+$/.test(value);
  return /strokes$|last_bubble$/.test(slot.key) && number ? value : JSON.stringify(number && unit ? `${value} ${unit}` : value);
}

/** Everything to fill in for one job; each field is made once, wherever it stands on the page. */
export class JobRecord {
  private readonly slots: Slot[];
  private readonly others: { label: string; node: HTMLInputElement }[];
  constructor(private readonly guide: Guide) {
    this.slots = slots_of(guide.work.record);
    this.others = list("record_others").map((label) => ({ label, node: h("input", { type: "text" }) }));
  }

  /** The field of a key, with a label that need not be seen. */
  field(key: string, label: string): HTMLElement {
    const slot = this.slots.find((one) => one.key === key)!, words = answers[key];
    if (words === undefined) return (slot.node = h("input", { type: "text", "data-key": key, "aria-label": label, value: slot.usual }));
    slot.node = h("select", { "data-key": key, "aria-label": label, class: "screen" }, h("option", { value: "" }, ""), ...words.map((word) => h("option", { value: word }, word_of("record_answers", word))));
    return h("span", {}, slot.node, h("span", { class: "paper circle" }, words.map((word) => word_of("record_answers", word)).join(" / ")));
  }

  private entry(slot: Slot, label: string): HTMLElement {
    const unit = unit_of(slot), text = unit && slot.usual === "" ? `${label}, ${unit}` : label;
    return h("label", { class: "entry" }, h("span", {}, text), this.field(slot.key, text));
  }

  private name_of(slot: Slot): string {
    const name = slot.key.slice(slot.table ? slot.table.length + 1 : 0);
    if (slot.table === "clamped.travel") return name;
    return travels.includes(slot.table) ? n_lbf(parseFloat(name)) : word_of("record_fields", slot.table ? `${slot.table}.${name}` : name, name.replace(/_/g, " "));
  }

  /** Readings in the order of the work, a row for each table of the file. */
  form(): HTMLElement {
    const tables = [...new Set(this.slots.map((slot) => slot.table))].filter((table) => table !== "screws");
    const row = (title: string, entries: HTMLElement[]) => h("div", { class: "reading" }, h("h4", {}, title), h("div", { class: "entries" }, ...entries));
    const rows = tables.map((table) => row(word_of("record_tables", table || "job", table),
      this.slots.filter((slot) => slot.table === table).map((slot) => this.entry(slot, this.name_of(slot)))));
    return h("div", { class: "record" }, ...rows, row(t("record_more"), this.others.map(({ label, node }) => h("label", { class: "entry" }, h("span", {}, label), node))));
  }

  /** The record file with what was filled in; what it has no key for goes ahead as notes. */
  text(): string {
    const lines = this.guide.work.record.split("\n");
    for (const slot of this.slots)
      lines[slot.line] = lines[slot.line]!.replace(/^((?:"(?:[^"\\]|\\.)*"|\w+)\s*=\s*)"(?:[^"\\]|\\.)*"/, (_, start: string) => start + value_of(slot));
    const notes = this.others.filter(({ node }) => node.value.trim()).map(({ label, node }) => `# ${label}: ${node.value.trim()}`);
    return [...notes, ...lines].join("\n");
  }

  /** Hands the file to the browser; nothing leaves the machine. */
  save(): void {
    const url = URL.createObjectURL(new Blob([this.text()], { type: "application/toml" }));
    h("a", { href: url, download: "job.toml" }).click();
    setTimeout(() => URL.revokeObjectURL(url), 1000);
  }
}
