/** A sentence of the server in the language of the page, where there is a rule for it; else as it
 *  came, marked as English. A text of several sentences is translated only when each of them can
 *  be: half a text in each language helps nobody. */
import { language, spanish } from './say.svelte';

export interface Said {
  text: string;
  /** "en" where the text is English and the page is not. */
  lang: 'en' | undefined;
}

/** The same sentences go to a terminal, where commands are typed and plans are made of letters. The
 *  page has forms and draws. */
const kForThePage: [RegExp, string][] = [
  [/(^|[.!?] )x: t/g, '$1T'], // a bearing that hangs is marked x on paper
  [/^Record it as a table .+$/, 'Record what was found in the form below.'],
  [
    /^When it is mended: weighwright job add .+; then read again\.$/,
    'When it is mended, tick that below and say what was wrong and what was done; then read again.',
  ],
  [
    /^Looked for by somebody who knows and not found: weighwright job add .+; then (.+)$/,
    'Looked for by somebody who knows and not found: tick that below and say where and by whom; then $1',
  ],
  [
    /^Where the difference is known and accepted: weighwright job add .+$/,
    'Where the difference is known and accepted: tick that below and say why.',
  ],
];

/** A part of a longer sentence that speaks of files and commands. */
const kPartsForThePage: [RegExp, string][] = [
  [
    /read the display before and after; put both into files \(trim,turns and a shift reading\) and run this again\./,
    'read the display before and after, and record both below.',
  ],
];

const for_the_page = (text: string): string =>
  [...kForThePage, ...kPartsForThePage].reduce((said, [pattern, instead]) => said.replace(pattern, instead), text);

export function said(from_server: string): Said {
  const text = for_the_page(from_server);
  if (language() === 'en') return { text, lang: undefined };
  const spoken = spanish()?.spanish(text) ?? '';
  return spoken ? { text: spoken, lang: undefined } : { text, lang: 'en' };
}
