/** The server's English sentences, in Spanish. A rule is the sentence with gaps for what varies. */
import { en } from './en';
import { es } from './es';
import { kCautionRules } from './said_es_cautions';
import { kCauseRules } from './said_es_causes';
import { kTestRules } from './said_es_test';
import { test_es } from './test_es';

export type Rule = [RegExp, (found: string[]) => string];

const kWay: Record<string, string> = {
  clockwise: 'en sentido horario',
  counterclockwise: 'en sentido antihorario',
  'counter-clockwise': 'en sentido antihorario',
};
const kScrews: Record<string, string> = {
  'The screw': 'El tornillo',
  'Both screws': 'Los dos tornillos',
  'All three screws': 'Los tres tornillos',
  'All four screws': 'Los cuatro tornillos',
  'All six screws': 'Los seis tornillos',
};
const kNumbers: Record<string, string> = {
  two: 'dos',
  three: 'tres',
  four: 'cuatro',
  five: 'cinco',
  six: 'seis',
  seven: 'siete',
  eight: 'ocho',
  nine: 'nueve',
  ten: 'diez',
  eleven: 'once',
  twelve: 'doce',
};
const kSums: Record<string, string> = {
  'Section sums fit': 'Las sumas de las secciones concuerdan',
  'Left and right as a whole fit': 'Izquierda y derecha en conjunto concuerdan',
  'Section sums do not fit': 'Las sumas de las secciones no concuerdan',
  'Left and right as a whole do not fit': 'Izquierda y derecha en conjunto no concuerdan',
};

const turned = (figure: string) => (/^\d+\/\d+$|^1$/.test(figure) ? 'vuelta' : 'vueltas');
const way = (word: string) => (word === 'up' ? 'subir' : 'bajar');
const and = (list: string) => list.replace(/ and /g, ' y ').replace(/ by /g, ' ');
const sides = (name: string) =>
  name.replace(/ left\b/, ', izquierda,').replace(/ right\b/, ', derecha,');
const percent = (text: string) => text.replace('over ', 'más del ').replace('under ', 'menos del ');

function tick_names(list: string): string {
  return list
    .split(/, /)
    .map((name) => es.ticks[name]?.todo ?? name)
    .join('; ');
}

/** "1/2 turn each in rotation, five rounds, then 3/8 turn each" */
function rounds(text: string): string {
  return text
    .replace(/ turns? each in rotation/, (_, at: number) => ` ${turned(text.slice(0, at))} cada uno, por turno`)
    .replace(/, (\w+) rounds/, (_, count: string) => `, ${kNumbers[count] ?? count} rondas`)
    .replace(/, then ([\d/ ]+) turns? each/, (_, rest: string) => `, luego ${rest} ${turned(rest)} cada uno`)
    .replace(/, then ([\d/ ]+) turns?/, (_, rest: string) => `, luego ${rest} ${turned(rest)}`)
    .replace(/ turns?\b/, (_, at: number) => ` ${turned(text.slice(0, at))}`);
}

function table_words(text: string): string {
  const rules: Rule[] = [
    [/^(\d+) cells? read(, no-load too)?$/, ([n, too]) => `${n} celdas leídas${too ? ', también sin carga' : ''}`],
    [/^(\d+) stands? turned$/, ([n]) => `${n} ${n === '1' ? 'apoyo girado' : 'apoyos girados'}`],
    [/^(\d+) stands? shimmed$/, ([n]) => `${n} ${n === '1' ? 'apoyo calzado' : 'apoyos calzados'}`],
    [/^stand tops surveyed$/, () => 'altura de los apoyos nivelada'],
    [/^(\d+) gaps? felt$/, ([n]) => `${n} ${n === '1' ? 'hueco medido' : 'huecos medidos'} con galga`],
    [/^(\d+) stands? loaded in turn: map$/, ([n]) => `${n} apoyos cargados uno por uno`],
    [/^(\d+) readings? of a load here and there$/, ([n]) => `${n} lecturas de una carga en varios sitios`],
    [/^(\d+) readings? of loads as a whole$/, ([n]) => `${n} lecturas de cargas conocidas`],
    [/^(\d+) trims? set$/, ([n]) => `${n} ${n === '1' ? 'ajuste puesto' : 'ajustes puestos'}`],
    [/^(\d+) cells? metered$/, ([n]) => `${n} celdas medidas con multímetro`],
    [/^(\d+) looks? at zero$/, ([n]) => `${n} lecturas del cero`],
    [/^looked for ([a-z_]+)(?: at (\w+))?: (not )?found$/, ([, at, not]) => `mirado${at ? ` en ${at}` : ''}: ${not ? 'no era' : 'era'}`],
    [/^(\d+) lines? of test weights at hand$/, ([n]) => `${n} ${n === '1' ? 'línea' : 'líneas'} de pesas de ensayo`],
    [
      /^(\d+) test lines?: (.+)$/,
      ([n, list = '']) => `${n} ${n === '1' ? 'línea' : 'líneas'} de ensayo: ${list.split(', ').map((one) => test_es.checks[one]?.toLowerCase() ?? one).join(', ')}`,
    ],
    [/^(\d+) things? looked for$/, ([n]) => `${n} cosas miradas`],
  ];
  for (const [pattern, speak] of rules) {
    const found = pattern.exec(text);
    if (found) return speak(found.slice(1));
  }
  return '';
}

const kStepOfName = new Map(Object.entries(en.steps).map(([code, name]) => [name, code]));
kStepOfName.set('Find the cause first', 'find_cause');
kStepOfName.set('Cause', 'find_cause');

/** Kinds of entries that have fields, and the names and values of these. */
const kFieldWords: Record<string, string> = {
  name: 'nombre',
  value: 'valor',
  when: 'cuándo',
  number: 'número',
  place: 'lugar',
  authority: 'autoridad',
  remark: 'observación',
  stand: 'apoyo',
  'new serial': 'serie nueva',
  'old serial': 'serie anterior',
  capacity: 'capacidad',
  output: 'salida',
  by: 'por',
  reason: 'motivo',
  date: 'fecha',
  rain: 'lluvia',
  wind: 'viento',
  sun: 'sol',
  'temp degC': 'temperatura en °C',
  'pressure hPa': 'presión en hPa',
  'humidity percent': 'humedad en %',
  occasion: 'motivo',
  decision: 'decisión',
  'load over': 'ensayo excéntrico',
  role: 'como',
  address: 'dirección',
  country: 'país',
  contact: 'contacto',
  position: 'cargo',
  'accreditation body': 'acreditado por',
  'accreditation number': 'acreditación',
  maker: 'fabricante',
  model: 'modelo',
  'indicator serial': 'serie del indicador',
  indicator: 'indicador',
  serial: 'serie',
  software: 'programa',
  approval: 'aprobación',
  replaces: 'sustituye a',
  deviations: 'desviaciones',
};
const kFieldValues: Record<string, string> = {
  'when left': 'como queda',
  'when found': 'como se encontró',
  'role customer': 'cliente',
  'role laboratory': 'laboratorio',
  'role signatory': 'quien firma',
  'occasion new': test_es.occasions.new ?? '',
  'occasion after_rejection': test_es.occasions.after_rejection ?? '',
  'occasion overhaul': test_es.occasions.overhaul ?? '',
  'occasion adjusted': test_es.occasions.adjusted ?? '',
  'occasion routine': test_es.occasions.routine ?? '',
  'occasion as_found': test_es.occasions.as_found ?? '',
  'decision simple': 'decisión simple',
  'decision guarded': 'decisión con reserva',
  'load over rolling': 'carga rodante',
  'load over supports': 'carga sobre cada apoyo',
};

function field_words(list: string): string {
  return list
    .split(', ')
    .map((field) => {
      const known = kFieldValues[field];
      if (known) return known;
      const name = Object.keys(kFieldWords).find((word) => field.startsWith(`${word} `));
      return name ? `${kFieldWords[name]} ${field.slice(name.length + 1)}` : field;
    })
    .join(', ');
}

export const kRules: Rule[] = [
  // steps: why they are open, done, or wait
  [/^Ticked\.$/, () => 'Marcado.'],
  [/^All ticked\.$/, () => 'Todo marcado.'],
  [/^Not ticked\.$/, () => 'Sin marcar.'],
  [/^Not ticked: ([a-z_, ]+)\.$/, ([names = '']) => `Sin marcar: ${tick_names(names)}.`],
  [/^Traffic may still come\.$/, () => 'Todavía pueden entrar vehículos.'],
  [/^Every cell was read with no load\.$/, () => 'Todas las celdas se leyeron sin carga.'],
  [/^(\d+) of (\d+) cells were read with no load\.$/, ([n, all]) => `${n} de ${all} celdas leídas sin carga.`],
  [
    /^Ticked; cells were not all read with no load, so a hidden load stays hidden\.$/,
    () => 'Marcado; no se leyeron sin carga todas las celdas: una carga oculta seguirá oculta.',
  ],
  [/^Every stand was loaded in turn\.$/, () => 'Se cargaron todos los apoyos, uno por uno.'],
  [/^Which reading belongs to which stand is not proven\.$/, () => 'No está probado qué lectura es de qué apoyo.'],
  [
    /^Cells are on each other's terminals or addresses\.$/,
    () => 'Hay celdas con los bornes o las direcciones cambiados entre sí.',
  ],
  [
    /^Before anything is turned: which reading belongs to which stand\?$/,
    () => 'Antes de girar nada: ¿qué lectura es de qué apoyo?',
  ],
  [
    /^Before a trim is moved: which reading belongs to which stand\?$/,
    () => 'Antes de mover un ajuste: ¿qué lectura es de qué apoyo?',
  ],
  [
    /^(.+) comes first\.$/,
    ([name = '']) => {
      const code = kStepOfName.get(name);
      return code ? `Antes: ${es.steps[code]}.` : '';
    },
  ],
  [
    /^No load on a deck whose grout does not carry\.$/,
    () => 'Ninguna carga sobre un puente cuyo mortero aún no aguanta.',
  ],
  [
    /^Frozen by entry (\d+); (\d+) measurements? before it\.$/,
    ([n, count]) => `Fijado por el apunte ${n}; ${count} mediciones antes de ella.`,
  ],
  [
    /^Cells and corners were read before anything was moved\.$/,
    () => 'Celdas y esquinas se leyeron antes de mover nada.',
  ],
  [
    /^Nothing may be touched before it is read as it was found\.$/,
    () => 'No se toca nada antes de leerla tal como se encontró.',
  ],
  [/^Nothing was found that must be mended first\.$/, () => 'No se encontró nada que reparar antes.'],
  [
    /^A fault is open that no adjustment mends: find the cause first\.$/,
    () => 'Hay un fallo que ningún ajuste arregla: primero, buscar la causa.',
  ],
  [
    /^Cells were not read one by one at this visit\.$/,
    () => 'En esta visita no se leyeron las celdas una por una.',
  ],
  [/^Left and right differ, and that is accepted: (.*)$/, ([why]) => `Izquierda y derecha difieren y se acepta: ${why}`],
  [
    /^Done before the grout; what the grout did is looked at under Fix\.$/,
    () => 'Hecho antes del mortero; lo que hizo el mortero se mira en Fijación.',
  ],
  [/^Something was moved since the last reading\.$/, () => 'Se movió algo desde la última lectura.'],
  [/^Cells were not read\.$/, () => 'Las celdas no se han leído.'],
  [/^The readings can't be used\.$/, () => 'Las lecturas no sirven.'],
  [
    /^The grout moves the deck: every cell is read again\.$/,
    () => 'El mortero mueve el puente: se leen otra vez todas las celdas.',
  ],
  [
    /^Restraints were set; every cell must read as before\.$/,
    () => 'Tirantes y topes puestos; cada celda debe marcar lo mismo que antes.',
  ],
  [
    /^Grout carries, the deck was exercised, restraints move nothing\.$/,
    () => 'El mortero aguanta, el puente se rodó, tirantes y topes no mueven nada.',
  ],
  [
    /^Setting the restraints moved the reading of (.+)\.$/,
    ([stands]) => `Poner tirantes y topes movió la lectura de ${stands}.`,
  ],
  [/^Trims were moved since the last reading\.$/, () => 'Se movieron ajustes desde la última lectura.'],
  [/^No corner was read\.$/, () => 'No se ha leído ninguna esquina.'],
  [
    /^Before a trim is moved, what stands hide is read\.$/,
    () => 'Antes de mover un ajuste se lee lo que los apoyos ocultan.',
  ],
  [
    /^Something was moved or set since known loads were read\.$/,
    () => 'Se movió o ajustó algo desde que se leyeron cargas conocidas.',
  ],
  [/^No known load was read\.$/, () => 'No se ha leído ninguna carga conocida.'],
  [
    /^Before the span is moved this far: is the supply sound\?$/,
    () => 'Antes de mover tanto el span: ¿está bien la alimentación?',
  ],
  [/^Looked for and not found: (.*)$/, ([remark]) => `Se buscó y no se encontró: ${remark}`],
  [/^More seals were broken than applied\.$/, () => 'Se rompieron más precintos de los que se pusieron.'],
  [/^No deck was described\.$/, () => 'No hay ninguna báscula descrita.'],
  [
    /^Entry (\d+): a load stood on a deck whose grout was not ticked cured\.$/,
    ([n]) => `Apunte ${n}: hubo una carga sobre un puente cuyo mortero no estaba marcado como fraguado.`,
  ],

  // verdicts
  [/^NOT YET\.$/, () => 'TODAVÍA NO.'],
  [/^IN TOLERANCE\.$/, () => 'EN TOLERANCIA.'],
  [/^MEASURE FIRST\.$/, () => 'PRIMERO MEDIR.'],
  [/^NO SCREW MENDS THIS\.$/, () => 'NINGÚN TORNILLO ARREGLA ESTO.'],
  [/^ONE TURN FIRST\.$/, () => 'PRIMERO, GIRAR UNO.'],
  [/^SET THE SPAN\.$/, () => 'AJUSTAR EL SPAN.'],
  [/^All (\d+) pairs? agree\.$/, ([n]) => `Las ${n} parejas coinciden.`],
  [/^Leave the screws alone\.$/, () => 'No tocar los tornillos.'],
  [
    /^(\d+) of (\d+) pairs? \(marked \*\) (?:is|are) too far apart\.$/,
    ([n, all]) => `${n} de ${all} parejas demasiado distintas.`,
  ],
  [
    /^Adjust (\d+) stands?, then lower and read again(?:; chance that this does it: (.+))?\.$/,
    ([n, chance]) =>
      `Ajustar ${n} ${n === '1' ? 'apoyo' : 'apoyos'}, bajar y leer otra vez` +
      (chance ? `; probabilidad de que baste: ${percent(chance)}.` : '.'),
  ],
  [
    /^Places differ by (.+) with (.+); wanted (.+)\.$/,
    ([now, load, wanted]) => `Los sitios difieren en ${now} con ${load}; se quiere ${wanted}.`,
  ],
  [
    /^Set (\d+) trims? and read every place again; expected then (.+), chance to be within: (.+)\.$/,
    ([n, then, chance = '']) =>
      `Poner ${n} ajustes y leer otra vez todos los sitios; después se esperan ${then}, probabilidad de cumplir: ${percent(chance)}.`,
  ],
  [/^Everything reads (.+ %) ± (.+ %)\.$/, ([off, range]) => `Todo marca ${off} ± ${range}.`],
  [
    /^With (.+) it shows (.+) and shall show (.+)\.$/,
    ([load, now, then]) => `Con ${load} marca ${now} y debe marcar ${then}.`,
  ],
  [
    /^No adjustment of screws, shims, trims and span before the cause is found: it would chase a fault\.$/,
    () => 'Ningún ajuste de tornillos, calzas, esquinas ni span antes de hallar la causa: perseguiría un fallo.',
  ],

  // what is believed and judged
  [
    /^Pads or modules are twisted out of plane \((.+)\): (.+)\.$/,
    ([unit, list = '']) => `Bases o módulos están torcidos fuera de su plano (${unit}): ${and(list)}.`,
  ],
  [
    /^The bearing (.+) hangs \(chance (.+)\)\.$/,
    ([name = '', chance = '']) =>
      `El asiento ${sides(name)} está en el aire (probabilidad ${percent(chance)}).`,
  ],
  [
    /^(Section sums fit|Left and right as a whole fit)(?: one another)? \(off by (.+), (.+) is usual\)\.$/,
    ([what = '', off, usual]) => `${kSums[what]} (diferencia ${off}, lo usual es ${usual}).`,
  ],
  [
    /^(Section sums do not fit|Left and right as a whole do not fit)(?: one another)?: off by (.+) where (.+) is usual\.$/,
    ([what = '', off, usual]) => `${kSums[what]}: diferencia ${off} cuando lo usual es ${usual}.`,
  ],
  [/^No screw changes that\.$/, () => 'Ningún tornillo cambia eso.'],
  [/^Stand-to-cell map proven\.$/, () => 'Probado qué celda es de qué apoyo.'],
  [/^Until then one stand at a time\.$/, () => 'Hasta entonces, un apoyo cada vez.'],
  [
    /^Not ticked when the cells were read: (.+)\.$/,
    ([list = '']) => `Sin marcar al leer las celdas: ${list.replace(/ and /g, ' y ')}.`,
  ],
  [
    /^That holds nothing back; each stand is taken as ±(.+) for it \(a judgement, no source\)\.$/,
    ([mass]) => `Eso no detiene nada; por ello cada apoyo se toma con ±${mass} (criterio nuestro, sin fuente).`,
  ],
  [/^Tick what held\.$/, () => 'Marcar lo que se cumplía.'],
  [
    /^The gap under the plate is outside its window: (.+)\.$/,
    ([stands = '']) =>
      `El hueco bajo la placa está fuera de su margen: ${stands.replace(/ has /g, ' tiene ').replace(/ to /g, ' a ').replace(/ or more/g, ' o más').replace(/ or less/g, ' o menos').replace(/ for grout/g, ' para el mortero')}.`,
  ],
  [
    /^The gap for grout under it is then (.+)\.$/,
    ([gap]) => `El hueco para el mortero queda entonces en ${gap}.`,
  ],
  [
    /^(.+) would have to go (up|down) by (.+), and the gap for grout \((.+) at (most|least)\) leaves (.+)\.$/,
    ([stand, up, by, end, most, rest]) =>
      `${stand} tendría que ${up === 'up' ? 'subir' : 'bajar'} ${by}, y el hueco para el mortero (${end} como ${most === 'most' ? 'máximo' : 'mínimo'}) deja ${rest}.`,
  ],
  [
    /^the gap under its plate with a ruler \(grout in the deck file\); then the pad is chipped down or a plate packed under it\.$/,
    () => 'el hueco bajo su placa con una regla (grout en el fichero de la báscula); después se rebaja la base o se calza una placa debajo.',
  ],
  [
    /^This deck is held by rods: none pulls up or down, and no gap is to be set\.$/,
    () => 'A este puente lo sujetan tirantes: ninguno tira hacia arriba ni hacia abajo, y no hay holgura que ajustar.',
  ],
  [/^This deck stands between bumpers\.$/, () => 'Este puente está entre topes.'],
  [
    /^This deck stands between bumpers; their gap is not in the deck file: look at the drawing\.$/,
    () => 'Este puente está entre topes; su holgura no está en el fichero de la báscula: mirar el plano.',
  ],
  [
    /^This deck stands between bumpers: (.+) of air at both ends, at which temperature of the steel is not in the deck file: look at the drawing\.$/,
    ([gap]) => `Este puente está entre topes: ${gap} de holgura en los dos extremos, para qué temperatura del acero no está en el fichero: mirar el plano.`,
  ],
  [
    /^Air at both ends by the steel's temperature: (.+)\.$/,
    ([list = '']) => `Holgura en los dos extremos según la temperatura del acero: ${list.replace(/ at /g, ' a ')}.`,
  ],
  [/^Measure it at a girder, not in the air\.$/, () => 'Medirla en una viga, no en el aire.'],
  [
    /^(.+) came in halves: the bolts between them are tight before it is lowered\.$/,
    ([marks = '']) => `${marks.replace(/ and /g, ' y ')}: módulos en dos mitades; los tornillos entre ellas están apretados antes de bajarlo.`,
  ],
  [
    /^Supply taken as (.+) steady DC: nobody said\.$/,
    ([volts]) => `Se toma una alimentación de ${volts} continua estable: nadie lo ha dicho.`,
  ],
  [/^Measure it at a cell \(excitation_V\)\.$/, () => 'Medirla en una celda.'],

  // moves
  [
    /^((?:The|Both|All \w+) screws?) at (.+?), (clockwise|counterclockwise) seen from above, (.+): ([\d/ ]+) turns? (up|down) in all, (.+)\.$/,
    ([screws = '', stand, sense = '', each = '', total = '', up = '', rise]) =>
      `${kScrews[screws] ?? 'Los tornillos'} de ${stand}, ${kWay[sense]} visto desde arriba, ${rounds(each)}: ${total} ${turned(total)} en total, ${way(up)} ${rise}.`,
  ],
  [
    /^(Add|Take out) (.+) of shim at (.+) \((up|down) (.+)\)\.$/,
    ([what, sizes = '', stand, up = '', rise]) =>
      `${what === 'Add' ? 'Añadir' : 'Quitar'} ${and(sizes)} de calza en ${stand} (${way(up)} ${rise}).`,
  ],
  [/^No jack: about (.+) a screw\.$/, ([torque]) => `Sin gato: unos ${torque} por tornillo.`],
  [
    /^(\d+[LR]) carries (.+) (less|more) than (\d+[LR])(?:: (.+) is twisted \(by pads or as built; readings can't tell which\))?\.$/,
    ([stand, size, how, other, twisted]) =>
      `${stand} lleva ${size} ${how === 'less' ? 'menos' : 'más'} que ${other}` +
      (twisted ? `: ${twisted.replace(' or ', ' o ')} está torcido (por las bases o de fábrica; las lecturas no lo distinguen).` : '.'),
  ],
  [
    /^It follows the other moves; without it the twist they take out would land here\.$/,
    () => 'Sigue a los otros movimientos; sin él, la torsión que quitan acabaría aquí.',
  ],
  [
    /^The trim of (.+): ([\d/ ]+) turns? (clockwise|counter-clockwise)\.$/,
    ([stand, figure = '', sense = '']) => `El ajuste de ${stand}: ${figure} ${turned(figure)} ${kWay[sense]}.`,
  ],
  [
    /^That (lowers|raises) its reading by (.+) against the others, with (.+) over it\.$/,
    ([how, size, load]) =>
      `Eso ${how === 'lowers' ? 'baja' : 'sube'} su lectura ${size} frente a las demás, con ${load} encima.`,
  ],
  [
    /^Traffic locked out, nobody beneath, no hand between plate and cell, rods slack, no truck on an ungrouted deck; local codes and licensed-practice rules hold\.$/,
    () =>
      'Paso cerrado, nadie debajo, ninguna mano entre placa y celda, tirantes flojos, ningún camión sobre un puente sin mortero; valen las normas locales y las del oficio autorizado.',
  ],

  [/^A TURN MORE\.$/, () => 'UNA VUELTA MÁS.'],
  [/^CORNERS AGREE\.$/, () => 'LAS ESQUINAS COINCIDEN.'],
  [/^LEAVE THE SPAN\.$/, () => 'DEJAR EL SPAN.'],
  [/^MORE PLACES FIRST\.$/, () => 'PRIMERO, MÁS SITIOS.'],
  [/^TOO COARSE\.$/, () => 'DEMASIADO BASTO.'],
  [/^FIND THE CAUSE FIRST\.$/, () => 'PRIMERO, BUSCAR LA CAUSA.'],
  [/^NOT ENOUGH\.$/, () => 'NO BASTA.'],
  [/^These readings do not determine every trim\.$/, () => 'Estas lecturas no determinan todos los ajustes.'],
  [/^These readings are too coarse to set a trim by\.$/, () => 'Estas lecturas son demasiado bastas para poner un ajuste.'],
  [/^Set no trim: it would hide what is named below\.$/, () => 'No mover ningún ajuste: ocultaría lo que se nombra abajo.'],
  [/^Leave the trims alone; next comes the span\.$/, () => 'No tocar los ajustes; ahora viene el span.'],
  [
    /^Chance that they agree as well without rounding and scatter: (.+?)( \(a finer reading would tell\))?\.$/,
    ([chance = '', finer]) =>
      `Probabilidad de que coincidan también sin redondeo ni dispersión: ${percent(chance)}${finer ? ' (una lectura más fina lo diría)' : ''}.`,
  ],
  [/^Nobody has said what a turn of these trims does\.$/, () => 'Nadie ha dicho qué hace una vuelta de estos ajustes.'],
  [
    /^What a turn does is not known well enough yet; while the load stands there, turning on costs no weight move and sets all trims better\.$/,
    () =>
      'Aún no se sabe bastante bien qué hace una vuelta; mientras la carga siga ahí, seguir girando no cuesta mover pesas y deja mejor todos los ajustes.',
  ],
  [
    /^Setting it would move no reading by a quarter of e\.$/,
    () => 'Ajustarlo no movería ninguna lectura ni un cuarto de e.',
  ],
  [
    /^Turn (?:the trim of )?(.+) by ([\d/ ]+) turns? (clockwise|counter-clockwise)\.$/,
    ([place, figure = '', sense = '']) => `Girar el ajuste de ${place} ${figure} ${turned(figure)} ${kWay[sense]}.`,
  ],
  [
    /^With the load over (.+) read the display before and after, and record both below\.$/,
    ([place]) => `Con la carga sobre ${place} leer el visor antes y después, y anotar las dos lecturas abajo.`,
  ],
  [/^That says what a turn does and which way it goes\.$/, () => 'Eso dice qué hace una vuelta y hacia dónde.'],

  // what to read before a trim is moved, and how the span is set
  [
    /^One end stand going up and coming down .+: friction and a packed end read otherwise on the way down\.$/,
    () =>
      'Un apoyo del extremo subiendo y bajando (primero una carga mayor, luego esta): el roce y un extremo lleno marcan otra cosa al bajar.',
  ],
  [
    /^(\d+[LR]), which is furthest off, with a second load, half as much again or half: .+$/,
    ([stand]) =>
      `${stand}, el que más se aparta, con una segunda carga, la mitad más o la mitad: esquinas que coinciden con una sola carga ocultan un roce que alguien compensó.`,
  ],
  [
    /^One heavy place between sections \(at = (.+)\): what touches there is not felt over a stand\.$/,
    ([place]) => `Un sitio pesado entre secciones (${place}): lo que toca allí no se nota sobre un apoyo.`,
  ],
  [
    /^Empty the deck, let it settle, set zero; zero tracking and filters as they are found, noted\.$/,
    () => 'Vaciar el puente, dejarlo asentar, poner a cero; cero automático y filtros como se encuentren, anotados.',
  ],
  [
    /^With (.+) on the deck \(it shows (.+) now\) set the span so that it shows (.+)\.$/,
    ([load, now, then]) => `Con ${load} en el puente (ahora marca ${now}) ajustar el span para que marque ${then}.`,
  ],
  [
    /^Where the span is entered as a figure: multiply it by (.+)\.$/,
    ([factor]) => `Donde el span se introduce como número: multiplicarlo por ${factor}.`,
  ],
  [/^Take the load off: zero must come back within (.+)\.$/, ([e]) => `Quitar la carga: el cero debe volver a menos de ${e}.`],
  [/^Then read all loads again, up and down\.$/, () => 'Luego leer otra vez todas las cargas, subiendo y bajando.'],

  // cautions
  ...kCautionRules,
  [
    /^Lock out the traffic before anybody goes below; gas test and a second person at the pit\.$/,
    () => 'Cerrar el paso antes de que alguien baje; medir gases y segunda persona junto al foso.',
  ],
  [/^Power off before a core is taken off or put on\.$/, () => 'Cortar la alimentación antes de soltar o poner un hilo.'],
  [
    /^Jack both sides of the section together, packing follows, rods slack, no hand between plate and cell\.$/,
    () => 'Subir con gatos los dos lados de la sección a la vez, calzos que siguen, tirantes flojos, ninguna mano entre placa y celda.',
  ],
  [
    /^Cell off box and indicator before the insulation is tested: a 500 V tester kills cells\.$/,
    () => 'Celda fuera de la caja y del indicador antes de probar el aislamiento: un medidor de 500 V mata celdas.',
  ],
  [
    /^Nobody beneath or on the deck while a load is put down; never on a deck whose grout is not cured\.$/,
    () => 'Nadie debajo ni encima del puente mientras se posa una carga; nunca sobre un puente cuyo mortero no haya fraguado.',
  ],
  [
    /^Nobody beneath or beside the deck while a vehicle passes; slowly, braking gently\.$/,
    () => 'Nadie debajo ni al lado del puente mientras pasa un vehículo; despacio, frenando suave.',
  ],
  [
    /^Nobody beneath the deck while it is loaded; never on a deck whose grout is not cured: there lift one stand after the other by hand-pump jack, both sides\.$/,
    () =>
      'Nadie debajo del puente mientras está cargado; nunca sobre un puente cuyo mortero no haya fraguado: allí levantar un apoyo tras otro con gato de mano, los dos lados.',
  ],
  ...kCauseRules,
  [/^Record what was found in the form below\.$/, () => 'Anotar lo encontrado en el formulario de abajo.'],
  [
    /^When it is mended, tick that below and say what was wrong and what was done; then read again\.$/,
    () => 'Cuando esté reparado, marcarlo abajo y decir qué estaba mal y qué se hizo; luego leer otra vez.',
  ],
  [
    /^Looked for by somebody who knows and not found: tick that below and say where and by whom; then .+$/,
    () =>
      'Buscado por quien sabe y no encontrado: marcarlo abajo y decir dónde y quién; entonces se aconsejan ajustes otra vez, y queda anotado.',
  ],
  [
    /^Where the difference is known and accepted: tick that below and say why\.$/,
    () => 'Donde la diferencia se conoce y se acepta: marcarlo abajo y decir por qué.',
  ],
  [
    /^Nothing left to measure would tell more: mend it, then say so\.$/,
    () => 'Ninguna medición más diría más: repararlo y decirlo.',
  ],
  [
    /^Entry (\d+) goes on though a question is open: (.*)\. What is adjusted now may chase a fault\.$/,
    ([n, remark]) =>
      `El apunte ${n} sigue aunque queda una duda: ${remark}. Lo que se ajuste ahora puede perseguir un fallo.`,
  ],
  [
    /^Entry (\d+) corrects what was read as found, after it was frozen: both are shown\.$/,
    ([n]) => `El apunte ${n} corrige algo de lo encontrado después de fijarlo: se muestran los dos.`,
  ],

  ...kTestRules,

  // entries of the journal
  [/^visit: installation$/, () => 'visita: montaje'],
  [/^visit: service call$/, () => 'visita: avería o revisión'],
  [/^deck described: (.+)$/, ([file]) => `báscula descrita: ${file}`],
  [
    /^(ticked|no longer) ([a-z_]+): .*$/,
    ([how, name = '']) => {
      const tick = es.ticks[name];
      return tick ? `${how === 'ticked' ? 'marcado' : 'ya no'}: ${tick.says}` : '';
    },
  ],
  [/^note: ([\s\S]*)$/, ([text]) => `nota: ${text}`],
  [/^undo of entry (\d+)$/, ([n]) => `se retira el apunte ${n}`],
  [
    /^(setting|counter|weather|tagged|seal broken|seal applied|cell replaced|notice sent|occasion|party|item|report issued): (.+)$/,
    ([kind = '', list = '']) => `${es.journal.kinds[kind.replace(' ', '_')] ?? kind}: ${field_words(list)}`,
  ],
  [
    /^([^:]+): (.+)$/,
    ([file, what = '']) => {
      const words = table_words(what);
      return words ? `${file}: ${words}` : '';
    },
  ],
];

function by_rule(rules: Rule[], sentence: string): string {
  for (const [pattern, speak] of rules) {
    const found = pattern.exec(sentence);
    if (!found) continue;
    const text = speak(found.slice(1));
    if (text) return text;
  }
  return '';
}

export function spanish(text: string): string {
  const whole = by_rule(kRules, text);
  if (whole) return whole;
  const sentences = text.split(/(?<=[.?!])\s+(?=[A-Z0-9])/);
  if (sentences.length < 2) return '';
  const spoken = sentences.map((sentence) => by_rule(kRules, sentence));
  return spoken.every(Boolean) ? spoken.join(' ') : '';
}
