/** What is half typed: kept on the phone at every key, for a phone that locks may drop the page. It
 *  belongs to one journal (Site.journal) and comes up in no form of another: many sites are called
 *  site.job, and are served from one port. */
const kPrefix = 'weighwright.typed.';
/** Of an earlier version of the page, which knew a site by its file's name alone. */
const kOldPrefix = 'weighwright.draft.';
const kNote = 'note';

export interface Draft<T> {
  /** What the asking rested on when it was typed: entries. */
  basis: string;
  what: T;
}

const key_of = (journal: string, asked: string): string => `${kPrefix}${journal}/${asked}`;

export function load_draft<T>(journal: string, asked: string): Draft<T> | null {
  try {
    return JSON.parse(localStorage.getItem(key_of(journal, asked)) ?? 'null') as Draft<T> | null;
  } catch {
    return null;
  }
}

export function save_draft<T>(journal: string, asked: string, draft: Draft<T>): void {
  if (journal === '') return;  // whose it is can't be said: it would come up somewhere else
  try {
    localStorage.setItem(key_of(journal, asked), JSON.stringify(draft));
  } catch {
    // No room: what is recorded goes by the queue, only the half-typed form is not kept.
  }
}

export function clear_draft(journal: string, asked: string): void {
  try {
    localStorage.removeItem(key_of(journal, asked));
  } catch {
    // nothing was kept
  }
}

/** The note that is being written, of a site. */
export const load_note = (journal: string): string => load_draft<string>(journal, kNote)?.what ?? '';
export function save_note(journal: string, text: string): void {
  if (text === '') clear_draft(journal, kNote);
  else save_draft<string>(journal, kNote, { basis: '', what: text });
}

function keys(prefix: string): string[] {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(prefix));
  } catch {
    return [];
  }
}

/** How many forms an earlier version of the page kept half typed; nobody but the person knows of
 *  which site. */
export const count_old_drafts = (): number =>
  keys(kOldPrefix).filter((key) => localStorage.getItem(key) !== '').length;

/** They belong to this journal, the person says. What is half typed there already is not lost: then
 *  the old one stays where it is. */
export function adopt_old_drafts(journal: string): void {
  for (const key of keys(kOldPrefix)) {
    const rest = key.slice(kOldPrefix.length);
    const asked = rest.includes('/') ? rest.slice(rest.indexOf('/') + 1) : rest;
    const kept = localStorage.getItem(key) ?? '';
    if (localStorage.getItem(key_of(journal, asked)) !== null) continue;
    try {
      // The note was kept as its bare text.
      const text = rest.includes('/') ? kept : JSON.stringify({ basis: '', what: kept });
      localStorage.setItem(key_of(journal, asked), text);
      localStorage.removeItem(key);
    } catch {
      return;  // no room: they stay as they are
    }
  }
}

export function discard_old_drafts(): void {
  for (const key of keys(kOldPrefix)) localStorage.removeItem(key);
}

export function forget_typing(): void {
  for (const key of [...keys(kPrefix), ...keys(kOldPrefix)]) localStorage.removeItem(key);
}
