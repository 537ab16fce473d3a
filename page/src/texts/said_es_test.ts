/** What the server says of the test by a rulebook, in Spanish. Clauses stay as they are cited. */
import type { Rule } from './said_es';
import { test_es } from './test_es';

/** Names of the built-in rulebooks, and of checks that they do not name. */
const kNames: Record<string, string> = {
  'Zero-load balance': 'zero',
  'Zero setting': 'zero',
  Zero: 'zero',
  'Load over each support': 'eccentric',
  'Eccentric load': 'eccentric',
  'Shift (section) test': 'section',
  'Section test': 'section',
  'Rolling load': 'rolling',
  'Increasing-load test': 'increasing',
  'Increasing load': 'increasing',
  'Decreasing-load test': 'decreasing',
  'Decreasing load': 'decreasing',
  Repeatability: 'repeatability',
  Discrimination: 'discrimination',
  'Strain-load test': 'strain',
  'Strain load': 'strain',
  'Load between stands': 'midspan',
  'Accuracy of tare': 'tare',
  'Displays and printer agree': 'indications',
  'Range of zero setting': 'zero_range',
  'Greatest indication': 'overload',
};

const kReasons: Record<string, string> = {
  "half of the section's load on one side": 'la mitad de la carga de la sección a un lado',
  'one pass each way: the error must not turn with the way of driving on':
    'una pasada en cada sentido: el error no debe cambiar con el sentido de entrada',
  'a heavy load between the stands: what touches there no other test sees':
    'una carga pesada entre los apoyos: lo que toca allí no lo ve ningún otro ensayo',
  'the deck empty, after three to five loaded passes each way with braking':
    'el puente vacío, tras de tres a cinco pasadas cargadas en cada sentido, frenando',
  'known weights on top of a lorry, together as near to Max as is used':
    'pesas conocidas junto a un camión, en total tan cerca de Max como se usa',
  'a small load must move the display': 'una carga pequeña debe mover la indicación',
  'material in the place of the weights, until the display shows the same':
    'material en lugar de las pesas, hasta que se indique lo mismo',
  'a load of the way up, going down': 'una carga de la subida, bajando',
  'other pieces in the place of those that lie there': 'otras piezas en lugar de las que están',
};

/** How the built-in rulebooks begin what they say of an occasion. */
const kOccasions: Record<string, string> = {
  'placed in service': 'new',
  'returned to service after a rejection': 'after_rejection',
  'after a major': 'overhaul',
  'adjusted in service': 'adjusted',
  'routine inspection in service': 'routine',
  'as found, before anything is adjusted': 'as_found',
  'type examination': 'type',
  'type evaluation': 'type',
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const phase = (text: string): string => (text === 'as left' ? 'como queda' : 'como se encontró');
const where = (text: string): string => test_es.where(text);

/** "Eccentric load over 3R" */
function place_of(text: string): string {
  const name = Object.keys(kNames).find((one) => text === one || text.startsWith(`${one} `) || text.startsWith(`${one},`));
  if (!name) return '';
  const rest = text.slice(name.length).replace(', greatest less least', ', la mayor menos la menor').replace(/, (.*) added/, ', $1 añadidos');
  return (test_es.checks[kNames[name] ?? ''] ?? name) + where(rest.replace('after the load came off, told only', 'al quitar la carga, solo se anota').replace('after the load came off', 'al quitar la carga').replace('from the set-up', 'según la configuración').replace('with a signal simulator', 'con un simulador de señal'));
}

/** "Eccentric load over 3R; Zero; and 2 more" */
function places_of(list: string): string {
  const spoken = list.split('; ').map((one) => {
    const more = /^and (\d+) more$/.exec(one);
    return more ? `y ${more[1]} más` : place_of(one);
  });
  return spoken.every(Boolean) ? spoken.join('; ') : '';
}

/** "30 t (W*30) rolled on and stopped, over section 2, going to end 2" */
function load_of(text: string): string {
  return where(text.replace('rolled on and stopped', 'en marcha y parada'));
}

function reason(text: string): string {
  const plain = text.charAt(0).toLowerCase() + text.slice(1);
  const leaned = /^what fewer weights rest on: about as much as the weights, (\d+) times$/.exec(plain);
  if (leaned) return `De ello depende que basten menos pesas: más o menos tanto como las pesas, ${leaned[1]} veces`;
  const times = /^the same load (\d+) times$/.exec(plain);
  if (times) return `La misma carga ${times[1]} veces`;
  const known = kReasons[plain];
  return known ? capital(known) : /^\(Max/.test(text) ? text : '';
}

const kMissing: [RegExp, (found: string[]) => string][] = [
  [/^not done$/, () => 'sin hacer'],
  [/^not read (.+)$/, ([at = '']) => `sin leer ${where(at)}`],
  [/^not read on the empty deck, or near zero$/, () => 'sin leer con el puente vacío o cerca de cero'],
  [/^no reading near (.+)$/, ([load]) => `ninguna lectura cerca de ${load}`],
  [/^too few weighings(?: of (.+))?$/, ([load]) => `muy pocas pesadas${load ? ` de ${load}` : ''}`],
  [/^can't be judged, the concentrated load capacity \(CLC\) is not marked$/, () => 'no se puede juzgar, la capacidad de carga concentrada (CLC) no está marcada'],
  [/^nobody looked at it$/, () => 'nadie lo comprobó'],
  [/^looked at too coarsely to be judged; small weights, or a finer step$/, () => 'comprobado con demasiada poca resolución para juzgarlo; pesas pequeñas o un escalón más fino'],
  [/^not asked of a digital display on this occasion$/, () => 'no se pide a un indicador digital en esta ocasión'],
  [/^zero was not read$/, () => 'no se leyó el cero'],
  [/^nobody says which weights stood there$/, () => 'no se dice qué pesas había'],
  [/^less than the standards that are needed \((.+)\)$/, ([load]) => `menos patrones de los necesarios (${load})`],
  [/^the loads that went up were not read coming down$/, () => 'las cargas que subieron no se leyeron bajando'],
];

function missing_of(name: string, what: string): string {
  const check = place_of(name);
  if (!check) return '';
  const apart = /^(.*), range (\d+)( \(.*\))?$/.exec(what);
  if (apart) {
    const rest = missing_of(name, `${apart[1]}${apart[3] ?? ''}`);
    return rest && `${rest}, rango ${apart[2]}`;
  }
  for (const [pattern, speak] of kMissing) {
    const found = pattern.exec(what);
    if (found) return `${check}: ${speak(found.slice(1))}`;
  }
  return '';
}

const doubted = (n: string, of: string): string => `; U pasa de un tercio del límite en ${n} de ${of} líneas`;

/** "of 17 lines 14 pass, 2 conditional pass, 1 conditional fail, 0 fail" */
function counted(counts: string): string {
  const found = /^of (\d+) lines (\d+) pass, (\d+) conditional pass, (\d+) conditional fail, (\d+) fail$/.exec(counts);
  if (!found) return counts;
  const [, of, pass, maybe, hardly, fail] = found;
  return `de ${of} líneas ${pass} cumplen, ${maybe} cumplen condicionalmente, ${hardly} no cumplen condicionalmente, ${fail} no cumplen`;
}

export const kTestRules: Rule[] = [
  [/^Nobody said yet what the test is for\.$/, () => 'Nadie ha dicho todavía para qué es el ensayo.'],
  [/^No test weights are on record\.$/, () => 'No hay pesas de ensayo anotadas.'],
  [/^No rulebook\.$/, () => 'No hay reglamento.'],
  [/^Placement (\d+) of (\d+) is not read\.$/, ([n, of]) => `La colocación ${n} de ${of} está sin leer.`],
  [/^No report was issued since the test\.$/, () => 'Desde el ensayo no se ha emitido ningún informe.'],
  [/^Report (\S+)\.$/, ([n]) => `Informe ${n}.`],
  [/^THIS TEST CAN'T BE MADE AS IT STANDS\.$/, () => 'ESTE ENSAYO NO SE PUEDE HACER TAL COMO ESTÁ.'],
  [/^Ready for the authority, whose word it is\.$/, () => 'Lista para la autoridad, que es quien decide.'],
  [/^The rulebook's numbers were not compared with print\.$/, () => 'Los números del reglamento no se cotejaron con el impreso.'],
  [
    /^The rulebook's numbers were not compared with print, and the report carries them as a list\.$/,
    () => 'Los números del reglamento no se cotejaron con el impreso, y el informe los lleva como lista.',
  ],
  [
    /^To compare them with your own edition: report JOB --kind rules, then job add JOB --entry rules_confirmed\.$/,
    () => 'Para cotejarlos con su edición: descargar la lista del reglamento, marcarla y anotar quién la cotejó.',
  ],
  [
    /^WITHIN THE LIMITS, (as left|as found)(, the guard band taken off)?(?:: (of .+))?(; U is above a third of the limit at (\d+) of (\d+) lines)?\.$/,
    ([how = '', band, counts = '', doubt, n = '', of = '']) =>
      `DENTRO DE LOS LÍMITES, ${phase(how)}${band ? ', descontada la reserva' : ''}${counts ? `: ${counted(counts)}` : ''}${doubt ? doubted(n, of) : ''}.`,
  ],
  [/^CONDITIONAL PASS, (as left|as found): (of .+)\.$/, ([how = '', counts = '']) => `CUMPLE CONDICIONALMENTE, ${phase(how)}: ${counted(counts)}.`],
  [/^CONDITIONAL FAIL, (as left|as found): (of .+)\.$/, ([how = '', counts = '']) => `NO CUMPLE CONDICIONALMENTE, ${phase(how)}: ${counted(counts)}.`],
  [
    /^NOT ACCEPTED, (as left|as found): (\d+) of (\d+) lines are within the limit, inside the guard band; none is beyond its limit\.$/,
    ([how = '', n, of]) => `NO ACEPTADO, ${phase(how)}: ${n} de ${of} líneas están dentro del límite, en la reserva; ninguna pasa de su límite.`,
  ],
  [/^Ready for the authority, whose word it is\.$/, () => 'Lista para la autoridad, que es quien decide.'],
  [
    /^NOT WITHIN THE LIMITS, (as left|as found)(?:: (\d+) of (\d+) lines)?(; U is above a third of the limit at (\d+) of (\d+) lines)?\.$/,
    ([how = '', n, of, doubt, m = '', all = '']) =>
      `FUERA DE LOS LÍMITES, ${phase(how)}${n ? `: ${n} de ${of} líneas` : ''}${doubt ? doubted(m, all) : ''}.`,
  ],
  [
    /^NOT WITHIN THE LIMITS, (as left|as found): (of .+)\.$/,
    ([how = '', counts = '']) => `FUERA DE LOS LÍMITES, ${phase(how)}: ${counted(counts)}.`,
  ],
  [
    /^NOT WITHIN THE LIMITS, (as left|as found): (\d+) of (\d+) lines are beyond the limit, (\d+) not accepted \(within the limit, inside the guard band\)\.$/,
    ([how = '', n, of, inside]) =>
      `FUERA DE LOS LÍMITES, ${phase(how)}: ${n} de ${of} líneas pasan del límite, ${inside} no aceptadas (dentro del límite, en la reserva).`,
  ],
  [
    /^INCOMPLETE, (as left|as found): no verdict until what is missing is done\.$/,
    ([how = '']) => `INCOMPLETO, ${phase(how)}: no hay veredicto hasta que se haga lo que falta.`,
  ],
  [
    /^INCOMPLETE, (as left|as found): nobody knows whether the results came before an adjustment\.$/,
    ([how = '']) => `INCOMPLETO, ${phase(how)}: no se sabe si los resultados son anteriores a un ajuste.`,
  ],
  [
    /^Results and an adjustment were made apart, and nobody knows which came first: read again, or settle the two entries\.$/,
    () => 'Hay resultados y un ajuste hechos por separado, y no se sabe cuál fue primero: leer otra vez, o aclarar las dos anotaciones.',
  ],
  [
    /^REFUSED: the results are older than the last span or trim\.$/,
    () => 'RECHAZADO: los resultados son anteriores al último ajuste de span o de esquinas.',
  ],
  [/^Test again\.$/, () => 'Ensayar otra vez.'],
  [/^Read zero before\.$/, () => 'Leer el cero antes.'],
  [/^Read zero before, and again when the load is off\.$/, () => 'Leer el cero antes, y otra vez al quitar la carga.'],
  [/^Read zero when the load is off\.$/, () => 'Leer el cero al quitar la carga.'],
  [
    /^Failed already: (.+)\. Adjust first, unless this is to be read as found\.$/,
    ([list = '']) => {
      const places = places_of(list);
      return places && `Ya no cumple: ${places}. Ajustar antes, salvo que se quiera leer como se encontró.`;
    },
  ],
  [
    /^Inside the guard band: (.+)\.$/,
    ([list = '']) => {
      const places = places_of(list);
      return places && `En la reserva: ${places}.`;
    },
  ],
  [
    /^Bring the error nearer to zero \(corners, span\) and test again; or make U smaller: the budget names the term that leads\.$/,
    () => 'Acercar el error a cero (esquinas, span) y ensayar otra vez; o reducir U: el balance nombra el término que más pesa.',
  ],
  [
    /^Where the customer takes it as it stands, issue the report: it says by which rule, and at how many lines\.$/,
    () => 'Si el cliente lo acepta así, emitir el informe: dice con qué regla y en cuántas líneas.',
  ],
  [
    /^Beyond its limit: (.+)\.$/,
    ([list = '']) => {
      const places = places_of(list);
      return places && `Fuera de su límite: ${places}.`;
    },
  ],
  [
    /^Places that differ are a matter of corners; all loads off by one fraction of span; a zero that does not return, up and down that differ, repeats that scatter of a cause to be found\.$/,
    () =>
      'Si los sitios difieren es cosa de esquinas; si todas las cargas yerran en la misma proporción, de span; un cero que no vuelve, subida y bajada distintas o repeticiones dispersas tienen una causa que buscar.',
  ],
  [
    /^Read the corners, or known loads, again: what follows from them comes next\.$/,
    () => 'Leer otra vez las esquinas o cargas conocidas: de ahí sale lo que sigue.',
  ],
  [
    /^What was tested before an adjustment does not count after it\.$/,
    () => 'Lo ensayado antes de un ajuste no cuenta después.',
  ],
  [
    /^Empty deck: set zero, then read it(?:: within (.+))?\.$/,
    ([limit]) => `Puente vacío: poner a cero y leer${limit ? `: dentro de ${limit}` : ''}.`,
  ],
  [
    /^(Empty deck|.+ on the deck): read, add (.+) gently, read again: the display must move by (.+) or more\.$/,
    ([load = '', added, by]) =>
      `${load === 'Empty deck' ? 'Puente vacío' : load.replace(' on the deck', ' sobre el puente')}: leer, añadir ${added} con suavidad, leer otra vez: la indicación debe cambiar en ${by} o más.`,
  ],
  [
    /^An unknown load on the deck is read, then (.+) beside it(?:: within (.+))?\.$/,
    ([load = '', limit]) =>
      `Se lee una carga desconocida sobre el puente y luego ${load_of(load)} a su lado${limit ? `: dentro de ${limit}` : ''}.`,
  ],
  [
    /^(\d[\d.\u202f ]* (?:t|kg|lb)\b[^:]*): within (.+)\.$/,
    ([load = '', limit]) => `${load_of(load)}: dentro de ${limit}.`,
  ],
  [
    /^(.+?) \(([^()]*(?:\([^()]*\)[^()]*)*)\)\.$/,
    ([because = '', clause]) => {
      const spoken = reason(because);
      return spoken && `${spoken} (${clause}).`;
    },
  ],
  [/^(.+)\.$/, ([because = '']) => reason(because) && `${reason(because)}.`],
  [
    /^No part of this test: ([A-Z][A-Za-z() -]+): ([^.]+?)\.$/,
    ([name = '', what = '']) => {
      const text = missing_of(name, what);
      return text && `No forma parte de este ensayo: ${text}.`;
    },
  ],
  [
    /^([A-Z][A-Za-z() -]+): ([^.]+?)\.(?: (\([A-Z].*\)))?$/,
    ([name = '', what = '', clause]) => {
      const text = missing_of(name, what);
      return text && `${text}.${clause ? ` ${clause}` : ''}`;
    },
  ],
  [
    /^all errors are (above|below) zero; set the span towards zero\.?$/i,
    ([side]) => `Todos los errores quedan por ${side === 'above' ? 'encima' : 'debajo'} de cero; llevar el span hacia cero.`,
  ],
  [
    /^(.*): limits of the table(?: times ([\d.]+))?, (.+)$/,
    ([says = '', factor, clause]) => {
      const occasion = Object.entries(kOccasions).find(([begin]) => says.startsWith(begin))?.[1] ?? '';
      const name = test_es.occasions[occasion];
      return name ? `${name}. ${test_es.limits(factor ?? '', clause ?? '')}` : '';
    },
  ],
];
