import { w } from '../texts/app.svelte';
import { t } from '../texts/say.svelte';

/** "bearing1R" in words, "pass 1-2" in words, "2L" as it is; a row without a name by its number. */
export function name_of_row(key: string, index: number): string {
  const bearing = /^bearing(\d+)([LR])$/.exec(key);
  if (bearing) return t().belief.bearing(bearing[1] ?? '', bearing[2] === 'L' ? t().words.left : t().words.right);
  return w().choices[key] ?? (key || w().form.row(index + 1));
}
