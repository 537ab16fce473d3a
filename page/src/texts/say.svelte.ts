/** The language of the page. `t()` in a template follows every change of it. English is always there;
 *  Spanish comes as a piece of its own. */
import type { AppTexts } from './app_en';
import { en, type Texts } from './en';

export type LanguageCode = 'en' | 'es';
export const kLanguages: { code: LanguageCode; own: string }[] = [
  { code: 'en', own: 'English' },
  { code: 'es', own: 'Español' },
];

interface Spanish {
  es: Texts;
  app_es: AppTexts;
  /** A sentence of the server; empty where it is not known. */
  spanish: (text: string) => string;
}

const chosen = $state<{ code: LanguageCode }>({ code: 'en' });
let loaded = $state.raw<Spanish | null>(null);

export const language = (): LanguageCode => chosen.code;
export const spanish = (): Spanish | null => loaded;
export const t = (): Texts => (chosen.code === 'es' && loaded ? loaded.es : en);

/** Fetched ahead of need, so that it is there when the server is not. */
export async function load_spanish(): Promise<void> {
  loaded ??= await import('./spanish');
}

/** Stays as it was when the language can't be had: no network, and not fetched before. */
export async function choose_language(code: LanguageCode): Promise<void> {
  if (code === 'es') await load_spanish();
  chosen.code = code;
  if (typeof document !== 'undefined') document.documentElement.lang = code;
}

/** The language the browser asks for, as far as we have it. */
export function browser_language(): LanguageCode {
  const wanted = typeof navigator === 'undefined' ? '' : navigator.language;
  return wanted.toLowerCase().startsWith('es') ? 'es' : 'en';
}

/** `lang` for a sentence of the server, which speaks English; nothing where the page does too. */
export const foreign = (): 'en' | undefined => (chosen.code === 'en' ? undefined : 'en');
