/** What is recorded, beside a live value that is taken over, of how well it was read. */
import type { FormKind, LiveValue } from '../api/types';

/** In the unit of the column; empty: nothing to say. */
export interface Taken {
  resolution: string;
  noise: string;
}

/** Of the last digit that is shown: "1.0871" is 0.0001. */
function last_digit(shown: string): number {
  return Number(`1e-${shown.split('.')[1]?.length ?? 0}`);
}

/** What goes into the journal of how well a value was read, by what the table has columns for. */
export function quality_of(
  form: FormKind,
  live: Pick<LiveValue, 'resolution' | 'noise' | 'u_mean' | 'shown_mean'>,
  averaged: boolean,
): { resolution: number | null; noise: number | null } {
  if (form === 'readings') {
    // The uncertainty of a mean holds its rounding already.
    if (averaged) return { resolution: null, noise: live.u_mean };
    return { resolution: live.resolution, noise: live.noise };
  }
  if (!['shift', 'loads', 'zeros', 'proof'].includes(form)) return { resolution: null, noise: null };
  if (!averaged) return { resolution: live.resolution, noise: null };
  // There is no column for noise: a step whose rounding is as uncertain as the mean (a step evenly
  // spread has a standard deviation of step / sqrt(12), JCGM 100:2008, 4.3.7).
  const alike = Math.min(live.resolution, (live.u_mean ?? 0) * Math.sqrt(12));
  return { resolution: Math.max(alike, last_digit(live.shown_mean)), noise: null };
}
