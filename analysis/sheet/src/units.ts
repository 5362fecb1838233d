// Amounts for people: metric first, inch in brackets, with the digits that mean something.
import { t } from "./text";

/** "0.12", "3.4", "240". */
export function digits(x: number): string {
  const size = Math.abs(x);
  return size < 0.005 ? "0" : x.toFixed(size < 1 ? 2 : size < 10 ? 1 : 0);
}

export const ml = (x: number): string => `${digits(x)} mL`;
export const ml_oz = (x: number): string => `${ml(x)} (${digits(x / 29.5735)} fl oz)`;
export const mm_in = (x: number): string => `${digits(x)} mm (${(x / 25.4).toFixed(x < 25 ? 2 : 1)} in)`;
export const m_ft = (x: number): string => `${x.toFixed(2)} m (${(x / 0.3048).toFixed(1)} ft)`;
export const n_lbf = (x: number): string => `${x.toFixed(0)} N (${(x / 4.44822).toFixed(0)} lbf)`;
export const degrees = (c: number): string => `${c.toFixed(0)} °C (${(c * 1.8 + 32).toFixed(0)} °F)`;
export const minutes = (seconds: number): string => (seconds < 60 ? `${seconds.toFixed(0)} s` : `${(seconds / 60).toFixed(0)} min`);
export const clock = (seconds: number): string =>
  `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;

/** Turns of a spanner as a mechanic says them. */
export function turns(x: number): string {
  const parts: Record<string, string> = { "0.25": "¼", "0.5": "½", "0.75": "¾", "1": "1", "1.5": "1½", "2": "2" };
  return t(x > 1 ? "turns_many" : "turns_one", { n: parts[String(x)] ?? x.toFixed(2) });
}

/** "", " (3 to 6)". */
export const spread = ([low, high]: [number, number]): string => (low === high ? "" : ` ${t("between", { low, high })}`);
/** "4", "4 (3 to 6)". */
export const expected = (usual: number, range: [number, number]): string => `${usual}${spread(range)}`;
