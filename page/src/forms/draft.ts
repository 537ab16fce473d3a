/** What is half typed: kept on the phone at every key, for a phone that locks may drop the page. */
const kPrefix = 'weighwright.draft.';

export interface Draft<T> {
  /** What the asking rested on when it was typed: entries. */
  basis: string;
  what: T;
}

const key_of = (job: string, asked: string): string => `${kPrefix}${job}/${asked}`;

export function load_draft<T>(job: string, asked: string): Draft<T> | null {
  try {
    return JSON.parse(localStorage.getItem(key_of(job, asked)) ?? 'null') as Draft<T> | null;
  } catch {
    return null;
  }
}

export function save_draft<T>(job: string, asked: string, draft: Draft<T>): void {
  try {
    localStorage.setItem(key_of(job, asked), JSON.stringify(draft));
  } catch {
    // No room: what is recorded goes by the queue, only the half-typed form is not kept.
  }
}

export function clear_draft(job: string, asked: string): void {
  try {
    localStorage.removeItem(key_of(job, asked));
  } catch {
    // nothing was kept
  }
}

export function forget_typing(): void {
  try {
    for (const key of Object.keys(localStorage)) {
      if (key.startsWith(kPrefix)) localStorage.removeItem(key);
    }
  } catch {
    // nothing was kept
  }
}
