/** What can hurt: every caution that the server gives, word for word, and what it warns of. A caution
 *  that is not read is none, so each has a rule here. */
import type { Rule } from './said_es';

const kWords: [string, string][] = [
  [
    'Local codes and licensed people decide how it may be done; nothing here replaces them.',
    'Las normas locales y el personal autorizado deciden cómo puede hacerse; nada de esto los sustituye.',
  ],
  [
    'On a real site wet concrete burns, and the engineer says when the slab may be stood on and loaded.',
    'En una obra real el hormigón fresco quema, y es el ingeniero quien dice cuándo se puede pisar y cargar la losa.',
  ],
  [
    'No vehicle before they are in: a deck on rockers runs away under the first brakes.',
    'Ningún vehículo antes de ponerlos: un puente sobre apoyos basculantes se escapa con la primera frenada.',
  ],
  [
    'Hands out from between deck, stop and wall.',
    'Manos fuera de entre puente, tope y muro.',
  ],
  [
    'Barriers, keys and a person told: nobody may drive on while somebody is below.',
    'Barreras, llaves y una persona avisada: nadie puede entrar con un vehículo mientras haya alguien debajo.',
  ],
  [
    'A pit is a confined space: gas test, second person, water out.',
    'Un foso es un espacio confinado: medir gases, segunda persona, sacar el agua.',
  ],
  [
    'Nobody under a hanging load.',
    'Nadie bajo una carga suspendida.',
  ],
  [
    'Modules are set down on blocks, never craned onto cells; half modules are propped until bolted.',
    'Los módulos se asientan sobre tacos, nunca con la grúa sobre las celdas; los medios módulos se apuntalan hasta atornillarlos.',
  ],
  [
    'No welding with cells in place.',
    'No soldar con las celdas puestas.',
  ],
  [
    'Supply off before a core is moved.',
    'Cortar la alimentación antes de mover un hilo.',
  ],
  [
    'No insulation tester on a line that has an indicator on it.',
    'Ningún medidor de aislamiento en una línea con un indicador conectado.',
  ],
  [
    'Wet concrete burns skin and eyes: gloves, goggles, boots.',
    'El hormigón fresco quema la piel y los ojos: guantes, gafas, botas.',
  ],
  [
    'A pan full of it is at its heaviest and carries nothing yet: nobody beneath it, no vehicle on it.',
    'Un módulo lleno de él pesa lo máximo y aún no aguanta nada: nadie debajo, ningún vehículo encima.',
  ],
  [
    'Wet grout and its dust burn: gloves, goggles, mask.',
    'El mortero fresco y su polvo queman: guantes, gafas, mascarilla.',
  ],
  [
    'No load before the grout carries: a plate that breaks loose drops the deck.',
    'Ninguna carga antes de que el mortero aguante: una placa que se suelta deja caer el puente.',
  ],
  [
    'A moving truck: nobody beside or below the deck, brakes tried at walking pace first.',
    'Un camión en marcha: nadie al lado ni debajo del puente, probar antes los frenos al paso.',
  ],
  [
    'Hands and tools out from between deck, plate and wall before anything is tightened or pulled.',
    'Manos y herramientas fuera de entre puente, placa y muro antes de apretar o tirar de nada.',
  ],
  [
    'A rod under tension or a deck that shifts pinches hands between deck and wall: nobody in the gap while a restraint is tightened.',
    'Un tirante en tensión o un puente que se corre atrapa las manos entre puente y muro: nadie en el hueco mientras se aprieta un tirante o tope.',
  ],
  [
    'People, jacks, blocks and tools out from under the deck before the barriers open.',
    'Personas, gatos, calzos y herramientas fuera de debajo del puente antes de abrir las barreras.',
  ],
  [
    'A cell is unloaded by lifting the section from both sides on jacks with packing that follows; nobody under the deck.',
    'Una celda se descarga levantando la sección por los dos lados con gatos, con calzos que siguen; nadie debajo del puente.',
  ],
  [
    "Jack both sides of a section together, with packing that follows and lock-nuts, jacks for one and a half times the section's load, rods slack.",
    'Subir con gatos los dos lados de la sección a la vez, con calzos que sigan y tuercas de seguridad, gatos para vez y media la carga de la sección, tirantes flojos.',
  ],
  [
    'No hand between plate and cell; a cell that reads nothing is not proof that it is free.',
    'Ninguna mano entre placa y celda; que una celda marque nada no prueba que esté libre.',
  ],
  [
    'Weights and vehicles are moved by people licensed for it; nobody below or beside the deck while a load moves.',
    'Pesas y vehículos los mueve quien tiene permiso para ello; nadie debajo ni al lado del puente mientras se mueve una carga.',
  ],
  [
    'A seal is broken only by whom the local law allows.',
    'Un precinto solo lo rompe quien la ley local autoriza.',
  ],
  [
    'A seal is broken only by whom the local law allows, its number noted first.',
    'Un precinto solo lo rompe quien la ley local autoriza, anotado antes su número.',
  ],
  [
    "Jack both sides of a section together, each jack good for 1.5 times the section's load; lock-nut down, follow with packing.",
    'Subir con gatos los dos lados de la sección a la vez, cada gato para 1.5 veces la carga de la sección; tuerca de seguridad abajo, seguir con calzos.',
  ],
  [
    'Never trust a reading of zero as free.',
    'Nunca dar por libre una celda porque marque cero.',
  ],
  [
    'Loads on the deck only where it is grouted, cured and restrained; weights and trucks moved by licensed people; nobody below or beside the deck while a load moves.',
    'Cargas sobre el puente solo con el mortero fraguado y los topes puestos; pesas y camiones los mueve quien tiene permiso; nadie debajo ni al lado del puente mientras se mueve una carga.',
  ],
  [
    'Loads on the deck only where it is grouted, cured and restrained; nobody below or beside the deck while a load moves.',
    'Cargas sobre el puente solo con el mortero fraguado y los topes puestos; nadie debajo ni al lado del puente mientras se mueve una carga.',
  ],
  [
    'Box open: dry, no mains work, seals noted first (number, by whose authority broken).',
    'Caja abierta: en seco, sin trabajos en la red eléctrica, precintos anotados antes (número, por orden de quién se rompen).',
  ],
  [
    'Local codes go before this page.',
    'Las normas locales van antes que esta página.',
  ],
  [
    'Test weights and trucks moved by licensed people; nobody below or beside the deck while a load moves.',
    'Pesas y camiones los mueve quien tiene permiso; nadie debajo ni al lado del puente mientras se mueve una carga.',
  ],
  [
    'Before a lead is lifted: indicator off and unplugged from the mains, traffic locked out, nobody under the deck, no thunderstorm near.',
    'Antes de soltar un cable: indicador apagado y desenchufado de la red, paso cerrado, nadie debajo del puente, ninguna tormenta cerca.',
  ],
  [
    'Local electrical codes and licensed-practice rules hold.',
    'Valen las normas eléctricas locales y las del oficio autorizado.',
  ],
  [
    "Insulation tester only on a cell that is off the box and off the indicator, all its cores together against screen and body, at 50 V DC at most or what the cell's sheet allows; discharge it before you touch or reconnect it.",
    'Medidor de aislamiento solo en una celda fuera de la caja y del indicador, todos sus hilos juntos contra malla y cuerpo, a 50 V continua como máximo o lo que permita la hoja de la celda; descargarla antes de tocarla o conectarla.',
  ],
  [
    'Only with the load off this plate: jack both sides of the section together, lock the nuts, follow with packing; no hand between plate and cell.',
    'Solo sin carga en esta placa: subir con gatos los dos lados de la sección a la vez, bloquear las tuercas, seguir con calzos; ninguna mano entre placa y celda.',
  ],
  [
    'Which way raises is not known: turn one screw 1/4 turn and look.',
    'No se sabe hacia dónde sube: girar un tornillo 1/4 de vuelta y mirar.',
  ],
  [
    'On a real site: power off before a cell is taken off the box; note the colours first.',
    'En una báscula real: cortar la alimentación antes de soltar una celda de la caja; anotar antes los colores.',
  ],
  [
    'On a real site: cell off box and indicator, 50 V DC at most.',
    'En una báscula real: celda fuera de la caja y del indicador, 50 V continua como máximo.',
  ],
  [
    'On a real site: traffic locked out, both sides of a section jacked together, packing follows, no hand between plate and cell.',
    'En una báscula real: paso cerrado, los dos lados de la sección subidos con gatos a la vez, calzos que siguen, ninguna mano entre placa y celda.',
  ],
  [
    'On a real site: loads moved by licensed people, nobody below or beside the deck meanwhile.',
    'En una báscula real: las cargas las mueve quien tiene permiso, nadie debajo ni al lado del puente mientras tanto.',
  ],
  [
    "On a real site a load comes on when the bag's time at the measured temperature is over, or a cube says so.",
    'En una báscula real se carga cuando pasó el tiempo del saco a la temperatura medida, o cuando lo dice una probeta.',
  ],
  [
    'On a real site a seal is broken only by whom the local law allows, its number noted first.',
    'En una báscula real un precinto solo lo rompe quien la ley local autoriza, anotado antes su número.',
  ],
  [
    'Take it off; look at plates, stands and restraints before anything else.',
    'Quitarla; antes de nada más, mirar placas, apoyos, tirantes y topes.',
  ],
  [
    'Loads are driven, lifted and rigged by licensed people only, by the local code; nobody on, below or beside the deck while one moves.',
    'Las cargas las conduce, levanta y amarra solo quien tiene permiso, según las normas locales; nadie encima, debajo ni al lado del puente mientras se mueve una.',
  ],
  ['Look at plates, stands and restraints.', 'Mirar placas, apoyos, tirantes y topes.'],
  ['Fit them before the next one.', 'Ponerlos antes del siguiente.'],
  [
    'Screws turn no more; until the cells are read after the release and agree, the balance is owed, by shims.',
    'Los tornillos ya no giran; hasta que las celdas se lean después de la liberación y coincidan, el reparto sigue pendiente, con chapas.',
  ],
  ['No load before a release that does.', 'Ninguna carga antes de una liberación que valga.'],
  [
    'A release is owed, with its grounds and a name.',
    'Falta una liberación, con su fundamento y un nombre.',
  ],
  [
    'On a practice site time is played: the release was not compared with the clock.',
    'En una báscula de práctica el tiempo es de juego: la liberación no se comparó con el reloj.',
  ],
  [
    'No load before it is released: a plate that breaks loose drops the deck.',
    'Ninguna carga antes de liberarla: una placa que se suelta deja caer el puente.',
  ],
  ['Nobody under it.', 'Nadie debajo.'],
  [
    'No load comes onto a deck that is not fixed.',
    'Ninguna carga sobre un puente que no está fijado.',
  ],
];

const entries = (word = 'Entry'): string => (word === 'Entry' ? 'Apunte' : 'Apuntes');
const literal = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

export const kCautionRules: Rule[] = [
  [
    /^Entries (\d+) and (\d+) carry one number of one device: a copy of the file was worked on\.$/,
    ([a, b]) => `Los apuntes ${a} y ${b} llevan el mismo número de un mismo aparato: se trabajó en una copia del fichero.`,
  ],
  [/^Both are kept and both count\.$/, () => 'Quedan los dos y cuentan los dos.'],
  [
    /^Entries (\d+) and (\d+) correct the same entry, made apart; the later in order counts\.$/,
    ([a, b]) => `Los apuntes ${a} y ${b} corrigen el mismo apunte, hechos por separado; cuenta el posterior.`,
  ],
  [
    /^Entry (\d+) undoes what entry (\d+) corrects, made apart; it is undone\.$/,
    ([a, b]) => `El apunte ${a} retira lo que corrige el ${b}, hechos por separado; queda retirado.`,
  ],
  [
    /^Entries (\d+) and (\d+) describe the deck in two ways, made apart; the later in order counts\.$/,
    ([a, b]) => `Los apuntes ${a} y ${b} describen la báscula de dos modos, hechos por separado; cuenta el posterior.`,
  ],
  [
    /^Entries (\d+) and (\d+) tick and untick one thing, made apart; the later in order counts\.$/,
    ([a, b]) => `Los apuntes ${a} y ${b} marcan y quitan lo mismo, hechos por separado; cuenta el posterior.`,
  ],
  [
    /^Entry (\d+) moved something and entry (\d+) was read, made apart: nobody knows which came first\.$/,
    ([a, b]) => `El apunte ${a} movió algo y el ${b} se leyó, hechos por separado: nadie sabe qué fue antes.`,
  ],
  [/^Read again\.$/, () => 'Leer otra vez.'],
  ...kWords.map(([english, spanish]): Rule => [new RegExp(`^${literal(english)}$`), () => spanish]),
  [
    /^(Entry|Entries) ([\d, ]+): a load stood on a deck that is not released for load\.$/,
    ([word, list]) => `${entries(word)} ${list}: hubo una carga sobre un puente que no está liberado para carga.`,
  ],
  [
    /^(Entry|Entries) ([\d, ]+): a load stood on the deck before it was released for load\.$/,
    ([word, list]) => `${entries(word)} ${list}: hubo una carga sobre el puente antes de liberarlo para carga.`,
  ],
  [
    /^(Entry|Entries) ([\d, ]+): a load or a vehicle came before stops against run-away were fitted\.$/,
    ([word, list]) => `${entries(word)} ${list}: llegó una carga o un vehículo antes de poner los topes contra el desplazamiento.`,
  ],
  [
    /^Entry (\d+): the plates were grouted without being cleared for it\.$/,
    ([n]) => `Apunte ${n}: se puso el mortero sin visto bueno.`,
  ],
  [
    /^Entry (\d+): this release does not hold(?:; (.+))?\.$/,
    ([n, why]) => `Apunte ${n}: esta liberación no vale` + (why ? `; ${why}.` : '.'),
  ],
  [
    /^Entry (\d+): a tick that grout has set opens nothing\.$/,
    ([n]) => `Apunte ${n}: marcar que el mortero ha fraguado no abre nada.`,
  ],
  [
    /^Entry (\d+): the visit is called service, and the installation is not finished: it goes on, with what it still owes\.$/,
    ([n]) => `Apunte ${n}: la visita se llama de servicio y la instalación no está acabada: sigue, con lo que aún debe.`,
  ],
];
