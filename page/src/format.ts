/** Figures as people at the pit read them. What is computed stays SI; here is where kg or lb, mm or
 *  inches, m or feet and the digits are chosen. The decimal sign is a point in every language, for
 *  so it stands on displays, meters and in the tables that are recorded. */

const kPound_kg = 0.45359237; // exact: international yard and pound agreement, 1959
const kInch_mm = 25.4; // exact: the same
const kFoot_m = 0.3048; // exact: the same
/** Conventional value, m/s2 (3rd CGPM, 1901); a plan that knows the site's own says so. */
export const kGravity = 9.80665;
export const kMinus = '\u2212';
const kNarrow = '\u202f'; // narrow no-break space, between digits and before units

/** "12 340", "−1.25"; thousands apart, a true minus. */
export function number(value: number, decimals = 0): string {
  const text = Math.abs(value).toFixed(decimals);
  const [whole = '', fraction] = text.split('.');
  const apart = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, kNarrow) : whole;
  const zero = Number(text) === 0;
  return (value < 0 && !zero ? kMinus : '') + apart + (fraction ? '.' + fraction : '');
}

/** To a number of figures, without an exponent: 0.0123 → "0.012", 1234 → "1200". */
export function figures(value: number, count = 2): string {
  if (value === 0 || !Number.isFinite(value)) return '0';
  const decimals = count - 1 - Math.floor(Math.log10(Math.abs(value)));
  const scale = 10 ** decimals;
  return number(Math.round(value * scale) / scale, Math.max(0, decimals));
}

/** Mass of a force in whole steps: 10 kg or 20 lb unless said, as the answers round it too. */
export function mass_figure(newtons: number, us: boolean, gravity = kGravity, step?: number): string {
  const kg = newtons / gravity;
  const shown = us ? kg / kPound_kg : kg;
  const by = step ?? (us ? 20 : 10);
  return number(Math.round(shown / by) * by);
}

export const mass_unit = (us: boolean): string => (us ? 'lb' : 'kg');

export function mass(newtons: number, us: boolean, gravity = kGravity, step?: number): string {
  return mass_figure(newtons, us, gravity, step) + kNarrow + mass_unit(us);
}

/** What an indicator shows, in kg in the API. */
export function indicated(kg: number, us: boolean, decimals = 0): string {
  return number(us ? kg / kPound_kg : kg, decimals) + kNarrow + mass_unit(us);
}

export const kg_of_lb = (lb: number): number => lb * kPound_kg;
export const lb_of_kg = (kg: number): number => kg / kPound_kg;
export const mm_of_in = (inches: number): number => inches * kInch_mm;
export const in_of_mm = (mm: number): number => mm / kInch_mm;

/** "7.2 mm", or inches in 64ths: "9/32 in". */
export function height(mm: number, us: boolean): string {
  if (!us) return number(mm, Math.abs(mm) < 10 ? 1 : 0) + kNarrow + 'mm';
  return fraction(mm / kInch_mm, 64) + kNarrow + 'in';
}

/** "21.00 m", "68.9 ft". */
export function length(m: number, us: boolean, decimals = 2): string {
  return us
    ? number(m / kFoot_m, Math.max(0, decimals - 1)) + kNarrow + 'ft'
    : number(m, decimals) + kNarrow + 'm';
}

/** A dimension without its unit, as beside a drawing: "7.30". */
export function dimension(m: number, us: boolean): string {
  return us ? number(m / kFoot_m, 1) : number(m, 2);
}

function common_divisor(a: number, b: number): number {
  return b === 0 ? a : common_divisor(b, a % b);
}

/** "2 7/8", "−1/4", "0", to the nearest part. */
export function fraction(value: number, parts: number): string {
  const total = Math.round(Math.abs(value) * parts);
  if (total === 0) return '0';
  const whole = Math.floor(total / parts);
  const rest = total % parts;
  const by = rest === 0 ? 1 : common_divisor(rest, parts);
  const part = rest === 0 ? '' : `${rest / by}/${parts / by}`;
  const size = whole === 0 ? part : part === '' ? `${whole}` : `${whole} ${part}`;
  return (value < 0 ? kMinus : '') + size;
}

/** Turns as they are given: eighths, else sixths, else as many decimals as they have, to three. */
export function turns(value: number): string {
  for (const parts of [8, 6]) {
    if (Math.abs(value * parts - Math.round(value * parts)) < 2e-5) return fraction(value, parts);
  }
  return number(value, 3).replace(/0$/, '');
}

/** "98 %"; never 0 % or 100 %, for nothing is as sure as that. The words come from the texts. */
export function chance(value: number, words: { over_99: string; under_1: string }): string {
  if (value > 0.99) return words.over_99;
  if (value < 0.01) return words.under_1;
  return `${Math.round(100 * value)}${kNarrow}%`;
}

/** "±0.15" for a standard deviation doubled: 95 of 100 lie within. */
export function plus_minus(standard: number, decimals: number): string {
  return '±' + number(2 * standard, decimals);
}

/** "18:04" of "2026-11-25 18:04:11 +01:00", the writer's own clock. */
export function clock(time: string): string {
  return time.slice(11, 16);
}

export function day(time: string): string {
  return time.slice(0, 10);
}

/** "2L" → its partner "2R". */
export function partner(stand: string): string {
  return stand.endsWith('L') ? stand.slice(0, -1) + 'R' : stand.slice(0, -1) + 'L';
}
