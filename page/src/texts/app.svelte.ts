/** Texts of forms, queue and settings, in the language of the page. */
import { app_en, type AppTexts } from './app_en';
import { language, spanish } from './say.svelte';

export const w = (): AppTexts => (language() === 'es' ? (spanish()?.app_es ?? app_en) : app_en);
export type { AppTexts };
