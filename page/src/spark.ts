/** The course of a live value as pieces of one line: a piece ends where the quality changes, and
 *  where values are missing. */
import type { Quality } from './api/types';
import type { CoursePoint } from './course.svelte';

export interface SparkPiece {
  quality: Quality;
  path: string;
}

export interface Spark {
  pieces: SparkPiece[];
  /** The last value, where it lies; null: there is none. */
  end: { x: number; y: number } | null;
  low: number;
  high: number;
}

const round = (value: number) => Math.round(value * 10) / 10;

/** @param least_span  height of the drawing in the value's unit, at least */
export function spark(
  points: CoursePoint[],
  width: number,
  height: number,
  span_ms: number,
  least_span: number,
): Spark {
  const known = points.filter((p) => p.value !== null);
  const last_ms = points[points.length - 1]?.at_ms ?? 0;
  const values = known.map((p) => p.value as number);
  if (values.length === 0) return { pieces: [], end: null, low: 0, high: 0 };
  let low = Math.min(...values);
  let high = Math.max(...values);
  const missing = least_span - (high - low);
  if (missing > 0) {
    low -= missing / 2;
    high += missing / 2;
  }
  const x = (at_ms: number) => round(width * (1 - (last_ms - at_ms) / span_ms));
  const y = (value: number) => round(height * (1 - (value - low) / (high - low || 1)));
  const pieces: SparkPiece[] = [];
  let before: CoursePoint | null = null;
  for (const point of points) {
    if (point.value === null) {
      before = null;
      continue;
    }
    const place = `${x(point.at_ms)} ${y(point.value)}`;
    const piece = pieces[pieces.length - 1];
    if (before && piece && piece.quality === point.quality) {
      piece.path += `L${place}`;
    } else {
      const from = before && before.value !== null ? `${x(before.at_ms)} ${y(before.value)}` : null;
      pieces.push({ quality: point.quality, path: from ? `M${from}L${place}` : `M${place}L${place}` });
    }
    before = point;
  }
  const last = known[known.length - 1];
  const end = last ? { x: x(last.at_ms), y: y(last.value as number) } : null;
  return { pieces, end, low, high };
}
