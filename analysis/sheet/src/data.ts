// What the program puts into the page; written by analysis/cli/guide_json.cpp and analysis/sheet/replay_json.cpp.

export type ByName = Record<string, number>;

export interface Visit {
  screw: string; wheel: string; strokes: number; strokes_range: [number, number]; last_bubble: number;
  last_bubble_range: [number, number]; clear_stroke_ml: number; ended_clear: boolean; before: string[];
  top_up_before_strokes: number[];
}
export interface Work {
  fluid: string; temperature_degc: number; method: string; by_hand: boolean; turns: number; presses: boolean; stroke_share: number;
  hold_s: number; dwell_s: number; top_up_below: number; clear_strokes: number; hose_volumes: number; new_colour: number;
  fluid_at_hand_ml: number; prepare: string[]; stroke: string[]; visits: Visit[];
  cautions: { topic: string; text: string }[]; record: string;
}
export interface Pedal { actuator: string; travel_mm: ByName; travel_without_air_mm: ByName; reserve_percent: number | null }
/** A value over samples, and what sampling leaves uncertain of it. */
export interface Estimate { value: number | null; sampling_error: number | null }
/** What samples of the uncertain values say of one order. */
export interface Sampled {
  target_met_percent: Estimate; best_percent: Estimate; as_good_as_the_best_percent: Estimate;
  cost: { p05: Estimate; p50: Estimate; p95: Estimate };
  against_chosen: {
    behind_percent: Estimate; tied_percent: Estimate; ahead_percent: Estimate;
    cost_more_p2_5: Estimate; cost_more_p50: Estimate; cost_more_p97_5: Estimate;
  };
}
export interface Evidence {
  samples: number; scramblings: number; seed: number; failed: number; finding: string; drivers_finding: string; cost_unit: string; chosen: string;
  drivers_of: string; drivers_by_chance_percent: number; drivers: { name: string; share_percent: number; trend: number }[];
}
export interface Order {
  order: string[]; known_as: string[]; group: number; strokes: ByName; strokes_total: number; strokes_to_target: number | null;
  fluid_drawn_ml: number; duration_s: number; top_ups: number; air_start_ml: number; air_left_ml: number;
  air_left_by_place_ml: ByName; air_beyond_reach_by_place_ml: ByName; air_beyond_reach_ml: number;
  pedals: Pedal[]; target_met: boolean; stopped_because: string; sampled?: Sampled;
}
export interface LowHigh {
  band: string; run: string;
  orders: { order: string[]; strokes_total: number; strokes_to_target: number | null; air_left_ml: number; target_met: boolean }[];
}
export interface Measure {
  key: string; how_to_measure: string; strokes_at_low: number; strokes_at_high: number;
  shown: { assumed: string; band: string; changes_at: string | null };
}
export interface Assumption {
  key: string; meaning: string; value: string; band: string; grade: string; source: string; how_to_measure: string;
}
export interface Comparison {
  finding: string; cost: string; bleed_points: string[]; orders_total: number; orders: Order[];
  resolution: { strokes_to_target: number; strokes_counted: number; air_left_ml: number; how: string };
  balance: { liquid_relative: number; air_relative: number }; evidence?: Evidence;
  low_usual_high: LowHigh[]; prediction: { sentence: string }; advice: string[]; measure_next: Measure[];
  assumptions: Assumption[]; warnings: string[];
}
export interface PedalTest {
  actuator: string; hand: boolean; sentence: string; force_n: number[]; before_mm: number[]; after_mm: number[]; without_air_mm: number[];
  gap_s: number; after: { slow_strokes_mm: number[][]; quick_strokes_mm: number[][] };
  hold_force_n: number; hold_s: number; sink_before_mm: number; sink_mm: number; split_force_n: number;
  split: { cause: string; place: string; travel_mm: number }[]; air_cost: { place: string; travel_mm_per_ml: number }[];
}

export interface Place { volume?: number; port?: number; junction?: number }
export interface Layout {
  circuits: number;
  volumes: {
    name: string; place: string; circuit: number; height_m: number; ahead_m: number; outboard_m: number; radius_m: number;
    content_ml: number; ports: { name: string; clock_deg: number; radial: number; rise_m: number; diameter_mm: number }[];
  }[];
  lines: {
    name: string; circuit: number; from: Place | null; to: Place | null; length_m: number; bore_mm: number; content_ml: number;
    hose: boolean; heights: [number, number][];
  }[];
  screws: { name: string; wheel: string; circuit: number; at: Place; height_m: number; path_m: number }[];
  reservoirs: { name: string; capacity_ml: number; initial_ml: number; area_cm2: number; floor_m: number }[];
  actuators: { name: string; hand: boolean; pistons: { volume: number; reservoir: number | null; inlet: number | null }[] }[];
  junctions: { name: string; height_m: number; ahead_m: number; outboard_m: number }[];
  hose: { length_m: number; bore_mm: number; submerged: boolean };
}

/** Begin, end and share of gas, again and again, in thousandths. */
export type Stretches = number[];
/** An instant of a film; keys as in analysis/sheet/replay_json.hpp. */
export interface Instant {
  t: number; k: number; n: number; e: number; o: number; s: number | null; a: number[]; r: number[]; p: number[];
  w: [number, number]; h: Stretches; v: Record<number, [number, number, number, number]>; l: Record<number, Stretches>;
  f: Record<number, number>;
}
export interface StrokeSeen {
  k: number; screw: string; n: number; t_s: number; bubble_seen: boolean; bubbles_ml: number; new_share: number; fluid_ml: number;
}
export interface Film {
  order: string[]; known_as: string[]; best: boolean; worst: boolean; instants: Partial<Instant>[]; strokes: StrokeSeen[];
}
export interface Guide {
  schema: string; version: string; date: string; exercise: boolean;
  scenario: { title: string; file: string; set: string[] };
  scenario_text: string; work: Work; comparison: Comparison; air_start_by_place_ml: ByName;
  pedal_tests: PedalTest[]; layout: Layout; films: Film[];
}

/** Parses one of the page's JSON elements. */
export function embedded<T>(id: string): T {
  return JSON.parse(document.getElementById(id)!.textContent!) as T;
}

/** Instants in full from instants that say only what changed. */
export function whole(film: Film): Instant[] {
  let now = {} as Instant;
  return film.instants.map((change) => {
    now = { ...now, ...change, v: { ...now.v, ...change.v }, l: { ...now.l, ...change.l }, f: { ...now.f, ...change.f } };
    return now;
  });
}
