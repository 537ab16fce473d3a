/** What this phone remembers of how its owner likes to read. */
export type Theme = 'light' | 'dark' | 'sun';
export const kThemes: Theme[] = ['light', 'dark', 'sun'];

export interface Settings {
  theme: Theme;
  /** null: as the browser says. */
  language: string | null;
  /** null: as the deck file says. */
  us: boolean | null;
  /** Stands in the journal beside what is typed here. */
  author: string;
  /** Who records was asked, and answered with "later" or by recording without a name. */
  asked_who: boolean;
  /** The visit (name of its entry) for which the author was confirmed. */
  author_visit: string;
  /** Keep the screen on while measuring. */
  awake: boolean;
  /** Say typed figures back. */
  aloud: boolean;
}

const kKey = 'weighwright.settings';

function theme_of_device(): Theme {
  return matchMedia('(prefers-contrast: more)').matches
    ? 'sun'
    : matchMedia('(prefers-color-scheme: dark)').matches
      ? 'dark'
      : 'light';
}

export function load_settings(): Settings {
  const first: Settings = {
    theme: theme_of_device(),
    language: null,
    us: null,
    author: '',
    asked_who: false,
    author_visit: '',
    awake: true,
    aloud: false,
  };
  try {
    const kept = JSON.parse(localStorage.getItem(kKey) ?? '{}') as Partial<Settings>;
    const merged = { ...first, ...kept };
    if (!kThemes.includes(merged.theme)) merged.theme = first.theme;
    return merged;
  } catch {
    return first;
  }
}

export function save_settings(settings: Settings): void {
  try {
    localStorage.setItem(kKey, JSON.stringify(settings));
  } catch {
    // Not allowed here: the choice holds as long as the page does.
  }
}
