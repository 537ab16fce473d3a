import type { Texts } from './en';
import { test_es } from './test_es';

/** The same keys as en.ts, as a technician of the trade would say it. */

const kLocal =
  'Las normas locales y el personal autorizado deciden cómo puede hacerse; nada de esto los sustituye.';
const kJacking =
  'Subir con gatos los dos lados de la sección a la vez, con calzos que sigan y tuercas de seguridad, gatos para vez y media la carga de la sección, tirantes flojos. Ninguna mano entre placa y celda; que una celda marque nada no prueba que esté libre. ' +
  kLocal;
const kLoads =
  'Pesas y vehículos los mueve quien tiene permiso para ello; nadie debajo ni al lado del puente mientras se mueve una carga. ' +
  kLocal;
const kTestLoads =
  'Las cargas las conduce, levanta y amarra solo quien tiene permiso, según las normas locales; nadie encima, debajo ni al lado del puente mientras se mueve una.';
const kSupply = 'Cortar la alimentación antes de mover un hilo.';
const kSeal = 'Un precinto solo lo rompe quien la ley local autoriza.';

export const es: Texts = {
  language: { code: 'es', own: 'Español', choose: 'Idioma' },

  words: {
    now: 'ahora',
    then: 'después',
    expected: 'previsto',
    before: 'antes',
    left: 'izquierda',
    right: 'derecha',
    end1: 'extremo 1',
    end2: 'extremo 2',
    stand: 'apoyo',
    section: (n) => `sección ${n}`,
    module: (mark) => `módulo ${mark}`,
    yes: 'sí',
    no: 'no',
    unknown: 'no se sabe',
    none: 'ninguno',
    close: 'Cerrar',
    entry: (n) => `apunte ${n}`,
    entries: (list) =>
      list.length === 1 ? `apunte ${list[0]}` : `apuntes ${list.join(', ')}`,
    rests_on: (list) =>
      list.length === 1
        ? `se basa en el apunte ${list[0]}`
        : `se basa en los apuntes ${list.join(', ')}`,
    over_99: 'más del 99 %',
    under_1: 'menos del 1 %',
    up: 'subir',
    down: 'bajar',
    turns: (n) => (Math.abs(n) > 1 ? 'vueltas' : 'vuelta'),
    in_english: 'En inglés:',
  },

  steps: {
    arrive: 'En obra, paso de vehículos cerrado',
    as_found: 'Tal como se encontró',
    receive: 'Recepción: celdas leídas sin carga',
    set_down: 'Módulos asentados y unidos',
    wire: 'Cableado, probado qué lectura es de qué apoyo',
    dress: 'Lista: condiciones de una buena lectura',
    find_cause: 'Buscar la causa',
    new_cell: 'Celdas nuevas: leídas sin carga, cables probados',
    share: 'Reparto de la carga muerta',
    pour: 'Hormigonado',
    clear: 'Visto bueno para el mortero',
    release: 'Con mortero y liberada para carga',
    fix: 'Fijada: mortero, rodaje y topes',
    trim: 'Ajuste de esquinas',
    span: 'Ajuste de span',
    prove: 'Ensayo',
    report: 'Informe',
    hand_over: 'Entrega',
    describe: 'Descripción de la báscula',
  },

  steps_short: {
    arrive: 'Cierre',
    as_found: 'Hallada',
    receive: 'Recepción',
    set_down: 'Montaje',
    wire: 'Cableado',
    dress: 'Condiciones',
    find_cause: 'Causa',
    new_cell: 'Celdas nuevas',
    share: 'Reparto',
    pour: 'Hormigón',
    clear: 'Visto bueno',
    release: 'Liberada',
    fix: 'Fijación',
    trim: 'Esquinas',
    span: 'Span',
    prove: 'Ensayo',
    report: 'Informe',
    hand_over: 'Entrega',
    describe: 'Descripción',
  },

  step_state: {
    done: 'hecho',
    open: 'pendiente',
    blocked: 'espera',
    not_needed: 'no hace falta',
  },

  actions: {
    tick: { headline: 'Hacer esto y marcarlo', how: [], cautions: [] },
    conditions: {
      headline: 'Cuidar las condiciones de una buena lectura',
      how: ['Lo que no se marca no detiene nada; aumenta la duda de lo que leen las celdas, y se dice con el reparto.'],
      cautions: [],
    },
    no_load: {
      headline: 'Leer cada celda sin nada encima',
      how: [
        'En su montaje, derecha, sin carga, caliente. Una vez bajado el puente solo se consigue levantándolo; sin esto, una carga oculta o una celda equivocada no se distingue de un módulo pesado.',
        'Si el puente ya está sobre sus celdas es tarde para esto: marque abajo que celdas y papeles están revisados.',
      ],
      cautions: [
        'Una celda se descarga levantando la sección por los dos lados con gatos, con calzos que siguen; nadie debajo del puente.',
        kLocal,
      ],
    },
    map: {
      headline: 'Probar qué lectura es de qué apoyo',
      how: [
        'Apretar o cargar los apoyos uno por uno y anotar qué lectura se mueve; si se levanta uno, su sección se sube con gatos por los dos lados a la vez. Ningún vehículo sobre un puente sin mortero.',
        'Dos celdas con los bornes cambiados dejan bien el total y todas las esquinas, y mandan cada vuelta al apoyo equivocado.',
      ],
      cautions: [kJacking, kLoads],
    },
    exchanged: {
      headline: 'Poner cada celda en sus bornes',
      how: [
        'Sin alimentación, corregir los cables (o las direcciones), alimentar; luego cargar otra vez esos apoyos y anotar qué lectura se mueve.',
      ],
      cautions: [kSupply, kSeal],
    },
    read_cells: {
      headline: 'Leer todas las celdas',
      how: [
        'En la caja los hilos de señal están unidos: un multímetro en cualquier par muestra la media de todas. Sin alimentación, soltar S+ y S- de una celda, dejar su alimentación, alimentar, leer, volver a conectar.',
        'Alimentación continua y estable; anotar cuánto llega a la celda.',
      ],
      cautions: [kSupply],
    },
    read_corners: {
      headline: 'Poner una carga sobre cada apoyo, uno tras otro',
      how: [
        'La misma carga en todos; no hace falta saber su masa. Leer el cero antes y después de cada sitio; cero automático y filtros como se encontraron, anotados; nadie sobre el puente.',
        'Subir y bajar en dos sitios y un sitio pesado entre secciones delatan fallos que los apoyos ocultan.',
      ],
      cautions: [kLoads],
    },
    more_places: {
      headline: 'Leer lo que los apoyos ocultan, antes de mover un ajuste',
      how: [],
      cautions: [kLoads],
    },
    supply: {
      headline: 'Mirar la alimentación antes de mover tanto el span',
      how: [
        'Un mal contacto en alimentación o sense baja todas las lecturas en la misma proporción, como un span nunca ajustado, y va y viene con la temperatura.',
        'Mirar los dos extremos del cable principal, o medir alimentación y sense en la caja.',
      ],
      cautions: [kSupply, kSeal],
    },
    loads: {
      headline: 'Leer cargas conocidas, subiendo y bajando',
      how: [
        'Cero, luego cargas por escalones hasta lo máximo que haya, y otra vez abajo; piedra o un vehículo pueden sustituir a las pesas.',
      ],
      cautions: [kLoads],
    },
    as_found: {
      headline: 'Anotarla como se encontró, antes de tocar nada',
      how: [
        'Antes de limpiar, subir con gatos, aflojar tirantes, abrir la caja o romper un precinto: fotos, cero, precintos, contadores y parámetros tal como están.',
        'Lo que marca sin nada encima; luego una carga sobre cada apoyo, subiendo y bajando, cero antes y después. Un ensayo completo según el reglamento vale igual.',
        'Las celdas digitales, cada una en la página del propio indicador. Con caja, leer cada celda sola solo merece abrirla si las esquinas difieren, el cero se mueve o se busca una causa. Cuesta un precinto: solo quien la ley local autoriza, anotado antes su número, y acordado antes quién verifica de nuevo.',
      ],
      cautions: [kLoads],
    },
    move_stands: {
      headline: 'Mover los apoyos y leer otra vez',
      how: [],
      cautions: [kJacking],
    },
    pour: {
      headline: 'Verter el hormigón, y decirlo',
      how: [
        'Basta un reparto a grandes rasgos: la losa hace el módulo varias veces más pesado y más rígido a torsión, así que todas las celdas se leen otra vez cuando esté dura, y se reparte entonces.',
        'Encofrado, armadura, mezcla y apeo según el plano; tornillos, celdas y topes cubiertos, tirantes flojos.',
        'Cuándo está duro y cuándo puede llevar carga lo dice el ingeniero; esta herramienta no lo dice.',
        'Si ya estaba hormigonado cuando se leyeron las celdas: corregir el fichero del puente en el diario (corregir su apunte).',
      ],
      cautions: [
        'El hormigón fresco quema la piel y los ojos: guantes, gafas, botas. Un módulo lleno de él pesa lo máximo y aún no aguanta nada: nadie debajo, ningún vehículo encima.',
        kLocal,
      ],
    },
    describe_cell: {
      headline: 'Averiguar qué celda hay ahí',
      how: [
        'Su etiqueta, su certificado o el albarán: capacidad y salida. Los milivoltios de una celda que nadie conoce no son una carga.',
        'Si no se puede leer nada de ella: una celda conocida en su lugar.',
      ],
      cautions: [kJacking],
    },
    measure_first: { headline: 'Medir esto antes de girar nada', how: [], cautions: [] },
    no_move: {
      headline: 'Ningún tornillo ni calza arregla esto: mirar en otro sitio',
      how: [],
      cautions: [],
    },
    trims: {
      headline: 'Poner los ajustes y leer otra vez todos los sitios',
      how: [],
      cautions: [kLoads],
    },
    learn_trim: {
      headline: 'Girar un ajuste sin mover la carga',
      how: [],
      cautions: [kLoads],
    },
    span: { headline: 'Ajustar el span', how: [], cautions: [kLoads] },
    find_cause: { headline: 'Primero, buscar la causa', how: [], cautions: [] },
    mended: { headline: 'Repararlo y decirlo', how: [], cautions: [] },
    restraints_again: {
      headline: 'Aflojar el tirante y ajustarlo otra vez, a nivel y alineado',
      how: [
        'Un tirante fuera de nivel mete parte de su empuje en el peso. Después, leer otra vez todas las celdas.',
      ],
      cautions: [kSupply],
    },
    no_trim: { headline: 'Ningún ajuste arregla esto: leer más, o buscar en otra parte', how: [], cautions: [kLoads] },
    describe: { headline: 'Describir la báscula', how: [], cautions: [] },
    occasion: {
      headline: 'Decir para qué es el ensayo',
      how: ['De ello dependen los límites. Donde la ley local diga otra cosa, vale la ley.'],
      cautions: [],
    },
    weights: {
      headline: 'Anotar las pesas y los vehículos que hay',
      how: [
        'De cada pesa: nombre, masa nominal, cuántas iguales, clase, certificado con su fecha de caducidad; largo y ancho de lo que apoya.',
        'Cómo se maneja. También los vehículos de masa desconocida: sirven de carga de sustitución y de carga rodante.',
        'Un patrón sin certificado vigente no es patrón.',
      ],
      cautions: [],
    },
    test_plan: { headline: 'Con estas pesas no se puede hacer el ensayo', how: [], cautions: [] },
    test: { headline: 'Poner la carga y leer', how: [], cautions: [kTestLoads] },
    test_failed: { headline: 'El ensayo no se cumple', how: [], cautions: [kTestLoads] },
    test_guarded: { headline: 'Dentro de los límites, en la reserva', how: [], cautions: [kTestLoads] },
    test_incomplete: { headline: 'El ensayo no está completo', how: [], cautions: [kTestLoads] },
    report: {
      headline: 'Emitir el informe',
      how: [
        'Cliente, laboratorio (su empresa) y quien firma, lo que dicen las placas, contadores y precintos como quedan: lo que no está anotado se dice en el papel.',
        'Repasar el borrador y darle un número. Un informe que sustituye a otro dice a cuál y por qué.',
        'Es un informe de ensayo. Si la báscula puede usarse para el comercio lo dice la autoridad.',
      ],
      cautions: [],
    },
    clearance: {
      headline: 'Dar el visto bueno para el mortero, con nombre',
      how: [
        'Un nivel sobre cada placa, en los dos sentidos, después del último giro; cada tornillo firme a mano, ninguno suelto.',
        'El mortero acaba con lo que pueden los tornillos: lo que quede entonces es una chapa.',
      ],
      cautions: [],
    },
    release: {
      headline: 'Liberarla para carga, con fundamento y nombre',
      how: [
        'No antes del tiempo que da el saco a la temperatura anotada allí, o una probeta rota: a qué resistió, cuánto se pide, qué edad tenía.',
        'O un ingeniero, o una inspección, con lo que se halló. Los puentes de hormigón, el ingeniero.',
        'Cuándo se puso el mortero, si no fue cuando se marcó. Esta herramienta no dice cuándo: lo dice una persona.',
      ],
      cautions: [
        'Ninguna carga antes de liberarla: una placa que se suelta deja caer el puente. Nadie debajo.',
        kLocal,
      ],
    },
    left_open: {
      headline: 'Entregada con esto pendiente',
      how: [],
      cautions: [],
    },
    nothing: {
      headline: 'No queda nada pendiente',
      how: ['Cuando alguien vuelva: empezar una visita y anotarla como se encontró.'],
      cautions: [],
    },
  },

  counted: {
    move_stands: (n) => `Mover ${n} ${n === 1 ? 'apoyo' : 'apoyos'} y leer otra vez`,
    trims: (n) => `Poner ${n} ${n === 1 ? 'ajuste' : 'ajustes'} y leer otra vez todos los sitios`,
    read_cells_again: 'Leer otra vez todas las celdas',
    read_corners_again: 'Poner otra vez la carga sobre los apoyos',
    loads_again: 'Leer otra vez las cargas conocidas',
    test: (name, n, of) => `${name} (${n} de ${of})`,
    learn_trim: (stand) => `Girar el ajuste de ${stand} sin mover la carga`,
  },

  ticks: {
    locked_out: {
      says: 'el paso está cerrado: barreras, llaves, alguien avisado',
      todo: 'Cerrar el paso de vehículos',
      how: ['Cerrar el acceso, guardar las llaves, avisar a quien lleva la planta.'],
      cautions: [
        'Barreras, llaves y una persona avisada: nadie puede entrar con un vehículo mientras haya alguien debajo. Un foso es un espacio confinado: medir gases, segunda persona, sacar el agua.',
        kLocal,
      ],
    },
    received: {
      says: 'piezas, celdas y sus papeles están revisados',
      todo: 'Revisar piezas, celdas y papeles',
      how: [],
      cautions: [],
    },
    set_down: {
      says: 'los módulos están unidos en orden, atornillados y sobre sus celdas',
      todo: 'Asentar, unir y atornillar los módulos',
      how: [
        'Bases niveladas, placas y tornillos puestos, medios módulos y módulos unidos en orden y atornillados según el plano, luego bajados sobre sus celdas.',
        'Una nivelación de la altura de los apoyos vale más que una bajada: añadirla.',
      ],
      cautions: [
        'Nadie bajo una carga suspendida. Los módulos se asientan sobre tacos, nunca con la grúa sobre las celdas; los medios módulos se apuntalan hasta atornillarlos. No soldar con las celdas puestas.',
        kLocal,
      ],
    },
    wired: {
      says: 'cada celda puede leerse sola, media hora caliente',
      todo: 'Cablear y dejar calentar media hora',
      how: ['Caja, cables y alimentación; cada celda legible sola; media hora caliente.'],
      cautions: [
        'Cortar la alimentación antes de mover un hilo. Ningún medidor de aislamiento en una línea con un indicador conectado.',
        kLocal,
      ],
    },
    panels_on: {
      says: 'todo lo que se queda en el puente está puesto, o anotado lo que falta',
      todo: 'Poner todo lo que se queda en el puente',
      how: [],
      cautions: [],
    },
    rods_slack: {
      says: 'tirantes y topes están flojos',
      todo: 'Aflojar tirantes y topes',
      how: [],
      cautions: [],
    },
    nothing_touches: {
      says: 'el puente no toca nada más que sus apoyos',
      todo: 'Ver que el puente no toque nada',
      how: [],
      cautions: [],
    },
    nobody_on_deck: {
      says: 'no hubo nadie ni nada ajeno sobre el puente al leer',
      todo: 'Dejar libre el puente mientras se lee',
      how: [],
      cautions: [],
    },
    warm: {
      says: 'la alimentación estuvo media hora conectada',
      todo: 'Dejar la alimentación media hora conectada',
      how: [],
      cautions: [],
    },
    same_meter: {
      says: 'multímetro y alimentación son los de la última vez, continua estable',
      todo: 'Usar el mismo multímetro y la misma alimentación',
      how: [],
      cautions: [],
    },
    grouted: {
      says: 'las placas tienen mortero: los tornillos ya no giran',
      todo: 'Poner el mortero bajo las placas',
      how: [
        'Encofrar, mezclar y verter como dicen el saco y el plano. Desde aquí los tornillos no se giran.',
        'Anotar desde ahora la temperatura junto a las placas: el tiempo del fabricante vale a esa temperatura.',
        'Si las placas están sobre apoyos de acero, atornilladas o solo por un tiempo, no hay mortero: anotar en su lugar una liberación (Más).',
      ],
      cautions: ['El mortero fresco y su polvo queman: guantes, gafas, mascarilla.', kLocal],
    },
    cured: {
      says: 'el mortero ha fraguado, según lo vio alguien; eso no abre nada: lo abre una liberación',
      todo: 'Dejar fraguar el mortero',
      how: ['Lo que abre el puente a la carga es una liberación, con su fundamento y un nombre.'],
      cautions: [
        'Ninguna carga antes de que el mortero aguante: una placa que se suelta deja caer el puente.',
        kLocal,
      ],
    },
    anchors_tight: {
      says: 'los anclajes están apretados, los tornillos retirados o dejados según el plano',
      todo: 'Apretar los anclajes',
      how: ['Anclajes al par del plano; tornillos retirados o dejados, según el plano.'],
      cautions: [
        'Manos y herramientas fuera de entre puente, placa y muro antes de apretar o tirar de nada.',
        kLocal,
      ],
    },
    stops_fitted: {
      says: 'los topes contra el desplazamiento están puestos, con holgura',
      todo: 'Poner los topes contra el desplazamiento',
      how: [
        'Topes en su sitio, con holgura: el puente queda libre para leerlo y no puede escaparse bajo un vehículo. Se ajustan después del rodaje.',
      ],
      cautions: [
        'Ningún vehículo antes de que estén: un puente sobre péndulos se escapa con la primera frenada. Manos fuera de entre puente, tope y muro.',
        kLocal,
      ],
    },
    exercised: {
      says: 'un vehículo cargado pasó en ambos sentidos y frenó, de tres a cinco veces',
      todo: 'Rodar el puente con un vehículo cargado',
      how: ['De tres a cinco pasadas de un vehículo cargado en cada sentido, frenando.'],
      cautions: [
        'Un camión en marcha: nadie al lado ni debajo del puente, probar antes los frenos al paso.',
        kLocal,
      ],
    },
    restraints_set: {
      says: 'tirantes y topes están puestos según el plano',
      todo: 'Poner tirantes y topes',
      how: [
        'Tirantes apretados a mano, nivelados y alineados, o las holguras de los topes según el plano para la temperatura actual del acero. Después cada celda y el cero deben dar lo mismo que antes: leerlos otra vez.',
      ],
      cautions: [
        'Un tirante en tensión o un puente que se corre atrapa las manos entre puente y muro: nadie en el hueco mientras se aprieta un tirante o tope.',
        kLocal,
      ],
    },
    mended: {
      says: 'se encontró y se reparó un fallo (observación: cuál, cómo)',
      todo: 'Reparar lo encontrado',
      how: [],
      cautions: [],
    },
    nothing_found: {
      says: 'se buscó lo que se sospechaba y no se encontró (observación: dónde, quién)',
      todo: 'Seguir aunque quede una duda',
      how: [],
      cautions: [],
    },
    balance_accepted: {
      says: 'izquierda y derecha difieren y se acepta (observación: por qué)',
      todo: 'Aceptar que izquierda y derecha difieran',
      how: [],
      cautions: [],
    },
    tested: {
      says: 'se pusieron cargas de ensayo y se juzgaron con el reglamento vigente',
      todo: 'Ensayar con cargas conocidas',
      how: [
        'Cargas de ensayo puestas y juzgadas con el reglamento vigente, por otros medios que esta página.',
      ],
      cautions: [kLoads],
    },
    handed_over: {
      says: 'papeles entregados, autoridad avisada donde la ley lo pide',
      todo: 'Entregar',
      how: [
        'Precintos puestos y anotados, contadores y parámetros como quedan, papeles entregados, aviso enviado donde la ley lo pide.',
      ],
      cautions: [
        'Personas, gatos, calzos y herramientas fuera de debajo del puente antes de abrir las barreras.',
        kLocal,
      ],
    },
  },

  units: {
    kg: 'kg',
    lb: 'lb',
    mm: 'mm',
    in: 'in',
    m: 'm',
    ft: 'ft',
    mV: 'mV',
    mV_per_V: 'mV/V',
    counts: 'cuentas',
    ohm: 'Ω',
    turn: 'vuelta',
    metric: 'kg, mm',
    us: 'lb, in',
  },

  plan: {
    title: (name) => `Planta de ${name}`,
    no_deck: 'Todavía no hay ninguna báscula descrita.',
    describe: (modules, sections, length) =>
      `${modules} ${modules === 1 ? 'módulo' : 'módulos'} sobre ${sections} secciones, ${length} de largo, en planta. Primero el extremo 1.`,
    hangs: (stands) => `Un asiento puede estar en el aire: ${stands}`,
    key_load: 'carga de un apoyo',
    key_expected: 'lo que debería llevar',
    key_then: 'después de mover',
    key_apart: 'izquierda y derecha demasiado distintas',
    key_rests: 'apoya en',
    key_hangs: 'cuelga: hueco bajo el asiento',
    key_lit: 'aquí',
    key_title: 'Signos',
    hangs_word: 'cuelga',
    end1: 'ext. 1',
    end2: 'ext. 2',
    left: 'izq.',
    right: 'der.',
    turn: 'Girar la planta',
    stand_says: (stand, load, expected) =>
      `Apoyo ${stand}` +
      (load ? `, ${load}` : ', sin leer') +
      (expected ? `, debería llevar ${expected}` : ''),
    lit_here: 'actuar aquí',
    free: 'puede estar libre',
    pair_says: (section, difference, within) =>
      `Sección ${section}: izquierda menos derecha ${difference}, ${within ? 'bastante igual' : 'demasiado distinta'}`,
    within: 'bastante igual',
    apart: 'demasiado distinta',
    left_less_right: 'izq. menos der.',
    joint_says: (rests) => `Junta, ${rests}`,
    joint_rigid: 'atornillada',
    rests_on: (upper, lower) => `${upper} apoya en ${lower}`,
    show: 'Cifras en la planta',
    figures: { load: 'carga', reading: 'lectura', then: 'después', live: 'en vivo' },
  },

  detail: {
    title: (stand) => `Apoyo ${stand}`,
    where: (section, side, at) => `sección ${section}, ${side}, a ${at} del extremo 1`,
    cell: 'celda',
    cell_said: {
      unwritten: 'número de serie sin apuntar',
      unknown: 'número de serie desconocido',
      certificate: (number: string) => `certificado ${number}`,
      before: (words: string) => `antes: ${words}`,
      not_known: { capacity: 'capacidad desconocida', output: 'salida desconocida' } as Record<string, string>,
    },
    tag: 'en la caja',
    adjust: 'se ajusta con',
    adjust_by: { screws: 'tornillos', shims: 'calzas', none: 'nada' },
    load: 'lleva',
    expected: 'debería llevar',
    then: 'después de mover',
    reads: 'marca',
    will_read: 'marcará',
    pair: 'con su pareja',
    pair_apart: (partner, difference) => `${difference} más que ${partner}`,
    pair_less: (partner, difference) => `${difference} menos que ${partner}`,
    pair_even: (partner) => `lo mismo que ${partner}`,
    tolerance: (figure) => `se admite: ${figure}`,
    free: (chance) => `No lleva nada, probabilidad ${chance}.`,
    no_load_known: 'se conoce su lectura sin carga',
    no_load_unknown: 'nunca se leyó sin carga',
    live: 'en vivo',
    no_live: 'ningún instrumento muestra este apoyo',
    not_read: 'todavía sin leer',
  },

  live: {
    title: 'Lecturas en vivo',
    stable: 'estable',
    moving: 'se mueve',
    stale: 'vieja',
    bad: 'mala',
    silent: 'sin señal',
    unexplained: 'sin explicación',
    age: (seconds) => (seconds < 2 ? 'ahora mismo' : `hace ${seconds} s`),
    age_minutes: (minutes) => `hace ${minutes} min`,
    last: (seconds) => `últimos ${seconds} s`,
    spark: (place, word) => `${place}: último medio minuto, ${word}`,
    no_value: 'sin valor',
    indication: 'indicador',
    instruments: 'Instrumentos',
    instrument_state: {
      connected: 'conectado',
      connecting: 'conectando',
      waiting: 'esperando para reintentar',
      refused: 'rechazado',
      not_allowed: 'espera un sí en la máquina que sirve',
    },
    next_try: (seconds) => `próximo intento en ${seconds} s`,
    mean_of: (samples) => `media de ${samples}`,
  },

  cautions: { title: 'Cuidado', region: 'Precauciones' },

  belief: {
    title: 'Lo que se cree del puente',
    none: 'Todavía nada: primero leer las celdas.',
    twisting: 'Rigidez a torsión de cada cuerpo',
    twisting_unit: 'MN m²',
    twisting_why:
      'Cuanto más blando a torsión es un módulo, más hay que girar. Línea fina: lo que se sabía antes; barra: lo que dejan las lecturas.',
    body: (low, middle, high) => `${middle} MN m², probablemente de ${low} a ${high}`,
    map_open:
      'Cargar los apoyos uno por uno y anotar qué lectura se mueve. Hasta entonces, mover los apoyos de uno en uno.',
    body_before: (low, high) => `antes: de ${low} a ${high}`,
    narrowed: (times) => `${times} veces más estrecho que antes`,
    learned_nothing: 'todavía no se ha aprendido nada',
    open: 'Asientos y apoyos que pueden estar en el aire',
    open_none: 'No se cree que ninguno esté en el aire.',
    open_chance: (place, chance) => `${place}: en el aire, probabilidad ${chance}`,
    air: (height) => `unos ${height} de hueco`,
    bearing: (n, side) => `asiento de la junta ${n}, ${side}`,
    loads: 'Lo que lleva cada apoyo',
    loads_pm: 'barra: ahora, con su margen del 95 %; marca: lo que debería llevar',
    judged: 'Qué se juzgó de las lecturas',
    verdict: { holds: 'se cumple', fails: 'no se cumple', cannot_judge: 'no se puede juzgar' },
    judgement: {
      parity: 'Sumas de las secciones',
      roll: 'Izquierda contra derecha en conjunto',
      map: 'Qué lectura es de qué apoyo',
      excitation: 'Alimentación',
      no_load: 'Lecturas sin carga',
      grout: 'Hueco para el mortero',
      conditions: 'Condiciones de las lecturas',
    },
    assumed: 'Supuesto, no está en el fichero de la báscula',
    assumed_count: (n) => `${n} ${n === 1 ? 'valor supuesto' : 'valores supuestos'}`,
    likely_range: 'margen probable',
  },

  verdict: {
    title: 'La respuesta',
    share: 'Reparto de la carga muerta',
    trim: 'Ajuste de esquinas',
    span: 'Span',
    diagnosis: 'Causa',
    outcome: {
      in_tolerance: 'En tolerancia: no tocar los tornillos',
      turn: 'Todavía no',
      measure_first: 'Primero medir',
      cannot_fix: 'Ningún tornillo ni calza arregla esto',
      within: 'En tolerancia: no tocar los ajustes',
      adjust: 'Todavía no: poner los ajustes',
      learn: 'Primero, girar uno',
      more_places: 'Leer más sitios',
      cause_first: 'Primero, buscar la causa',
      leave: 'Dejar el span como está',
      set: 'Ajustar el span',
      open: 'Todavía no: hay algo antes',
    },
    probability_done: (chance) => `Probabilidad de que baste: ${chance}`,
    apart_pairs: (n, of) =>
      n === 0 ? `Las ${of} parejas coinciden` : `${n} de ${of} parejas demasiado distintas`,
    pair: (section) => `sección ${section}`,
    spread: 'los sitios difieren en',
    wanted: 'se quiere',
    then: 'después',
    then_expected: 'después, previsto',
    chance_within: (chance) => `probabilidad de cumplir: ${chance}`,
    slope: 'todo marca',
    shows: 'marca',
    shall_show: 'debe marcar',
    correction: 'multiplicar por',
    look: 'Mirar allí',
    gentler: 'O más suave',
    why: 'Por qué',
    will_read: 'Lo que marcará cada celda',
    causes: 'Lo que puede ser',
    off_now: 'error ahora',
    off_then: 'error después',
    place: 'sitio',
    because: 'Porque',
    band: 'franja: admitido',
    do_not_touch: 'Mientras tanto, no tocar',
  },

  phases: {
    title: 'El trabajo',
    count: (done, of) => `${done} de ${of} hechos`,
    all: 'Todos los pasos',
    why: 'por qué',
    here: 'ahora',
  },

  journal: {
    title: 'Diario',
    empty: 'Todavía no se ha anotado nada.',
    count: (n) => `${n} ${n === 1 ? 'apunte' : 'apuntes'}`,
    search: 'Buscar',
    search_hint: 'palabra, nombre o número',
    all_kinds: 'todo',
    show_kind: 'Mostrar',
    found: (n, of) => `${n} de ${of}`,
    undo: 'Retirar',
    undo_entry: (n) => `Retirar el apunte ${n}`,
    correct: 'Corregir',
    correct_entry: (n) => `Corregir el apunte ${n}`,
    redo: 'Que vuelva a contar',
    undone: 'retirado',
    corrected: 'corregido',
    corrects: 'corrige',
    damaged: 'dañado, no cuenta',
    undone_by: (n) => `retirado por ${n}`,
    corrected_by: (n) => `corregido por ${n}`,
    corrects_entry: (n) => `corrige ${n}`,
    rests: (list) =>
      `Lo que sigue se basa en ${list.length === 1 ? 'el apunte' : 'los apuntes'} ${list.join(', ')}`,
    basis: 'lo que sigue se basa en esto',
    show_basis: 'Ver solo estos',
    heads: 'Finales de las cadenas',
    heads_why:
      'Anotarlos junto a un informe: con ellos se comprueba después que el diario está entero.',
    head: (device, sequence) => `equipo ${device}, ${sequence}`,
    export: 'Guardar una copia (JSON Lines)',
    as_found: 'tal como se encontró',
    frozen: (n) => `Lo encontrado queda fijado por el apunte ${n}`,
    kinds: {
      visit: 'visita',
      deck: 'báscula',
      measurement: 'lectura',
      tick: 'marca',
      note: 'nota',
      undo: 'retirada',
      photo: 'foto',
      setting: 'parámetro',
      clearance: 'visto bueno para el mortero',
      release: 'liberada para carga',
      seal_broken: 'precinto roto',
      seal_applied: 'precinto puesto',
      counter: 'contador',
      cell_placed: 'celda en su sitio',
      cell_replaced: 'celda cambiada',
      pour: 'hormigón vertido',
      weather: 'tiempo',
      notice_sent: 'aviso enviado',
      tagged: 'señalada',
      settled: 'aclarado',
      occasion: 'motivo del ensayo',
      rulebook: 'reglamento',
      party: 'nombrado en el informe',
      item: 'lo que dicen las placas',
      report_issued: 'informe emitido',
      supplied: 'aportado por otros',
      opinion: 'opinión',
      rules_confirmed: 'reglamento cotejado con el impreso',
    },
    more: 'Ver apuntes anteriores',
    by: (author) => `de ${author}`,
  },

  test: test_es,

  // ---------------------------------------------------------------------------------------------
  // Forms, settings, connection, queue, practice: keys of the app follow here.
  // ---------------------------------------------------------------------------------------------
};
