import type { AskColumn, AskRow, LiveValue, PracticeAnswer, TableAsk } from '../api/types';
import { now_typed } from '../api/client';
import { print_csv, read_csv, type Table } from './csv';
import { load_draft, save_draft } from './draft';
import { quality_of, type Taken } from './taken';
import { decimal_of, in_other_unit, turns_typed } from './typed';

export interface FormRow {
  key: string;
  where: string[];
  values: Record<string, string>;
  /** Ticked as done (moves, trims). */
  done: boolean;
  /** By column, what was taken over from an instrument: with which step and which noise. */
  takes: Record<string, Taken>;
  /** Which of the asked rows this is; -1: added by the person or by the practice site. */
  asked: number;
}

interface Kept {
  rows: FormRow[];
  practised: boolean;
}

/** Masses whose unit is that of the indication beside them: their names do not say it. */
const kBareMasses = ['zero_before', 'zero_after', 'resolution', 'start', 'added', 'then'];

/** A column under the unit that people here read: load_kg as load_lb. */
export function column_in(column: AskColumn, us: boolean): AskColumn {
  const from = us ? 'kg' : 'lb';
  const to = us ? 'lb' : 'kg';
  if (column.unit !== from) return column;
  if (kBareMasses.includes(column.name)) return { ...column, unit: to };
  if (!column.name.endsWith(`_${from}`)) return column;
  return { ...column, name: column.name.slice(0, -2) + to, unit: to };
}

function copy_of(row: AskRow, columns: AskColumn[], us: boolean, asked: number): FormRow {
  const values: Record<string, string> = {};
  for (const [name, text] of Object.entries(row.given)) {
    const column = columns.find((one) => one.name === name);
    const shown = column ? column_in(column, us) : null;
    if (shown && column && shown.unit !== column.unit) {
      values[shown.name] = in_other_unit(text, us);
    } else {
      values[name] = name === 'turns' ? turns_typed(text) : text;
    }
  }
  return { key: row.key, where: row.where, values, done: false, takes: {}, asked };
}

function load_column(name: string): AskColumn {
  return { name, unit: name.endsWith('_lb') ? 'lb' : 'kg', number: true, required: true, live: '' };
}

const kPound_kg = 0.45359237;  // exact: international yard and pound agreement, 1959

/** The coarser of what was taken in one row, in each respect. */
export function taken_in(row: FormRow): Taken {
  const greatest = (name: keyof Taken): string =>
    Object.values(row.takes)
      .map((one) => one[name])
      .reduce((most, one) => (Number(one) > Number(most) ? one : most), '');
  return { resolution: greatest('resolution'), noise: greatest('noise') };
}

/** What names a load whose mass nobody typed: the same everywhere. */
const kSameLoad = 'the same load';

const kLong = 12;  // digits: enough for any figure that an instrument gives

/** A table as it is being filled in. */
export class TableForm {
  rows = $state<FormRow[]>([]);
  /** The practice site has done it: not to be done twice. */
  practised = $state(false);
  /** What was typed earlier was typed before something changed. */
  from_before = $state(false);
  readonly columns: AskColumn[];
  private readonly asked_columns: AskColumn[];
  /** The column that names a row; empty where its figures are typed like any other (loads). */
  readonly key: string;

  constructor(
    readonly ask: TableAsk,
    readonly journal: string,
    readonly asked: string,
    readonly basis: string,
    readonly us: boolean,
  ) {
    // Loads have no place that would name a row: the load is typed like any other figure.
    const typed = ask.form === 'loads' && ask.key !== '';
    this.key = typed ? '' : ask.key;
    const asked_columns = typed ? [load_column(ask.key), ...ask.columns] : ask.columns;
    this.asked_columns = asked_columns.filter(
      (column, i) => asked_columns.findIndex((one) => one.name === column.name) === i,
    );
    this.columns = this.asked_columns.map((column) => column_in(column, us));
    this.rows = this.asked_rows();
    this.take_draft();
  }

  private asked_rows(): FormRow[] {
    return this.ask.rows.map((row, i) => {
      const plain = this.key === '' && this.ask.key !== '';
      const given = plain && row.key !== '' ? { [this.ask.key]: row.key, ...row.given } : row.given;
      const key = plain ? '' : row.key;
      return copy_of({ ...row, key, given }, this.asked_columns, this.us, i);
    });
  }

  private take_draft(): void {
    const draft = load_draft<Kept>(this.journal, this.asked);
    if (!draft) return;
    this.from_before = draft.basis !== this.basis;
    this.practised = draft.what.practised && !this.from_before;
    const asked = this.rows;
    const kept = draft.what.rows.map((row) => ({ ...row, takes: row.takes ?? {} }));
    this.rows = [
      ...asked.map((row) => kept.find((one) => one.asked === row.asked && (row.key === '' || one.key === row.key)) ?? row),
      ...kept.filter((one) => one.asked < 0),
    ];
  }

  keep(): void {
    const what: Kept = $state.snapshot({ rows: this.rows, practised: this.practised });
    save_draft(this.journal, this.asked, { basis: this.basis, what });
  }

  begin_anew(): void {
    this.rows = this.asked_rows();
    this.practised = false;
    this.from_before = false;
    this.keep();
  }

  get required(): AskColumn[] {
    return this.columns.filter((column) => column.required && column.name !== this.key);
  }

  /** Typed beyond what was given. */
  is_begun(row: FormRow): boolean {
    const asked = this.asked_rows()[row.asked];
    if (this.names_itself(row) && row.key !== '') return true;
    const given: Record<string, string> = asked?.values ?? {};
    return Object.entries(row.values).some(([name, text]) => text !== '' && text !== (given[name] ?? ''));
  }

  /** Nothing names this row yet: a weight without a name, a place without one. */
  lacks_key(row: FormRow): boolean {
    return this.key !== '' && row.key.trim() === '';
  }

  /** Its name is typed too, for it was asked without one. */
  names_itself(row: FormRow): boolean {
    return this.key !== '' && (row.asked < 0 || this.ask.rows[row.asked]?.key === '');
  }

  is_full(row: FormRow): boolean {
    if (this.lacks_key(row)) return false;
    return this.required.every((column) => (row.values[column.name] ?? '') !== '');
  }

  set(row: FormRow, column: AskColumn, text: string): void {
    delete row.takes[column.name];  // typed over: the instrument's noise is not its own
    row.values[column.name] = text;
    this.stamp(row);
    this.keep();
  }

  /** When it was read, by the phone's clock, where a column asks for it. */
  private stamp(row: FormRow): void {
    const column = this.columns.find((one) => one.live === 'time');
    if (!column || (row.values[column.name] ?? '') !== '') return;
    row.values[column.name] = now_typed().slice(0, 'yyyy-mm-ddThh:mm'.length);
  }

  /** Only a stable value. The mean, where there is one and it is known how well. */
  take(row: FormRow, column: AskColumn, live: LiveValue): void {
    if (live.quality !== 'stable' || column.live === '') return;
    const other = column.unit !== live.unit && ['kg', 'lb'].includes(column.unit);
    const to_lb = column.unit === 'lb';
    // A test is judged by what the display showed; elsewhere the mean tells more.
    const averaged = this.ask.form !== 'proof' && live.shown_mean !== '' && live.u_mean !== null;
    const shown = averaged ? live.shown_mean : live.shown;
    if (shown === '') return;
    row.values[column.name] = other ? in_other_unit(shown, to_lb) : shown;
    const quality = quality_of(this.ask.form, live, averaged);
    const turned = (value: number | null, digits: number): string => {
      if (value === null || !(value > 0)) return '';
      return String(Number(((other ? (to_lb ? 1 / kPound_kg : kPound_kg) : 1) * value).toPrecision(digits)));
    };
    row.takes[column.name] = {
      resolution: turned(quality.resolution, other ? 4 : kLong),
      noise: turned(quality.noise, 3),
    };
    this.stamp(row);
    this.keep();
  }

  add_row(key = '', values: Record<string, string> = {}): FormRow {
    this.rows.push({ key, where: [], values, done: false, takes: {}, asked: -1 });
    this.keep();
    return this.rows[this.rows.length - 1]!;
  }

  remove_row(row: FormRow): void {
    this.rows = this.rows.filter((one) => one !== row);
    this.keep();
  }

  /** What the practice site measured or did, in place of what was typed. Whatever it measured beside
   *  what was asked is kept too. Returns how many rows came. */
  fill(answers: PracticeAnswer[]): number {
    const found: Record<string, string>[] = [];
    for (const answer of answers) {
      const table = table_of(answer);
      // What was only done beside it (zero set, before it is read) is no row of this table.
      if (this.key !== '' && !table.columns.includes(this.key)) continue;
      found.push(...this.rows_in_unit(table).map((row) => this.by_asked_names(row)));
    }
    if (found.length === 0) return 0;
    const key = this.key;
    const used = new Set<number>();
    this.rows = found.map((values) => {
      const name = values[key] ?? '';
      const at = key === '' ? -1 : this.ask.rows.findIndex((row, i) => row.key === name && !used.has(i));
      used.add(at);
      const rest = Object.fromEntries(Object.entries(values).filter(([column]) => column !== key));
      return {
        key: name,
        where: this.ask.rows[at]?.where ?? (/^\d+[LR]$/.test(name) ? [name] : []),
        values: rest,
        done: true,
        takes: {},
        asked: at,
      };
    });
    this.keep();
    return found.length;
  }

  /** "added_kg" as "added", where that is what is asked. */
  private by_asked_names(row: Record<string, string>): Record<string, string> {
    const asked = new Set(this.columns.map((column) => column.name));
    const named = (name: string): string => {
      const bare = name.replace(/_(kg|lb)$/, '');
      return !asked.has(name) && asked.has(bare) ? bare : name;
    };
    return Object.fromEntries(Object.entries(row).map(([name, text]) => [named(name), text]));
  }

  /** Figures of a practice site in the unit of this form. */
  private rows_in_unit(table: Table): Record<string, string>[] {
    const from = this.us ? '_kg' : '_lb';
    const asked_from = this.columns.some((column) => column.name.endsWith(from));
    const turned = table.columns.some((name) => name.endsWith(from)) && !asked_from;
    if (!turned || !this.columns.some((column) => ['kg', 'lb'].includes(column.unit))) return table.rows;
    return table.rows.map((row) =>
      Object.fromEntries(
        Object.entries(row).map(([name, text]) => {
          if (name.endsWith(from)) {
            return [name.slice(0, -3) + (this.us ? '_lb' : '_kg'), in_other_unit(text, this.us)];
          }
          return [name, kBareMasses.includes(name) ? in_other_unit(text, this.us) : text];
        }),
      ),
    );
  }

  /** Rows that would be recorded. */
  get filled(): FormRow[] {
    return this.rows.filter((row) => this.is_full(row) && (this.is_begun(row) || row.done));
  }

  /** Keys of rows that lack something: all of them where every row is wanted, else those begun. */
  missing(every_row: boolean): FormRow[] {
    return this.rows.filter((row) => !this.is_full(row) && (every_row || this.is_begun(row)));
  }

  /** A load is said, by mass or by name. */
  private names_load(row: FormRow): boolean {
    return ['load_kg', 'load_lb', 'load_id'].some((name) => (row.values[name] ?? '') !== '');
  }

  /** Rows without a load where others have one: then nobody can say what stood there. */
  get without_load(): FormRow[] {
    if (this.ask.form !== 'shift') return [];
    const without = this.filled.filter((row) => !this.names_load(row));
    return without.length < this.filled.length ? without : [];
  }

  /** A number is wanted, and something else stands there. */
  is_wrong(row: FormRow, column: AskColumn): boolean {
    const text = row.values[column.name] ?? '';
    return column.number && text !== '' && text !== 'OL' && decimal_of(text) === null;
  }

  /** Fields that are no numbers. */
  get no_numbers(): { row: FormRow; column: AskColumn }[] {
    return this.rows.flatMap((row) =>
      this.columns
        .filter((column) => this.is_wrong(row, column))
        .map((column) => ({ row, column })),
    );
  }

  text(rows: FormRow[]): string {
    const key = this.key;
    const names = new Set<string>(key === '' ? [] : [key]);
    for (const column of this.columns) {
      // A look without a place says so by an empty field.
      const always = column.required || this.ask.form === 'looks';
      if (always || rows.some((row) => (row.values[column.name] ?? '') !== '')) {
        names.add(column.name);
      }
    }
    for (const row of rows) {
      for (const [name, text] of Object.entries(row.values)) if (text !== '') names.add(name);
      const taken = taken_in(row);
      if (taken.resolution) names.add('resolution');
      if (taken.noise) names.add('noise');
    }
    const load_unknown = this.ask.form === 'shift' && rows.every((row) => !this.names_load(row));
    if (load_unknown) names.add('load_id');
    const number_columns = new Set(this.columns.filter((one) => one.number).map((one) => one.name));
    const printed = rows.map((row) => {
      const fields: Record<string, string> = {};
      for (const [name, text] of Object.entries(row.values)) {
        fields[name] = number_columns.has(name) ? (decimal_of(text) ?? text) : text;
      }
      if (key !== '') fields[key] = row.key;
      const taken = taken_in(row);
      if (taken.resolution) fields.resolution ||= taken.resolution;
      if (taken.noise) fields.noise ||= taken.noise;
      if (load_unknown) fields.load_id = kSameLoad;
      return fields;
    });
    return print_csv({ columns: [...names], rows: printed });
  }
}

/** The answer of a practice site as a table, whether it came as text or as rows. */
export function table_of(answer: PracticeAnswer): Table {
  if (typeof answer.table === 'string' && answer.table.includes('\n')) return read_csv(answer.table);
  const columns = [...new Set(answer.rows.flatMap((row) => Object.keys(row)))];
  const rows = answer.rows.map((row) =>
    Object.fromEntries(columns.map((name) => [name, row[name] == null ? '' : String(row[name])])),
  );
  return { columns, rows };
}
