/** Every text of the page, in English. The other languages have the same keys (type-checked).
 *  Sentences with figures or plurals are functions. Names of the API (steps, ticks, codes) are the
 *  keys of their tables, so that what the server names can be looked up. */

import { test_en } from './test_en';

/** What to do for one `next.code`; an empty list says: show what the server says. */
export interface ActionText {
  headline: string;
  how: string[];
  cautions: string[];
}

export interface TickText {
  says: string;
  todo: string;
  how: string[];
  cautions: string[];
}

const kLocal =
  'Local codes and licensed people decide how it may be done; nothing here replaces them.';
const kJacking =
  'Jack both sides of a section together, with packing that follows and lock-nuts, jacks for one and a half times the section’s load, rods slack. No hand between plate and cell; a cell that reads nothing is not proof that it is free. ' +
  kLocal;
const kLoads =
  'Weights and vehicles are moved by people licensed for it; nobody below or beside the deck while a load moves. ' +
  kLocal;
const kTestLoads =
  'Loads are driven, lifted and rigged by licensed people only, by the local code; nobody on, below or beside the deck while one moves.';
const kSupply = 'Supply off before a core is moved.';
const kSeal = 'A seal is broken only by whom the local law allows.';

export const en = {
  language: { code: 'en', own: 'English', choose: 'Language' },

  words: {
    now: 'now',
    then: 'then',
    expected: 'expected',
    before: 'before',
    left: 'left',
    right: 'right',
    end1: 'end 1',
    end2: 'end 2',
    stand: 'stand',
    section: (n: number) => `section ${n}`,
    module: (mark: string) => `module ${mark}`,
    yes: 'yes',
    no: 'no',
    unknown: 'not known',
    none: 'none',
    close: 'Close',
    entry: (n: number) => `entry ${n}`,
    /** "entries 4, 7" */
    entries: (list: number[]) =>
      list.length === 1 ? `entry ${list[0]}` : `entries ${list.join(', ')}`,
    rests_on: (list: number[]) =>
      list.length === 1 ? `rests on entry ${list[0]}` : `rests on entries ${list.join(', ')}`,
    over_99: 'over 99 %',
    under_1: 'under 1 %',
    up: 'up',
    down: 'down',
    turns: (n: number): string => (Math.abs(n) > 1 ? 'turns' : 'turn'),
    /** said before an English sentence that has no translation */
    in_english: '',
  },

  steps: {
    arrive: 'Arrived, traffic kept off',
    as_found: 'As found',
    receive: 'Received: cells read with no load',
    set_down: 'Set down and joined',
    wire: 'Wired, map of readings proven',
    dress: 'Dressed: conditions of a good reading',
    find_cause: 'Find the cause',
    new_cell: 'New cells: read with no load, leads proven',
    share: 'Dead-load balance',
    pour: 'Concrete poured',
    clear: 'Cleared for grout',
    release: 'Grouted and released for load',
    fix: 'Fixed: grouted, exercised, restraints set',
    trim: 'Corner adjustment',
    span: 'Span',
    prove: 'Test',
    report: 'Report',
    hand_over: 'Handed over',
    describe: 'Deck described',
  } as Record<string, string>,

  /** One word each, for the strip. */
  steps_short: {
    arrive: 'Closed off',
    as_found: 'As found',
    receive: 'Received',
    set_down: 'Set down',
    wire: 'Wired',
    dress: 'Dressed',
    find_cause: 'Cause',
    new_cell: 'New cells',
    share: 'Balance',
    pour: 'Poured',
    clear: 'Cleared',
    release: 'Released',
    fix: 'Fixed',
    trim: 'Corners',
    span: 'Span',
    prove: 'Test',
    report: 'Report',
    hand_over: 'Handed over',
    describe: 'Described',
  } as Record<string, string>,

  step_state: {
    done: 'done',
    open: 'open',
    blocked: 'waits',
    not_needed: 'not needed',
  } as Record<string, string>,

  /** By `next.code`. */
  actions: {
    tick: { headline: 'See to this, then tick it', how: [], cautions: [] },
    conditions: {
      headline: 'See to the conditions of a good reading',
      how: ['What is not ticked holds nothing back; it widens the doubt of what the cells read, and is told with the balance.'],
      cautions: [],
    },
    no_load: {
      headline: 'Read every cell with nothing on it',
      how: [
        'In its mount, upright, unloaded, warm. After lowering this can only be had by lifting the deck off, and without it a hidden load or a wrong cell can not be told from a heavy module.',
        'Where the deck stands on its cells already it is too late for this: tick below that cells and papers are checked.',
      ],
      cautions: [
        'A cell is unloaded by lifting the section from both sides on jacks with packing that follows; nobody under the deck.',
        kLocal,
      ],
    },
    map: {
      headline: 'Prove which reading belongs to which stand',
      how: [
        'Press or load each stand in turn and note which reading moves; where it is lifted, its section is jacked from both sides together. No vehicle on a deck that is not released for load, with stops fitted.',
        'Two cells on each other’s terminals leave the total and every corner right, and send every turn to the wrong stand.',
      ],
      cautions: [kJacking, kLoads],
    },
    exchanged: {
      headline: 'Put the cells on their own terminals',
      how: [
        'Power off, put the leads (or addresses) right, power on; then load these stands again and note which reading moves.',
      ],
      cautions: [kSupply, kSeal],
    },
    read_cells: {
      headline: 'Read every cell',
      how: [
        'On a box the signal leads are joined: a meter at any pair shows the mean of all cells. Power off, take S+ and S- of one cell off the box, leave its supply on, power on, read, put back.',
        'Steady DC supply; note what it is at the cell.',
      ],
      cautions: [kSupply],
    },
    read_corners: {
      headline: 'Put a load over every stand in turn',
      how: [
        'The same load everywhere; its mass need not be known. Zero read before and after each place; tracking and filters as found, noted; nobody on the deck.',
        'Going up and down at two places and one heavy place between sections tell faults that stands hide.',
      ],
      cautions: [kLoads],
    },
    more_places: {
      headline: 'Read what stands hide, before any trim is moved',
      how: [],
      cautions: [kLoads],
    },
    supply: {
      headline: 'Look at the supply before the span is moved this far',
      how: [
        'A bad contact in supply or sense cores lowers every reading by one part, like a span that was never set, and comes and goes with temperature.',
        'Look at both ends of the home cable, or measure supply and sense voltage at the box.',
      ],
      cautions: [kSupply, kSeal],
    },
    loads: {
      headline: 'Read known loads, up and down',
      how: [
        'Zero, then loads in steps up to the most that is at hand, and down again; stone or a vehicle may take the weights’ place.',
      ],
      cautions: [kLoads],
    },
    as_found: {
      headline: 'Take it as found, before anything is touched',
      how: [
        'Before cleaning, jacking, loosening rods, opening the box or breaking a seal: photos, zero, seals, counters and settings as they are.',
        'What it shows with nothing on it; then a load over every stand in turn, up and down, zero before and after. A whole test by the rulebook does as well.',
        'Digital cells each on the indicator’s own page. On a box every cell alone is worth opening it only where corners differ, zero wanders or a cause is looked for. It costs a seal: only by whom the local law allows, its number noted first, and who verifies again agreed before it is broken.',
      ],
      cautions: [kLoads],
    },
    move_stands: {
      headline: 'Move the stands, then read again',
      how: [],
      cautions: [kJacking],
    },
    pour: {
      headline: 'Pour the concrete, and say so',
      how: [
        'Coarsely balanced is enough: a slab makes a module several times as heavy and stiff against twisting, so every cell is read again once it is hard, and balanced then.',
        'Forms, bars, mix and propping as the drawing says; screws, cells and restraints covered, restraints slack.',
        'When it is hard, and when it may carry a load, is the engineer’s word; this tool does not say.',
        'Where it stood poured already when the cells were read: put the deck file right in the journal (correct the entry of the deck).',
      ],
      cautions: [
        'Wet concrete burns skin and eyes: gloves, goggles, boots. A pan full of it is at its heaviest and carries nothing yet: nobody beneath it, no vehicle on it.',
        kLocal,
      ],
    },
    describe_cell: {
      headline: 'Find out which cell stands there',
      how: [
        'Its label, its certificate, or the delivery note: capacity and output. Millivolts of a cell that nobody knows are no load.',
        'Where nothing of it can be read: a cell that is known in its place.',
      ],
      cautions: [kJacking],
    },
    measure_first: { headline: 'Measure this before anything is turned', how: [], cautions: [] },
    no_move: { headline: 'No screw or shim mends this: look elsewhere', how: [], cautions: [] },
    trims: { headline: 'Set the trims, then read every place again', how: [], cautions: [kLoads] },
    learn_trim: {
      headline: 'Turn one trim, the load staying there',
      how: [],
      cautions: [kLoads],
    },
    span: { headline: 'Set the span', how: [], cautions: [kLoads] },
    find_cause: { headline: 'Find the cause first', how: [], cautions: [] },
    mended: { headline: 'Mend it, then say so', how: [], cautions: [] },
    restraints_again: {
      headline: 'Slacken the restraint and set it again, level and in line',
      how: [
        'A rod out of level puts part of its thrust into the weight. Then read every cell again.',
      ],
      cautions: [kSupply],
    },
    no_trim: { headline: 'No trim mends this: read more, or look elsewhere', how: [], cautions: [kLoads] },
    describe: { headline: 'Describe the deck', how: [], cautions: [] },
    occasion: {
      headline: 'Say what the test is for',
      how: ['The limits depend on it. Where the local law says otherwise it holds.'],
      cautions: [],
    },
    weights: {
      headline: 'Write down the weights and vehicles at hand',
      how: [
        'Of each weight: its name, nominal mass, how many alike, class, certificate with its date of expiry; length and width of what it stands on.',
        'How it is handled. Vehicles of unknown mass belong to it too: they serve as substitution and rolling loads.',
        'A standard without a valid certificate is no standard.',
      ],
      cautions: [],
    },
    test_plan: { headline: 'The test can’t be made with these weights', how: [], cautions: [] },
    test: { headline: 'Place the load and read', how: [], cautions: [kTestLoads] },
    test_failed: {
      headline: 'The test is not passed',
      how: [],
      cautions: [kTestLoads],
    },
    test_guarded: { headline: 'Within the limits, inside the guard band', how: [], cautions: [kTestLoads] },
    test_incomplete: { headline: 'The test is not complete', how: [], cautions: [kTestLoads] },
    report: {
      headline: 'Issue the report',
      how: [
        'Customer, laboratory (your company) and who signs, what the plates say, counters and seals as left: what is not on record is named so on paper.',
        'Look the draft through, then give it a number. A report that replaces an earlier one says which, and why.',
        'It is a test report. Whether the scale may be used for trade is for the authority to say.',
      ],
      cautions: [],
    },
    clearance: {
      headline: 'Clear it for grout, with a name',
      how: [
        'A level on every plate, both ways, after the last turn; every screw hand-firm, none loose.',
        'Grout ends what screws can do: what is left then is a shim.',
      ],
      cautions: [],
    },
    release: {
      headline: 'Release it for load, with grounds and a name',
      how: [
        'Not before the bag’s time at the temperature logged there, or a cube that was broken: what it broke at, what is asked for, how old it was.',
        'Or an engineer, or an inspection, with what was found. Concrete decks by the engineer.',
        'When grout was placed, where that is not when it was ticked. This tool does not say when: a person does.',
      ],
      cautions: [
        'No load before it is released: a plate that breaks loose drops the deck. Nobody under it.',
        kLocal,
      ],
    },
    left_open: {
      headline: 'Handed over with these left open',
      how: [],
      cautions: [],
    },
    nothing: {
      headline: 'Nothing is open',
      how: ['When somebody comes back: begin a visit, then take it as found.'],
      cautions: [],
    },
  } as Record<string, ActionText>,

  /** Headlines that count. */
  counted: {
    move_stands: (n: number) => `Move ${n} ${n === 1 ? 'stand' : 'stands'}, then read again`,
    trims: (n: number) => `Set ${n} ${n === 1 ? 'trim' : 'trims'}, then read every place again`,
    read_cells_again: 'Read every cell again',
    read_corners_again: 'Put the load over the stands again',
    loads_again: 'Read the known loads again',
    test: (name: string, n: number, of: number) => `${name} (${n} of ${of})`,
    learn_trim: (stand: string) => `Turn the trim of ${stand}, the load staying there`,
  },

  /** By name of the tick. */
  ticks: {
    locked_out: {
      says: 'traffic is kept off: barriers, keys, somebody told',
      todo: 'Keep traffic off',
      how: ['Close the approach, keep the keys, tell who runs the site.'],
      cautions: [
        'Barriers, keys and a person told: nobody may drive on while somebody is below. A pit is a confined space: gas test, second person, water out.',
        kLocal,
      ],
    },
    received: {
      says: 'pieces, cells and their papers are checked',
      todo: 'Check pieces, cells and papers',
      how: [],
      cautions: [],
    },
    set_down: {
      says: 'modules are joined in order, bolted, and stand on their cells',
      todo: 'Set down, join and bolt the modules',
      how: [
        'Pads surveyed, plates and screws in place, halves and modules joined in order and bolted as the drawing says, then lowered onto their cells.',
        'A survey of the stand tops is worth more than a lowering: add it.',
      ],
      cautions: [
        'Nobody under a hanging load. Modules are set down on blocks, never craned onto cells; half modules are propped until bolted. No welding with cells in place.',
        kLocal,
      ],
    },
    wired: {
      says: 'every cell is readable alone, warm for half an hour',
      todo: 'Wire up, and warm up for half an hour',
      how: ['Box, leads and supply; every cell readable alone; half an hour warm.'],
      cautions: [
        'Supply off before a core is moved. No insulation tester on a line that has an indicator on it.',
        kLocal,
      ],
    },
    panels_on: {
      says: 'all that stays on the deck is on it, or noted as still to come',
      todo: 'Put on all that stays on the deck',
      how: [],
      cautions: [],
    },
    rods_slack: {
      says: 'restraints are slack',
      todo: 'Slacken the restraints',
      how: [],
      cautions: [],
    },
    nothing_touches: {
      says: 'the deck touches nothing but its stands',
      todo: 'See that the deck touches nothing',
      how: [],
      cautions: [],
    },
    nobody_on_deck: {
      says: 'nobody and nothing foreign was on the deck while it was read',
      todo: 'Keep the deck clear while it is read',
      how: [],
      cautions: [],
    },
    warm: {
      says: 'supply was on for half an hour',
      todo: 'Leave the supply on for half an hour',
      how: [],
      cautions: [],
    },
    same_meter: {
      says: 'meter and supply are the same as last time, steady DC',
      todo: 'Use the same meter and supply',
      how: [],
      cautions: [],
    },
    grouted: {
      says: 'the plates are grouted: screws no longer turn',
      todo: 'Grout the plates',
      how: [
        'Form, mix and pour as the bag and the drawing say. From here on screws do not turn.',
        'Log the temperature at the plates from now on: the maker’s time holds at it.',
        'Where plates stand on steel pads, are bolted, or stand for a time only, there is no grout: record a release (More) instead.',
      ],
      cautions: ['Wet grout and its dust burn: gloves, goggles, mask.', kLocal],
    },
    cured: {
      says: 'the grout has set, as somebody saw it; that opens nothing: a release does',
      todo: 'Let the grout cure',
      how: ['What opens the deck for load is a release, with its grounds and a name.'],
      cautions: [
        'No load before the grout carries: a plate that breaks loose drops the deck.',
        kLocal,
      ],
    },
    anchors_tight: {
      says: 'anchors are tight, screws backed off or left as the drawing says',
      todo: 'Tighten the anchors',
      how: ['Anchors to the drawing’s torque; screws backed off or left, as the drawing says.'],
      cautions: [
        'Hands and tools out from between deck, plate and wall before anything is tightened or pulled.',
        kLocal,
      ],
    },
    stops_fitted: {
      says: 'stops against run-away are fitted, slack',
      todo: 'Fit the stops against run-away',
      how: [
        'Stops or bumpers in their places, slack: the deck stays free to be read, and can’t run away under a vehicle. They are set after the exercise.',
      ],
      cautions: [
        'No vehicle before they are in: a deck on rockers runs away under the first brakes. Hands out from between deck, stop and wall.',
        kLocal,
      ],
    },
    exercised: {
      says: 'a loaded vehicle passed both ways and braked, three to five times',
      todo: 'Exercise the deck with a loaded vehicle',
      how: ['Three to five passes of a loaded vehicle each way, with braking.'],
      cautions: [
        'A moving truck: nobody beside or below the deck, brakes tried at walking pace first.',
        kLocal,
      ],
    },
    restraints_set: {
      says: 'restraints are set as the drawing says',
      todo: 'Set the restraints',
      how: [
        'Rods hand-tight, level and in line, or bumper gaps as the drawing says at the steel’s temperature now. Then every cell and zero must read as before: read them again.',
      ],
      cautions: [
        'A rod under tension or a deck that shifts pinches hands between deck and wall: nobody in the gap while a restraint is tightened.',
        kLocal,
      ],
    },
    mended: {
      says: 'a fault was found and mended (remark: which, how)',
      todo: 'Mend what was found',
      how: [],
      cautions: [],
    },
    nothing_found: {
      says: 'what was suspected was looked for and not found (remark: where, by whom)',
      todo: 'Go on though a question is open',
      how: [],
      cautions: [],
    },
    balance_accepted: {
      says: 'left and right differ, and that is accepted (remark: why)',
      todo: 'Accept that left and right differ',
      how: [],
      cautions: [],
    },
    tested: {
      says: 'test loads were placed and judged by the rulebook in force',
      todo: 'Test with known loads',
      how: [
        'Test loads placed and judged by the rulebook in force, by other means than this page.',
      ],
      cautions: [kLoads],
    },
    handed_over: {
      says: 'papers handed over, authority told where the law asks it',
      todo: 'Hand over',
      how: [
        'Seals applied and written down, counters and settings as left, papers handed over, notice sent where the law asks it.',
      ],
      cautions: [
        'People, jacks, blocks and tools out from under the deck before the barriers open.',
        kLocal,
      ],
    },
  } as Record<string, TickText>,

  units: {
    kg: 'kg',
    lb: 'lb',
    mm: 'mm',
    in: 'in',
    m: 'm',
    ft: 'ft',
    mV: 'mV',
    mV_per_V: 'mV/V',
    counts: 'counts',
    ohm: 'Ω',
    turn: 'turn',
    metric: 'kg, mm',
    us: 'lb, in',
  } as Record<string, string>,

  plan: {
    title: (name: string) => `Plan of ${name}`,
    no_deck: 'No deck is described yet.',
    /** What the drawing says, for who can not see it. */
    describe: (modules: number, sections: number, length: string) =>
      `${modules} ${modules === 1 ? 'module' : 'modules'} on ${sections} sections, ${length} long, seen from above. End 1 comes first.`,
    hangs: (stands: string) => `A bearing may hang: ${stands}`,
    key_load: 'load on a stand',
    key_expected: 'what it should carry',
    key_then: 'after the move',
    key_apart: 'left and right too far apart',
    key_rests: 'rests on',
    key_hangs: 'hangs: air under the bearing',
    key_lit: 'here',
    key_title: 'Key',
    hangs_word: 'hangs',
    /** Short, for the drawing. */
    end1: 'end 1',
    end2: 'end 2',
    left: 'left',
    right: 'right',
    turn: 'Turn the plan round',
    /** "Stand 2L, 1470 kg, should be 2540 kg" */
    stand_says: (stand: string, load: string, expected: string) =>
      `Stand ${stand}` + (load ? `, ${load}` : ', not read') + (expected ? `, should be ${expected}` : ''),
    lit_here: 'act here',
    free: 'may be free',
    pair_says: (section: number, difference: string, within: boolean) =>
      `Section ${section}: left less right ${difference}, ${within ? 'near enough' : 'too far apart'}`,
    within: 'near enough',
    apart: 'too far apart',
    left_less_right: 'left less right',
    joint_says: (rests: string) => `Joint, ${rests}`,
    joint_rigid: 'bolted together',
    rests_on: (upper: string, lower: string) => `${upper} rests on ${lower}`,
    show: 'Figures on the plan',
    figures: { load: 'load', reading: 'reading', then: 'then', live: 'live' } as Record<string, string>,
  },

  detail: {
    title: (stand: string) => `Stand ${stand}`,
    where: (section: number, side: string, at: string) => `section ${section}, ${side}, ${at} from end 1`,
    cell: 'cell',
    cell_said: {
      unwritten: 'serial number not written down',
      unknown: 'serial number unknown',
      certificate: (number: string) => `certificate ${number}`,
      before: (words: string) => `before: ${words}`,
      not_known: { capacity: 'capacity unknown', output: 'output unknown' } as Record<string, string>,
    },
    tag: 'in the box',
    adjust: 'is adjusted by',
    adjust_by: { screws: 'screws', shims: 'shims', none: 'nothing' } as Record<string, string>,
    load: 'carries',
    expected: 'should carry',
    then: 'after the move',
    reads: 'reads',
    will_read: 'will read',
    pair: 'with its partner',
    pair_apart: (partner: string, difference: string) => `${difference} more than ${partner}`,
    pair_less: (partner: string, difference: string) => `${difference} less than ${partner}`,
    pair_even: (partner: string) => `as much as ${partner}`,
    tolerance: (figure: string) => `allowed: ${figure}`,
    free: (chance: string) => `Carries nothing, chance ${chance}.`,
    no_load_known: 'its reading with nothing on it is known',
    no_load_unknown: 'never read with nothing on it',
    live: 'live',
    no_live: 'no instrument shows this stand',
    not_read: 'not read yet',
  },

  live: {
    title: 'Live readings',
    stable: 'stable',
    moving: 'moving',
    stale: 'old',
    bad: 'bad',
    silent: 'silent',
    unexplained: 'unexplained',
    age: (seconds: number) => (seconds < 2 ? 'just now' : `${seconds} s ago`),
    age_minutes: (minutes: number) => `${minutes} min ago`,
    last: (seconds: number) => `last ${seconds} s`,
    spark: (place: string, word: string) => `${place}: course of the last half minute, ${word}`,
    no_value: 'no value',
    indication: 'indicator',
    instruments: 'Instruments',
    instrument_state: {
      connected: 'connected',
      connecting: 'connecting',
      waiting: 'waiting to try again',
      refused: 'refused',
      not_allowed: 'waits for a yes at the serving machine',
    } as Record<string, string>,
    next_try: (seconds: number) => `next try in ${seconds} s`,
    mean_of: (samples: number) => `mean of ${samples}`,
  } ,

  cautions: { title: 'Caution', region: 'Cautions' },

  belief: {
    title: 'What is believed of the deck',
    none: 'Nothing yet: read the cells first.',
    twisting: 'How stiff each body is against twisting',
    twisting_unit: 'MN m²',
    twisting_why:
      'The softer a module twists, the more a screw must turn. Thin line: what was known before; bar: what the readings leave.',
    body: (low: string, middle: string, high: string) => `${middle} MN m², likely ${low} to ${high}`,
    map_open:
      'Load each stand in turn and note which reading moves. Until then move one stand at a time.',
    body_before: (low: string, high: string) => `before: ${low} to ${high}`,
    narrowed: (times: string) => `${times} times narrower than before`,
    learned_nothing: 'nothing learned yet',
    open: 'Bearings and stands that may hang',
    open_none: 'None is believed to hang.',
    open_chance: (place: string, chance: string) => `${place}: hangs, chance ${chance}`,
    air: (height: string) => `about ${height} of air`,
    bearing: (n: string, side: string) => `bearing at joint ${n}, ${side}`,
    loads: 'What each stand carries',
    loads_pm: 'bar: now, with its 95 % range; tick: what it should carry',
    judged: 'What was judged of the readings',
    verdict: {
      holds: 'holds',
      fails: 'does not hold',
      cannot_judge: 'can’t be judged',
    } as Record<string, string>,
    judgement: {
      parity: 'Sums of sections',
      roll: 'Left against right as a whole',
      map: 'Which reading is which stand’s',
      excitation: 'Supply',
      no_load: 'Readings with no load',
      grout: 'Gap for grout',
      conditions: 'Conditions of the readings',
    } as Record<string, string>,
    assumed: 'Assumed, not in the deck file',
    assumed_count: (n: number) => `${n} ${n === 1 ? 'value is' : 'values are'} assumed`,
    likely_range: 'likely range',
  },

  verdict: {
    title: 'The answer',
    share: 'Dead-load balance',
    trim: 'Corner adjustment',
    span: 'Span',
    diagnosis: 'Cause',
    outcome: {
      in_tolerance: 'In tolerance: leave the screws alone',
      turn: 'Not yet',
      measure_first: 'Measure first',
      cannot_fix: 'No screw or shim mends this',
      within: 'In tolerance: leave the trims alone',
      adjust: 'Not yet: set the trims',
      learn: 'One turn first',
      more_places: 'Read more places',
      cause_first: 'Find the cause first',
      leave: 'Leave the span alone',
      set: 'Set the span',
      open: 'Not yet: something comes first',
    } as Record<string, string>,
    probability_done: (chance: string) => `Chance that this is enough: ${chance}`,
    apart_pairs: (n: number, of: number) =>
      n === 0 ? `All ${of} pairs agree` : `${n} of ${of} pairs too far apart`,
    pair: (section: number) => `section ${section}`,
    spread: 'places differ by',
    wanted: 'wanted',
    then: 'then',
    then_expected: 'then, expected',
    chance_within: (chance: string) => `chance to be within: ${chance}`,
    slope: 'everything reads',
    shows: 'shows',
    shall_show: 'shall show',
    correction: 'multiply by',
    look: 'Look there',
    gentler: 'Or gentler',
    why: 'Why',
    will_read: 'What every cell will read then',
    causes: 'What it may be',
    off_now: 'off now',
    off_then: 'off then',
    place: 'place',
    because: 'Because',
    band: 'band: allowed',
    do_not_touch: 'Leave these alone meanwhile',
  },

  phases: {
    title: 'The job',
    count: (done: number, of: number) => `${done} of ${of} done`,
    all: 'All steps',
    why: 'why',
    here: 'now',
  },

  journal: {
    title: 'Journal',
    empty: 'Nothing was entered yet.',
    count: (n: number) => `${n} ${n === 1 ? 'entry' : 'entries'}`,
    search: 'Search',
    search_hint: 'word, name or number',
    all_kinds: 'everything',
    show_kind: 'Show',
    found: (n: number, of: number) => `${n} of ${of}`,
    undo: 'Take back',
    undo_entry: (n: number) => `Take back entry ${n}`,
    correct: 'Correct',
    correct_entry: (n: number) => `Correct entry ${n}`,
    redo: 'Count it again',
    undone: 'taken back',
    corrected: 'corrected',
    corrects: 'corrects',
    damaged: 'damaged, not counted',
    undone_by: (n: number) => `taken back by ${n}`,
    corrected_by: (n: number) => `corrected by ${n}`,
    corrects_entry: (n: number) => `corrects ${n}`,
    rests: (list: number[]) =>
      `The next action rests on ${list.length === 1 ? 'entry' : 'entries'} ${list.join(', ')}`,
    basis: 'the next action rests on this',
    show_basis: 'Show only these',
    heads: 'Ends of the chains',
    heads_why: 'Write these down with a report: a journal can be checked against them later.',
    head: (device: string, sequence: number) => `device ${device}, ${sequence}`,
    export: 'Keep a copy (JSON Lines)',
    as_found: 'as found',
    frozen: (n: number) => `As found is frozen by entry ${n}`,
    kinds: {
      visit: 'visit',
      deck: 'deck',
      measurement: 'reading',
      tick: 'tick',
      note: 'note',
      undo: 'taken back',
      photo: 'photo',
      setting: 'setting',
      clearance: 'cleared for grout',
      release: 'released for load',
      seal_broken: 'seal broken',
      seal_applied: 'seal applied',
      counter: 'counter',
      cell_placed: 'cell in place',
      cell_replaced: 'cell replaced',
      pour: 'concrete poured',
      weather: 'weather',
      notice_sent: 'notice sent',
      tagged: 'tagged',
      settled: 'settled',
      occasion: 'occasion of the test',
      rulebook: 'rulebook',
      party: 'named in the report',
      item: 'what the plates say',
      report_issued: 'report issued',
      supplied: 'supplied by others',
      opinion: 'opinion',
      rules_confirmed: 'rulebook compared with print',
    } as Record<string, string>,
    more: 'Show earlier entries',
    by: (author: string) => `by ${author}`,
  },

  test: test_en,

  // ---------------------------------------------------------------------------------------------
  // Forms, settings, connection, queue, practice: keys of the app follow here.
  // ---------------------------------------------------------------------------------------------
};

export type Texts = typeof en;
