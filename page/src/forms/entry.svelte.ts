/** An entry as it is being filled in: its fields by name, kept on the phone at every key. */
import type { EntryAsk, EntryField } from '../api/types';
import { app } from '../state.svelte';
import { w } from '../texts/app.svelte';
import { t } from '../texts/say.svelte';
import { load_draft, save_draft } from './draft';

interface Kept {
  values: Record<string, string>;
  practised: boolean;
}

/** Entries of one kind may be asked for several roles at once: "party customer". */
export function entry_id(ask: EntryAsk): string {
  const role = ask.fields.find((field) => field.name === 'role')?.given ?? '';
  return role === '' ? ask.name : `${ask.name} ${role}`;
}

export function entry_title(ask: EntryAsk): string {
  const role = ask.fields.find((field) => field.name === 'role')?.given ?? '';
  return t().test.roles[role] ?? t().test.titles[ask.name] ?? t().journal.kinds[ask.name] ?? ask.name;
}

export class EntryForm {
  values = $state<Record<string, string>>({});
  practised = $state(false);
  says = $state('');
  busy = $state(false);
  private readonly journal = app.journal;

  constructor(
    readonly ask: EntryAsk,
    readonly asked: string,
    readonly basis: string,
  ) {
    const kept = load_draft<Kept>(this.journal, asked);
    this.values = { ...Object.fromEntries(ask.fields.map((one) => [one.name, one.given])), ...kept?.what.values };
    this.practised = (kept?.what.practised ?? false) && kept?.basis === basis;
  }

  keep(): void {
    const what = { values: { ...this.values }, practised: this.practised };
    save_draft<Kept>(this.journal, this.asked, { basis: this.basis, what });
  }

  set(name: string, text: string): void {
    this.values[name] = text;
    this.keep();
  }

  /** In the language of the page, else as the server says it. */
  says_of(field: EntryField): string {
    return w().fields[`${this.ask.name}.${field.name}`] ?? w().fields[field.name] ?? field.says;
  }

  private get missing(): string[] {
    const lacking = this.ask.fields.filter((one) => one.required && (this.values[one.name] ?? '').trim() === '');
    return lacking.map((one) => this.says_of(one) || one.name);
  }

  /** true: it is on its way. */
  async submit(): Promise<boolean> {
    const fields: Record<string, string> = {};
    for (const [name, text] of Object.entries(this.values)) if (text.trim() !== '') fields[name] = text.trim();
    if (Object.keys(fields).length === 0) {
      this.says = w().form.nothing;
      return false;
    }
    if (this.missing.length > 0) {
      this.says = w().form.needed(this.missing.join(', '));
      return false;
    }
    this.busy = true;
    try {
      const words = Object.values(fields).map((one) => w().choices[one] ?? one);
      const label = [t().journal.kinds[this.ask.name] ?? this.ask.name, ...words].join(' ');
      await app.submit(label, { entry: { kind: this.ask.name, fields } }, this.asked, this.journal);
      return true;
    } catch (error) {
      this.says = w().errors.not_kept(String(error));
      return false;
    } finally {
      this.busy = false;
    }
  }
}
