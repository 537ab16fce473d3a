/** Places on a logarithmic scale, and where its ticks lie. */

export interface LogScale {
  low: number;
  high: number;
  /** 0 to 100 */
  at: (value: number) => number;
  ticks: number[];
}

const kSteps = [1, 2, 5];

/** The scale from a 1-2-5 step below the smallest to one above the largest.
 *  @pre every value is positive */
export function log_scale(values: number[]): LogScale {
  const least = Math.min(...values);
  const most = Math.max(...values);
  const ticks: number[] = [];
  for (let decade = Math.floor(Math.log10(least)) - 1; decade <= Math.log10(most) + 1; ++decade) {
    for (const step of kSteps) ticks.push(step * 10 ** decade);
  }
  const first = ticks.filter((tick) => tick <= least * 1.0001).length - 1;
  const last = ticks.findIndex((tick) => tick >= most * 0.9999);
  const shown = ticks.slice(Math.max(0, first), last + 1);
  const low = shown[0] ?? least;
  const high = shown[shown.length - 1] ?? most;
  const span = Math.log(high / low) || 1;
  return { low, high, ticks: shown, at: (value) => (100 * Math.log(value / low)) / span };
}
