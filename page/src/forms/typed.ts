/** Figures as fingers type them: "2 3/4", "-1/8", "1.09". */
import { fraction } from '../format';

const kFraction = /^([+-])?\s*(?:(\d+)\s+)?(\d+)\/(\d+)$/;
const kDecimal = /^[+-]?(?:\d+\.?\d*|\.\d+)$/;

/** null: it is no number. */
export function value_of(typed: string): number | null {
  const text = typed.trim().replace('\u2212', '-');
  if (kDecimal.test(text)) return Number(text);
  const parts = kFraction.exec(text);
  if (!parts) return null;
  const below = Number(parts[4]);
  if (below === 0) return null;
  const size = Number(parts[2] ?? '0') + Number(parts[3]) / below;
  return parts[1] === '-' ? -size : size;
}

/** As a table takes it: the digits as they were typed where it is a decimal number, for the last
 *  digit says how well it was read; a fraction in decimals. null: it is no number. */
export function decimal_of(typed: string): string | null {
  const text = typed.trim().replace('\u2212', '-');
  if (kDecimal.test(text)) {
    const plain = text.replace(/^\+/, '').replace(/\.$/, '');
    return plain.replace(/^(-?)\./, '$10.');
  }
  const value = value_of(text);
  return value === null ? null : String(Math.round(value * 1e6) / 1e6);
}

/** What a key does to what was typed. */
export function after_key(typed: string, key: string): string {
  if (key === 'back') {
    // A fraction goes as one: it came by one key.
    return /\d\/\d$/.test(typed) ? typed.replace(/\s?\d+\/\d+$/, '') : typed.slice(0, -1);
  }
  if (key === 'minus') return typed.startsWith('-') ? typed.slice(1) : `-${typed}`;
  if (key.includes('/')) {
    if (typed.includes('/')) return typed.replace(/\d+\/\d+$/, key);
    if (typed.includes('.')) return typed;
    return /\d$/.test(typed) ? `${typed} ${key}` : typed + key;
  }
  if (typed.includes('/')) return typed;  // nothing follows a fraction
  if (key === '.') return typed.includes('.') ? typed : /\d$/.test(typed) ? `${typed}.` : `${typed}0.`;
  return typed + key;
}

const kPound_kg = 0.45359237;

/** "10000" kg as lb, with as many digits as it had. */
export function in_other_unit(text: string, to_lb: boolean): string {
  const value = value_of(text);
  if (value === null) return text;
  const other = to_lb ? value / kPound_kg : value * kPound_kg;
  return String(Math.round(other * 100) / 100);
}

/** Which parts of a turn an amount is given in: eighths, else sixths; 0: neither. */
export function parts_of_turn(value: number): 8 | 6 | 0 {
  const whole = (parts: number): boolean => Math.abs(value * parts - Math.round(value * parts)) < 2e-5;
  return whole(8) ? 8 : whole(6) ? 6 : 0;
}

/** "3.833333" as fingers would type it: "3 5/6"; what is no such fraction as it stands. */
export function turns_typed(text: string): string {
  const value = value_of(text);
  const parts = value === null ? 0 : parts_of_turn(value);
  if (value === null || parts === 0) return text;
  return fraction(value, parts).replace('\u2212', '-');
}
