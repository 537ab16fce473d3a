/** What is said of live values, and of what is asked for again before it is recorded, in Spanish. */
import type { Rule } from './said_es';

const kParts: Record<string, string> = { tenth: 'décima', hundredth: 'centésima', thousandth: 'milésima' };
const confirmed = '; si de verdad es así, anótelo otra vez como confirmado';

function likely(text: string): string {
  const words = /^with its two words exchanged it would be (.+): word_order is likely wrong$/.exec(text);
  if (words) return `con sus dos palabras cambiadas sería ${words[1]}: seguramente word_order está mal`;
  const part = /^a (tenth|hundredth|thousandth) of it would fit: is the scale right, and the register\?$/.exec(text);
  if (part) return `encajaría una ${kParts[part[1] ?? ''] ?? part[1]} parte: ¿son correctos la escala (scale) y el registro?`;
  return text === 'is it the right register, and its type?' ? '¿es el registro correcto, y su tipo?' : '';
}

export const kLiveRules: Rule[] = [
  [/^listening$/, () => 'escuchando'],
  [/^the instrument says that it moves$/, () => 'el instrumento dice que se mueve'],
  [/^it moves by more than its noise$/, () => 'se mueve más que su ruido'],
  [/^it moves by more than two values of its display$/, () => 'se mueve más de dos valores de su pantalla'],
  [/^it never stands still: what it scatters by is no noise$/, () => 'no se para nunca: lo que oscila no es ruido'],
  [/^it drifts$/, () => 'deriva'],
  [/^no value yet$/, () => 'todavía sin valor'],
  [/^nothing new since then$/, () => 'nada nuevo desde entonces'],
  [/^no load on this deck explains it$/, () => 'ninguna carga sobre esta báscula lo explica'],
  [
    /^(\S+) (\S+) is (more|less) than deck and cells can give \((\S+) \S+\); (.+)$/,
    ([value, unit, more, most, why]) => {
      const reason = likely(why ?? '');
      return reason && `${value} ${unit} es ${more === 'more' ? 'más' : 'menos'} de lo que báscula y celdas pueden dar (${most} ${unit}); ${reason}`;
    },
  ],
  [
    /^(\S+) (\S+) is smaller than anything that is measured; (.+)$/,
    ([value, unit, why]) => {
      const reason = likely(why ?? '');
      return reason && `${value} ${unit} es menos que cualquier cosa que se mida; ${reason}`;
    },
  ],
  [
    /^(\S+) (\S+) is no figure of this display; (.+)$/,
    ([value, unit, why]) => {
      const reason = likely(why ?? '');
      return reason && `${value} ${unit} no es una cifra de esta pantalla; ${reason}`;
    },
  ],
  [
    /^the register holds (\S+), smaller than anything that is measured: type or word order is wrong$/,
    ([value]) => `el registro contiene ${value}, menos que cualquier cosa que se mida: el tipo o el orden de palabras está mal`,
  ],
  [/^no load on this deck explains an indication of (.+)$/, ([figure]) => `ninguna carga sobre esta báscula explica una indicación de ${figure}`],
  [/^(\S+): (.+) is more than a cell gives$/, ([stand, figure]) => `${stand}: ${figure} es más de lo que da una celda`],
  [/^a figure up to Max, (.+); if it really is so, record it once more as confirmed$/, ([most]) => `una cifra hasta Max, ${most}${confirmed}`],
  [
    /^(.+) at most, one and a half times its rated output; if it really is so, record it once more as confirmed$/,
    ([most]) => `${most} como mucho, vez y media su salida nominal${confirmed}`,
  ],
  [
    /^this was typed for another journal \((\S+)\) than the one that is open here \((.+)\); nothing was recorded$/,
    ([theirs, ours]) => `esto se escribió para otro diario (${theirs}) que el que está abierto aquí (${ours?.replace('whose beginning is lost', 'cuyo comienzo se perdió')}); no se anotó nada`,
  ],
  [/^the program serving the journal that it was typed for$/, () => 'el programa que sirve el diario para el que se escribió'],
];
