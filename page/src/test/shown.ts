/** What typed figures of a placement amount to, before the server judges them. */
import { value_of } from '../forms/typed';

export interface AsShown {
  /** The error as shown, or how far the display moved. */
  kind: 'error' | 'moved';
  value: number;
}

/** Material of unknown mass, or small weights that find where the display changes over: what they make
 *  of the indication is worked out when it is recorded. */
export const works_out = (values: Record<string, string>): boolean =>
  ['material', 'added', 'added_kg', 'added_lb'].some((name) => (values[name] ?? '') !== '');

/** E = I - Z - L (OIML R 76-1:2006, T.5.5.1, A.4.4.3); with an unknown load before it E = I - S - L; of discrimination how far it moved.
 *  Every figure in one unit, which is that of the answer. null: too little is typed, or more
 *  stands there (works_out).
 *  @param values  of the columns: load_kg or load_lb, zero_before, start, indication_.., then */
export function as_shown(check: string, values: Record<string, string>): AsShown | null {
  const figure = (...names: string[]): number | null => {
    const text = names.map((name) => values[name] ?? '').find((one) => one !== '');
    return text === undefined ? null : value_of(text);
  };
  const indication = figure('indication_kg', 'indication_lb');
  if (indication === null) return null;
  if (check === 'discrimination') {
    const then = figure('then');
    return then === null ? null : { kind: 'moved', value: then - indication };
  }
  const load = figure('load_kg', 'load_lb');
  if (load === null || works_out(values)) return null;
  const before = check === 'strain' ? figure('start') : (figure('zero_before') ?? 0);
  return before === null ? null : { kind: 'error', value: indication - before - load };
}

/** On the limit is inside it. null: it has no limit of its own. */
export function inside(value: number, limit: number | null): boolean | null {
  const kRounding = 1e-6; // decimals typed are not all binary fractions
  return limit === null ? null : Math.abs(value) <= limit + kRounding;
}
