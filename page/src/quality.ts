/** How good a live value is, as a small drawing in a field of 12 by 12: told by shape, not colour.
 *  stable: a filled square that stands on a line; moving: a wave; stale: an empty square; bad: a
 *  cross; unexplained: a triangle with a stroke; silent: two dots. */
import type { Quality } from './api/types';

export interface QualityShape {
  path: string;
  filled: boolean;
  ink: 'good' | 'warn' | 'bad' | 'muted';
}

export const kQualityShapes: Record<Quality, QualityShape> = {
  stable: { path: 'M3 2.5h6v6h-6zM1 11h10', filled: true, ink: 'good' },
  moving: { path: 'M1 7.5C2.5 2.5 4.5 2.5 6 6.5S9.5 10.5 11 5.5', filled: false, ink: 'warn' },
  stale: { path: 'M2.5 2.5h7v7h-7z', filled: false, ink: 'muted' },
  bad: { path: 'M2.5 2.5l7 7M9.5 2.5l-7 7', filled: false, ink: 'bad' },
  unexplained: { path: 'M6 1.5L11 10.5H1zM6 4.6v2.6M6 8.6v.6', filled: false, ink: 'bad' },
  silent: { path: 'M2.5 6h1.2M8.3 6h1.2', filled: false, ink: 'muted' },
};
