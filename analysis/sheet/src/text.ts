// The catalogue of text: every word of the page that does not come from the scenario or the program's findings.
import type catalogue from "../text/en.json";
import { embedded } from "./data";

type Catalogue = typeof catalogue;
export type Key = Exclude<keyof Catalogue, "plurals" | "lists" | "words">;
export type Plural = keyof Catalogue["plurals"];
export type List = keyof Catalogue["lists"];

const text = embedded<Catalogue>("text");
const language = document.documentElement.lang;
const rules = new Intl.PluralRules(language);

function filled(pattern: string, values: Record<string, string | number>): string {
  return pattern.replace(/\{(\w+)\}/g, (whole, name: string) => (name in values ? String(values[name]) : whole));
}

/** Text of the catalogue with its {places} filled. */
export const t = (key: Key, values: Record<string, string | number> = {}): string => filled(text[key], values);

/** "1 stroke", "3 strokes". */
export const count = (key: Plural, n: number): string => {
  const forms: Record<string, string> = text.plurals[key];
  return filled(forms[rules.select(n)] ?? forms.other!, { n });
};

export const list = (key: List): string[] => text.lists[key];

/** The catalogue's word for one of the program's; itself where it has none. */
export const word_of = (group: keyof Catalogue["words"], word: string, otherwise = word): string => (text.words[group] as Record<string, string>)[word] ?? otherwise;

export const capital = (text: string): string => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
