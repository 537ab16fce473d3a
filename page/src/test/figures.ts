/** Figures of the test as people read them: loads and limits without idle zeros, errors with a sign
 *  and a tenth of the display's step. */
import { kMinus, lb_of_kg, mass_unit, number } from '../format';

const kNarrow = '\u202f';
const kMostDecimals = 3;
const kLarge = 1000; // a tenth is plenty from here

const in_unit = (kg: number, us: boolean): number => (us ? lb_of_kg(kg) : kg);

/** "10000" of 10000.000: what was chosen as a round figure stays one. */
function plain(value: number): string {
  const text = number(value, Math.abs(value) < kLarge ? kMostDecimals : 1);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

export const mass_words = (kg: number, us: boolean): string => plain(in_unit(kg, us)) + kNarrow + mass_unit(us);

/** A tenth of the step shows what lies between two steps. */
export function error_decimals(step_kg: number | null, us: boolean): number {
  const step = in_unit(step_kg ?? 1, us);
  if (!(step > 0)) return 0;
  return Math.min(kMostDecimals, Math.max(0, -Math.floor(Math.log10(step / 10) + 1e-9)));
}

/** "+4", "−12", "0" */
export function signed(value: number, decimals: number): string {
  const text = number(Math.abs(value), decimals);
  if (Number(text.replace(/\s/g, '')) === 0) return text;
  return (value > 0 ? '+' : kMinus) + text;
}

/** Two significant digits (JCGM 100:2008, 7.2.6): "6.2", "12", "120". */
export function two_digits(value: number): string {
  if (!(value > 0)) return number(value, 0);
  const last = Math.floor(Math.log10(value)) - 1;
  const rounded = Math.round(value / 10 ** last) * 10 ** last;
  return number(rounded, Math.max(0, 1 - Math.floor(Math.log10(rounded) + 1e-12)));
}

/** "+4 ± 6.2 kg" */
export function error_words(kg: number, U_kg: number | null, us: boolean, step_kg: number | null): string {
  const decimals = error_decimals(step_kg, us);
  const spread = U_kg === null ? '' : ` ± ${two_digits(in_unit(U_kg, us))}`;
  return signed(in_unit(kg, us), decimals) + spread + kNarrow + mass_unit(us);
}
