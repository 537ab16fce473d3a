/** What the diagnosis says, in Spanish: causes, what mends them, what to look for next. */
import type { Rule } from './said_es';

const kCauses: Record<string, string> = {
  'nothing is wrong': 'nada está mal',
  'the dead load is not shared, nothing else': 'la carga muerta no está repartida, nada más',
  'the corners are not adjusted, nothing else': 'las esquinas no están ajustadas, nada más',
  'the span is not set, nothing else': 'el span no está ajustado, nada más',
  '{} hangs free': '{} está en el aire',
  'the pier of {} has sunk, or its grout is hollow': 'el pilar de {} se ha hundido, o su mortero está hueco',
  'the gap at {} is packed, or the deck pushes against the end wall':
    'la holgura en el {} está llena, o el puente empuja contra el muro',
  'something touches under {}': 'algo toca debajo de {}',
  'moisture at {}': 'humedad en {}',
  'a signal core of {} is open': 'un hilo de señal de {} está cortado',
  'a supply core of {} is open': 'un hilo de alimentación de {} está cortado',
  'the signal cores of {} are exchanged (S+ and S-)': 'los hilos de señal de {} están cambiados (S+ y S-)',
  'the cell at {} is one of another capacity or output': 'la celda de {} es de otra capacidad u otra salida',
  'the cell at {} has another bridge resistance than the others':
    'la celda de {} tiene otra resistencia de puente que las demás',
  '{} are on each other\'s terminals or addresses': '{} tienen los bornes o las direcciones cambiados entre sí',
  'cell or rocker out of plumb at {}, or a rod there not level':
    'celda o rótula fuera de plomo en {}, o un tirante desnivelado allí',
  'the cell at {} was shocked or overloaded: its zero has moved':
    'la celda de {} recibió un golpe o sobrecarga: su cero se ha movido',
  'the cell at {} was shocked or overloaded': 'la celda de {} recibió un golpe o sobrecarga',
  'a bad contact in the supply or sense cores between box and indicator':
    'un mal contacto en alimentación o sense entre caja e indicador',
  'something lies on {} that was not there': 'hay algo sobre {} que antes no estaba',
  'a panel or fitting of {} is missing': 'falta una tapa o pieza de {}',
  'bolts of {} are loose': 'tornillos flojos en {}',
  'lightning or welding current went through several cells':
    'un rayo o corriente de soldadura pasó por varias celdas',
  'the cells were read with all of them connected: that is the box\'s mean':
    'las celdas se leyeron con todas conectadas: eso es la media de la caja',
  'the cells were read with all of them connected': 'las celdas se leyeron con todas conectadas',
  'somebody stood on the deck while it was read': 'había alguien sobre el puente al leer',
  'someone trimmed out a bind or a touch near {}': 'alguien compensó con los ajustes un roce cerca de {}',
  'the digital cell of {} does not answer': 'la celda digital de {} no contesta',
  '{} answer at one address': '{} contestan en la misma dirección',
  'zero tracking or a filter hides what zero does': 'el cero automático o un filtro oculta lo que hace el cero',
  'the deck is grounded through a cable screen': 'el puente está a tierra por la malla de un cable',
  '{} was turned the wrong way': '{} se giró al revés',
};

const kRemedies: Record<string, string> = {
  'Share the dead load.': 'Repartir la carga muerta.',
  'Adjust the corners.': 'Ajustar las esquinas.',
  'Set the span.': 'Ajustar el span.',
  'The load must come back onto it: packing or levelling, both sides of the section jacked together.':
    'La carga tiene que volver a él: calzar o nivelar, los dos lados de la sección con gatos a la vez.',
  'Mend the ground or the grout first, then shim; a shim on a hollow pad sinks again.':
    'Primero arreglar el terreno o el mortero, luego calzar; una calza sobre una base hueca se hunde otra vez.',
  'Clean the gap down to the bottom; measure it hot and cold.':
    'Limpiar la holgura hasta el fondo; medirla en caliente y en frío.',
  'Clean beneath; look for ice, stones, a pipe or cable tray.':
    'Limpiar debajo; buscar hielo, piedras, un tubo o una bandeja de cables.',
  'Open, dry, renew the drying agent; a cell that stays wet is done.':
    'Abrir, secar, renovar el desecante; una celda que sigue húmeda está perdida.',
  'Look at the terminal first, then gland and lead, then the cell.':
    'Mirar primero el borne, luego prensaestopas y cable, luego la celda.',
  'Power off, exchange the two at the box.': 'Sin alimentación, cambiar los dos en la caja.',
  'Read its label; put in the right cell. No trim hides a wrong cell.':
    'Leer su etiqueta; poner la celda correcta. Ningún ajuste oculta una celda equivocada.',
  'Put them right at the box, or correct the map; then read again.':
    'Corregirlo en la caja, o corregir el mapa; luego leer otra vez.',
  'Plumb the cell, level the rod; then pass both ways again.':
    'Aplomar la celda, nivelar el tirante; luego pasar otra vez en ambos sentidos.',
  'A new cell.': 'Una celda nueva.',
  'Tighten both ends, clean what is green, cut back what is corroded.':
    'Apretar los dos extremos, limpiar lo verde, cortar lo corroído.',
  'Clean the deck, read zero again.': 'Limpiar el puente, leer otra vez el cero.',
  'Put it back on.': 'Volver a ponerla.',
  'Tighten as the drawing says, read again.': 'Apretar según el plano, leer otra vez.',
  'Each cell alone with meter and no-load reading; change what was hit, look at the indicator too.':
    'Cada celda sola con multímetro y lectura sin carga; cambiar lo dañado, mirar también el indicador.',
  'Signal cores of one cell off the box, supply left on; then read that cell.':
    'Soltar de la caja los hilos de señal de una celda, dejar su alimentación; leer esa celda.',
  'Everybody off; read again.': 'Todos fuera; leer otra vez.',
  'Find what touches. Note the trims, set them back, read all places again.':
    'Buscar lo que roza. Anotar los ajustes, devolverlos, leer otra vez todos los sitios.',
  'Its plug and cable, then its address, then the cell.': 'Su conector y cable, luego su dirección, luego la celda.',
  'One cell on the line at a time; give the second its own address.':
    'Una celda cada vez en la línea; dar a la segunda su propia dirección.',
  'Switch it off while you measure, note that it was on, set it back after.':
    'Desconectarlo mientras se mide, anotar que estaba activo, devolverlo después.',
  'Screen on one end only; a bond of its own from deck to earth.':
    'Malla en un solo extremo; una puesta a tierra propia del puente.',
  'Which way raises? One quarter turn, and read.': '¿Hacia dónde sube? Un cuarto de vuelta, y leer.',
};

/** By the name of the look. */
const kLooks: Record<string, string> = {
  'does a feeler gauge go in under the bearing?': '¿entra una galga bajo el asiento?',
  'does the plate or pad move, or a feeler go in under it, when a load comes over it?':
    '¿se mueve la placa o la base, o entra una galga debajo, cuando le llega una carga?',
  'is the gap at the end of the deck packed, or does the deck touch the end wall?':
    '¿está llena la holgura del extremo, o toca el puente el muro?',
  'does the module rest on or come near anything but its stands (debris, ice, pipe, slab)?':
    '¿apoya o casi toca el módulo algo que no sean sus apoyos (restos, hielo, tubo, losa)?',
  'is there water or damp in the cell\'s gland, its lead or the box?':
    '¿hay agua o humedad en el prensaestopas de la celda, en su cable o en la caja?',
  'is a core of the cell\'s lead loose, broken or corroded at the terminal?':
    '¿hay un hilo de la celda flojo, roto o corroído en el borne?',
  'with this cell\'s lead and a neighbour\'s exchanged in the box: does the fault go with the cell?':
    'cambiando en la caja el cable de esta celda con el de una vecina: ¿el fallo va con la celda?',
  'are the signal cores of the cell on each other\'s terminals?':
    '¿están los hilos de señal de la celda cambiados de borne?',
  'does the cell\'s label differ from the deck file (capacity, output, resistance)?':
    '¿difiere la etiqueta de la celda del fichero (capacidad, salida, resistencia)?',
  'with only this stand loaded or lifted: does another stand\'s reading move?':
    'con solo este apoyo cargado o levantado: ¿se mueve la lectura de otro?',
  'is the cell or rocker out of plumb, off its seat, or a rod at it not level?':
    '¿está la celda o la rótula fuera de plomo o de su asiento, o un tirante desnivelado?',
  'does the cell\'s reading creep for minutes after a load is put on or taken off?':
    '¿deriva la lectura de la celda durante minutos tras poner o quitar una carga?',
  'is a sense or supply core loose or corroded between box and indicator?':
    '¿hay un hilo de alimentación o sense flojo o corroído entre caja e indicador?',
  'is there snow, mud, stone or anything else on the module that was not there?':
    '¿hay nieve, barro, piedra u otra cosa sobre el módulo que antes no estaba?',
  'is a panel or fitting of the module missing that was there?': '¿falta una tapa o pieza del módulo que estaba?',
  'are bolts of the module\'s halves loose?': '¿hay tornillos flojos entre las mitades del módulo?',
  'did lightning or welding happen here since it was right?': '¿hubo rayos o soldadura aquí desde que iba bien?',
  'was every cell read with the others still connected in the box?':
    '¿se leyó cada celda con las demás conectadas en la caja?',
  'did anybody stand on the deck while it was read?': '¿había alguien sobre el puente al leer?',
  'do the trims in the box stand far apart from one another?':
    '¿están los ajustes de la caja muy distintos unos de otros?',
  'is zero tracking or a filter of the indicator on?': '¿está activo el cero automático o un filtro del indicador?',
  'is a cable screen grounded at both ends, or the deck grounded through one?':
    '¿está la malla de un cable a tierra en los dos extremos, o el puente a tierra por ella?',
  'does the digital cell not answer at its address?': '¿no contesta la celda digital en su dirección?',
  'does the digital cell answer at another cell\'s address too?':
    '¿contesta la celda digital también en la dirección de otra?',
};

const kAnswers: Record<string, string> = {
  yes: 'sí',
  no: 'no',
  'it differs from the others': 'difiere de las demás',
  'nothing unusual': 'nada raro',
  'another reading moves': 'se mueve otra lectura',
  'each moves its own': 'cada uno mueve la suya',
};

/** "bearing A on B left", "module B", "1L and 2L" */
export function place_words(place: string): string {
  return place
    .replace(/^bearing (.+) left$/, 'el asiento $1, izquierda')
    .replace(/^bearing (.+) right$/, 'el asiento $1, derecha')
    .replace(/^the left girder of module /, 'la viga izquierda del módulo ')
    .replace(/^the right girder of module /, 'la viga derecha del módulo ')
    .replace(/^end (\d)$/, 'extremo $1')
    .replace(/^module /, 'el módulo ')
    .replace(/^the box$/, 'la caja')
    .replace(/^some place$/, 'algún sitio')
    .replace(/ and /, ' y ');
}

const kPatterns: [RegExp, string][] = Object.entries(kCauses).map(([english, spanish]) => {
  const pattern = english.replace(/[.*+?^$()|[\]\\]/g, '\\$&').replace('{}', '(.+)');
  return [new RegExp(`^${pattern}$`), spanish];
});

/** Empty: not known. */
export function cause_words(name: string): string {
  for (const [pattern, spanish] of kPatterns) {
    const found = pattern.exec(name);
    if (found) return spanish.replace('{}', place_words(found[1] ?? ''));
  }
  return '';
}

function causes_with_chance(list: string): string {
  const parts = list.split('; ').map((part) => {
    const found = /^(.+) \((\d+ %)\)$/.exec(part);
    const name = cause_words(found?.[1] ?? '');
    return name ? `${name} (${found?.[2]})` : '';
  });
  return parts.every(Boolean) ? parts.join('; ') : '';
}

const with_cause = (name: string, speak: (cause: string) => string): string => {
  const cause = cause_words(name);
  return cause ? speak(cause) : '';
};

const answer_words = (text: string): string =>
  /^about /.test(text) ? text.replace(/^about /, 'unos ') : (kAnswers[text] ?? '');

export const kCauseRules: Rule[] = [
  // a cause alone, as in the list of them
  [/^([a-z0-9].+)\.$/, ([name = '']) => cause_words(name)],
  ...Object.entries(kRemedies).map(([english, spanish]): Rule => [
    new RegExp(`^${english.replace(/[.*+?^$()|[\]\\]/g, '\\$&')}$`),
    () => spanish,
  ]),
  [/^Very likely (.+)\.$/, ([name = '']) => with_cause(name, (cause) => `Muy probablemente ${cause}.`)],
  [/^Probably (.+)\.$/, ([name = '']) => with_cause(name, (cause) => `Probablemente ${cause}.`)],
  [/^Make sure before you mend it\.$/, () => 'Asegurarse antes de repararlo.'],
  [/^Nothing that was measured speaks of a fault\.$/, () => 'Nada de lo medido habla de un fallo.'],
  [/^Adjustments may go on\.$/, () => 'Los ajustes pueden seguir.'],
  [/^Something is wrong, or may be; what it is stays open\.$/, () => 'Algo está mal, o puede estarlo; falta saber qué.'],
  [/^The measurement below tells most\.$/, () => 'La medición de abajo es la que más dice.'],
  [
    /^No fault that is known here explains these readings\.$/,
    () => 'Ningún fallo conocido aquí explica estas lecturas.',
  ],
  [/^Likely: (.+)\.$/, ([list = '']) => (causes_with_chance(list) ? `Probable: ${causes_with_chance(list)}.` : '')],
  [/^No adjustment mends that\.$/, () => 'Ningún ajuste arregla eso.'],
  [
    /^Perhaps nothing is wrong, but not ruled out: (.+)\.$/,
    ([list = '']) =>
      causes_with_chance(list) ? `Quizá no haya nada mal, pero no está descartado: ${causes_with_chance(list)}.` : '',
  ],
  [/^An adjustment would hide it\.$/, () => 'Un ajuste lo ocultaría.'],
  [
    /^If (.+?): (about .+|yes|no|it differs from the others|nothing unusual|another reading moves|each moves its own)\.$/,
    ([name = '', answer = '']) =>
      with_cause(name, (cause) => `Si ${cause}: ${answer_words(answer)}.`),
  ],
  [
    /^(Levelling screws and shims|Trims|The span): if (.+), (?:they chase it|they would only hide it|it is wrong again tomorrow)\.$/,
    ([what = '', name = '']) =>
      with_cause(name, (cause) =>
        what === 'Trims'
          ? `Ajustes de esquina: si ${cause}, solo lo ocultarían.`
          : what === 'The span'
            ? `El span: si ${cause}, mañana vuelve a estar mal.`
            : `Tornillos y calzas: si ${cause}, lo persiguen.`,
      ),
  ],
  [
    /^The zero key: what zero does is evidence; note it before anybody presses it\.$/,
    () => 'La tecla de cero: lo que hace el cero es una prueba; anotarlo antes de que alguien la pulse.',
  ],
  // what to look for or measure next
  [
    /^Look(?: at (.+?))?: (.+\?)$/,
    ([place, question = '']) => {
      const words = kLooks[question];
      return words ? `Mirar${place ? ` en ${place_words(place).replace(/^extremo/, 'el extremo')}` : ''}: ${words}` : '';
    },
  ],
  [
    /^Read every cell alone: its signal cores off the box, its supply left on\.$/,
    () => 'Leer cada celda sola: sus hilos de señal fuera de la caja, su alimentación puesta.',
  ],
  [
    /^Lift the deck off the cell of (.+) and read it with no load\.$/,
    ([stand]) => `Levantar el puente de la celda de ${stand} y leerla sin carga.`,
  ],
  [
    /^Put (.+) at (.+?)(, beside the load that was read there)?; zero before and after\.$/,
    ([load, place, beside]) =>
      `Poner ${load} en ${place}${beside ? ', además de la carga que se leyó allí' : ''}; cero antes y después.`,
  ],
  [
    /^At (.+): (.+) on the way up, half as much more on top, and (.+) again on the way down; zero before and after\.$/,
    ([place, load, again]) =>
      `En ${place}: ${load} al subir, la mitad más encima, y ${again} otra vez al bajar; cero antes y después.`,
  ],
  [
    /^Drive a loaded vehicle over it, braking on the deck, twice from each end; read zero after every pass\.$/,
    () => 'Pasar un vehículo cargado, frenando sobre el puente, dos veces desde cada extremo; leer el cero tras cada pasada.',
  ],
  [
    /^Read zero over some hours, with temperature and rain noted, nothing moved\.$/,
    () => 'Leer el cero durante unas horas, anotando temperatura y lluvia, sin mover nada.',
  ],
  [
    /^Measure the cell of (.+): resistances, insulation \(all cores together to screen and body, 50 V at most\), off the box\.$/,
    ([stand]) =>
      `Medir la celda de ${stand}: resistencias, aislamiento (todos los hilos juntos contra malla y cuerpo, 50 V como máximo), fuera de la caja.`,
  ],
  [
    /^Load every stand in turn \(an axle, 1 t or more\) and note whose reading moves\.$/,
    () => 'Cargar los apoyos uno por uno (un eje, 1 t o más) y anotar qué lectura se mueve.',
  ],
];
