/** The last half minute of every live value, for the sparklines. Whoever listens to the events notes
 *  what came; nothing is kept longer. */
import type { Live, Quality } from './api/types';

export interface CoursePoint {
  at_ms: number; // the page's clock
  value: number | null;
  quality: Quality;
}

export const kCourse_ms = 30_000;

const courses = $state<Record<string, CoursePoint[]>>({});

/** @param at_ms  when it came, by the page's clock (performance.now or Date.now, always the same) */
export function note_course(live: Live, at_ms: number): void {
  for (const value of live.values) {
    const kept = (courses[value.place] ?? []).filter((p) => at_ms - p.at_ms <= kCourse_ms);
    kept.push({ at_ms: at_ms - Math.min(value.age_ms, kCourse_ms), value: value.value, quality: value.quality });
    courses[value.place] = kept;
  }
}

export const course_of = (place: string): CoursePoint[] => courses[place] ?? [];

export function forget_courses(): void {
  for (const place of Object.keys(courses)) delete courses[place];
}
