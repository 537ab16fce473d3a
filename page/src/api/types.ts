// What the server says and takes: docs/page-api.md, in types. Keys and units as there; `null` where
// a number can not be had. Positions: x from end 1, y left positive.

export interface Fault {
  file: string;
  line: number | null;
  column: number | null;
  what: string;
  expected: string;
}

export interface Session {
  let_in: boolean;
  lan: boolean;
  practice: boolean;
  version: string;
}

export type Code =
  | 'tick'
  | 'conditions'
  | 'no_load'
  | 'map'
  | 'exchanged'
  | 'read_cells'
  | 'read_corners'
  | 'more_places'
  | 'supply'
  | 'loads'
  | 'as_found'
  | 'move_stands'
  | 'measure_first'
  | 'no_move'
  | 'trims'
  | 'learn_trim'
  | 'span'
  | 'find_cause'
  | 'mended'
  | 'restraints_again'
  | 'no_trim'
  | 'describe'
  | 'nothing'
  | 'occasion'
  | 'weights'
  | 'test_plan'
  | 'test'
  | 'test_failed'
  | 'test_incomplete'
  | 'report';

export type FormKind =
  | 'readings'
  | 'no_load'
  | 'map'
  | 'shift'
  | 'loads'
  | 'turns'
  | 'trims'
  | 'gaps'
  | 'looks'
  | 'zeros'
  | 'electrics'
  | 'weights'
  | 'proof';

export interface AskColumn {
  name: string;
  unit: string;
  number: boolean;
  required: boolean;
  /** Which live value may fill it: that of the row's stand, the indication, the phone's clock, or
   *  nothing. */
  live: '' | 'stand' | 'indication' | 'time';
  /** "up|down": what may stand in it; empty or left out: anything. */
  one_of?: string;
}

export interface AskRow {
  key: string;
  /** Stands that light up on the plan. */
  where: string[];
  given: Record<string, string>;
  /** What to do there; empty where `next` says it. */
  says: string;
}

export interface TableAsk {
  kind: 'table';
  name: string;
  form: FormKind;
  key: string;
  columns: AskColumn[];
  rows: AskRow[];
  open_rows: boolean;
  /** What to do, where the headline does not say it; may be left out. */
  sentence?: string;
  practice: string[];
}

export interface TickAsk {
  kind: 'tick';
  name: string;
  sentence: string;
  remark: boolean;
  practice: string[];
}

export interface EntryField {
  name: string;
  says: string;
  /** "found|left"; empty: anything. */
  one_of: string;
  given: string;
  required?: boolean;
  /** What its value may be; the server checks it. */
  kind?: 'text' | 'choice' | 'number' | 'whole' | 'quantity' | 'date' | 'local_time' | 'stand' | 'country' | 'hash' | 'token';
  /** A value that would be right; empty: any text. */
  example?: string;
  /** "from -60 to 60"; empty. */
  range?: string;
}

export interface EntryAsk {
  kind: 'entry';
  name: string;
  fields: EntryField[];
  practice: string[];
}

export type Ask = TableAsk | TickAsk | EntryAsk;

export interface Next {
  step: string;
  code: Code;
  headline: string;
  how: string[];
  cautions: string[];
  then: string;
  table: string | null;
  entries: number[];
  asks: Ask[];
}

export interface PlanModule {
  mark: string;
  start_m: number;
  end_m: number;
  width_m: number;
  construction: string;
}

export interface PlanJoint {
  at_m: number;
  kind: string;
  across_m: number | null;
  /** rests | hangs, of the bearing on that side. */
  left: string;
  right: string;
  /** "A on B"; empty where nothing rests on the other. */
  rests: string;
}

export interface PlanStand {
  stand: string;
  section: number;
  x_m: number;
  y_m: number;
  tag: string | null;
  adjust: string;
  load_N: number | null;
  u_load_N: number | null;
  expected_N: number | null;
  shown: string;
  chance_free: number | null;
  no_load: boolean;
  then_shown: string;
  then_load_N: number | null;
}

export interface PlanPair {
  section: number;
  at_m: number;
  difference_mV: number | null;
  tolerance_mV: number | null;
  difference_N: number | null;
  within: boolean | null;
}

export interface DeckPlan {
  length_m: number;
  width_m: number;
  modules: PlanModule[];
  joints: PlanJoint[];
  stands: PlanStand[];
  pairs: PlanPair[];
}

export interface BodyBelief {
  name: string;
  twisting_MNm2: {
    low: number;
    middle: number;
    high: number;
    before_low: number;
    before_high: number;
  };
}

export interface Belief {
  sentence: string;
  bodies: BodyBelief[];
  open: { place: string; chance: number; air_mm: number | null }[];
  judgements: { code: string; verdict: string; sentence: string }[];
  assumed: { key: string; value: string }[];
}

export interface Step {
  step: string;
  name: string;
  state: 'done' | 'open' | 'blocked' | 'not_needed';
  why: string;
  entries: number[];
}

export interface Tick {
  name: string;
  says: string;
  todo: string;
  condition: boolean;
  on: boolean;
}

export interface Head {
  device: string;
  sequence: number;
  hash: string;
}

export interface Conflict {
  kind: string;
  sentence: string;
  entries: number[];
  settled: boolean;
}

export interface JournalEntry {
  entry: number;
  name: string;
  time: string;
  time_utc: string;
  author: string;
  kind: string;
  says: string;
  fate: string | null;
  hash: string;
  /** Names and values as typed; an older server leaves them out. */
  fields?: [string, string][];
}

// The answers of `share`, `trim`, `span` and `diagnose` are longer than this; named here is what
// the page shows of them.

export interface ShareAnswer {
  outcome: string;
  in_tolerance: boolean;
  headline: string;
  because: string;
  pairs: PlanPair[];
  judgements: { code: string; verdict: string; sentence: string }[];
  cannot_fix: { code: string; reason: string; evidence: string; look: string }[];
  moves: { stand: string; instruction: string; why: string }[];
  probability_done: number | null;
  ask: { what?: string; support?: string | null; instruction?: string; sentence?: string; why?: string }[];
  gentler: { moves: { stand: string; instruction: string }[]; probability_done: number | null } | null;
  cautions: string[];
}

export interface TrimPoint {
  at: string;
  load_kg: number;
  load_known: boolean;
  error_kg: number;
  standard_uncertainty_kg: number;
  indication_kg?: number;
  read?: boolean;
}

export interface Spread {
  spread_kg: number;
  expected_spread_kg: number;
  upper_95_spread_kg: number;
  probability_within: number;
  points: TrimPoint[];
}

export interface TrimAnswer {
  within: boolean;
  outcome: string;
  verdict: string;
  wanted_kg: number;
  reference_load_kg: number;
  trims: { stand: string; setting: string; instruction: string }[];
  learn: { stand: string; turns: number; instruction: string } | null;
  before: Spread | null;
  then: Spread | null;
  cannot_fix: { code: string; at: string; reason: string; look: string | null }[];
}

export interface SpanAnswer {
  done: boolean;
  outcome: string;
  verdict: string;
  slope?: number;
  slope_standard_uncertainty?: number;
  correction?: number | null;
  set?: { load_kg: number; shows_now_kg: number; set_to_kg: number } | null;
  cannot_fix?: { code: string; reason: string; look: string | null }[];
}

export interface Diagnosis {
  outcome: string;
  headline: string;
  verdict: string;
  hold: boolean;
  hold_reason?: string | null;
  causes: { code: string; where: string | null; probability: number; sentence: string; remedy?: string | null }[];
  do_not_touch: { what: string; because?: string; sentence?: string }[];
  next: { instruction: string }[];
}

/** What stands on the deck: centre and size, in its coordinates. */
export interface Patch {
  x_m: number;
  y_m: number;
  along_m: number;
  across_m: number;
}

/** A placement of the test plan, and what came of it. */
export interface TestLine {
  /** 0: a reading that no placement asked for. */
  number: number;
  check: string;
  name: string;
  where: string;
  /** As a results table takes it: "2L", "2", "2-3"; empty: nowhere in particular. */
  at: string;
  heading: 'to_end_1' | 'to_end_2' | '';
  sentence: string;
  clause: string;
  required: boolean;
  load_kg: number | null;
  limit_kg: number | null;
  state: 'open' | 'next' | 'done';
  verdict: 'pass' | 'fail' | 'not_judged' | null;
  error_kg: number | null;
  U_kg: number | null;
  patches: Patch[];
}

export interface Test {
  rulebook: string;
  occasion_says: string;
  headline: string | null;
  outcome: 'pass' | 'fail' | 'incomplete' | 'refused' | null;
  minutes: number;
  lines: TestLine[];
  missing: string[];
  findings: string[];
}

export interface Site {
  revision: string;
  job: string;
  practice: boolean;
  us: boolean;
  reading_unit: string;
  step_kg: number | null;
  max_kg: number | null;
  deck: string;
  began: string;
  entry_count: number;
  whole: boolean;
  heads: Head[];
  next: Next;
  warnings: string[];
  damage: string[];
  unreadable: Fault[];
  steps: Step[];
  as_found: {
    frozen: boolean;
    frozen_by: number | null;
    entries: number[];
    corrected_later: number[];
  };
  conflicts: Conflict[];
  plan: DeckPlan | null;
  belief: Belief | null;
  order: string[];
  ticks: Tick[];
  share: ShareAnswer | null;
  trim: TrimAnswer | null;
  span: SpanAnswer | null;
  diagnosis: Diagnosis | null;
  /** A page kept from before may not have these two. */
  test?: Test | null;
  papers?: string[];
}

export interface EntryPost {
  token: string;
  author?: string;
  typed_at?: string;
  tables?: { name: string; text: string }[];
  ticks?: string[];
  unticks?: string[];
  notes?: string[];
  entry?: { kind: string; fields: Record<string, string> };
  photos?: { name: string; base64: string }[];
  corrects?: string;
  remark?: string;
}

export interface UndoPost {
  token: string;
  /** Empty: the last that counts. */
  entry: string;
  remark: string;
  author: string;
}

export interface Recorded {
  recorded: {
    recorded: JournalEntry[];
    photos: number;
    sentences: string[];
    warnings: string[];
    conflicts: Conflict[];
    heads: Head[];
  };
  site: Site;
}

export interface PracticeAnswer {
  command: string;
  kind: string;
  table: string | null;
  rows: Record<string, unknown>[];
  sentences: string[];
  cautions: string[];
}

export interface Question {
  number: number;
  of: number;
  name: string;
  text: string;
  help: string;
  default: string;
  example: string;
}

export interface Draft {
  file: string;
  text: string;
}

export type Quality = 'stable' | 'moving' | 'stale' | 'bad' | 'silent';

export interface LiveInstrument {
  name: string;
  address: string;
  state: string;
  says: string;
  next_try_ms: number;
}

export interface LiveValue {
  place: string;
  unit: string;
  value: number | null;
  shown: string;
  resolution: number;
  quality: Quality;
  says: string;
  age_ms: number;
  mean: number | null;
  noise: number | null;
  u_mean: number | null;
  samples: number;
  shown_mean: string;
}

export interface Live {
  instruments: LiveInstrument[];
  values: LiveValue[];
}
