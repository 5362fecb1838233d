// A film on the clock of the replay: waiting between strokes is cut short.
import { whole, type Film, type Instant, type StrokeSeen } from "./data";

const longest_pause = 0.7;

export class Reel {
  readonly instants: Instant[];
  readonly strokes: StrokeSeen[];
  /** Replay time of each instant [s]. */
  readonly times: number[] = [0];
  /** Strokes of the whole job that are over at each instant. */
  readonly done: number[] = [];
  readonly total: number;

  constructor(readonly film: Film) {
    this.instants = whole(film);
    this.strokes = film.strokes;
    this.total = film.strokes.length;
    this.instants.forEach((now, i) => {
      if (i > 0) this.times.push(this.times[i - 1]! + Math.min(now.t - this.instants[i - 1]!.t, longest_pause));
      this.done.push((this.done[i - 1] ?? 0) + now.e);
    });
  }

  get length(): number { return this.times.at(-1)!; }

  /** Last instant at or before a time. */
  index_at(time: number): number {
    let low = 0, high = this.times.length - 1;
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if (this.times[middle]! <= time + 1e-9) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** Time at which `done` strokes are over; 0: the start; beyond the last: the end. */
  time_of_stroke(done: number): number {
    if (done <= 0) return 0;
    if (done > this.total) return this.length;
    return this.times[this.instants.findIndex((now, i) => now.e === 1 && this.done[i] === done)]!;
  }

  air(i: number): number { return this.instants[i]!.a.reduce((x, y) => x + y, 0); }

  /** The last stroke that is over, within the visit of an instant. */
  last_stroke(i: number): StrokeSeen | undefined {
    const stroke = this.strokes[this.done[i]! - 1];
    return stroke && stroke.k === this.instants[i]!.k ? stroke : undefined;
  }

  /** Fluid in the bottle after the strokes that are over [mL]. */
  bottle(i: number): number {
    return this.strokes.slice(0, this.done[i]!).reduce((sum, stroke) => sum + Math.max(0, stroke.fluid_ml), 0);
  }
}
