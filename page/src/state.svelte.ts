import {
  get_entries,
  get_session,
  get_site,
  leave,
  new_token,
  now_typed,
  pair,
  post_entries,
  post_undo,
  Refused,
  take_code_from_address,
  Unreachable,
} from './api/client';
import { Events, type Connection } from './api/events';
import type {
  Entries,
  EntryPost,
  Fault,
  JournalEntry,
  Live,
  LiveValue,
  Recorded,
  Session,
  Site,
  UndoPost,
} from './api/types';
import { forget_courses, note_course } from './course.svelte';
import { adopt_old_drafts, clear_draft, forget_typing } from './forms/draft';
import { Queue, type Outcome, type Queued } from './queue';
import { load_settings, save_settings, type Settings } from './settings';
import { w } from './texts/app.svelte';
import { browser_language, choose_language, type LanguageCode } from './texts/say.svelte';
import { Wake, type WakeState } from './wake';

export type View = 'now' | 'deck' | 'test' | 'journal' | 'more';

export interface Toast {
  says: string;
  /** Entries that "take back" would undo, by name. */
  entries: string[];
  bad: boolean;
}

const kSiteKey = 'weighwright.site';
const kToast_ms = 8_000;
/** How long leaving waits for what is to be sent first. */
const kLeave_ms = 20_000;

function site_of_last_time(): Site | null {
  try {
    return JSON.parse(localStorage.getItem(kSiteKey) ?? 'null') as Site | null;
  } catch {
    return null;
  }
}

function keep_site(site: Site): void {
  try {
    localStorage.setItem(kSiteKey, JSON.stringify(site));
  } catch {
    // Full, or not allowed: then the page is empty until the server answers.
  }
}

/** Everything that more than one part of the page needs, and what may be done to it. */
class App {
  session = $state.raw<Session | null>(null);
  site = $state.raw<Site | null>(null);
  /** What is shown is from an earlier time; the server was not heard since the page was loaded. */
  from_before = $state(false);
  entries = $state.raw<JournalEntry[]>([]);
  live = $state.raw<Live | null>(null);
  live_ms = $state(0);
  now_ms = $state(Date.now());
  connection = $state.raw<Connection>({ state: 'connecting' });
  queued = $state.raw<Queued[]>([]);
  lasting = $state(true);
  sending = $state(false);
  queue_says = $state('');
  /** How often half-typed forms were given to this site: they are read anew then. */
  adopted = $state(0);
  toast = $state.raw<Toast | null>(null);
  /** Read out by screen readers, politely. */
  announced = $state('');
  view = $state<View>('now');
  settings = $state<Settings>(load_settings());
  wake = $state<WakeState>('off');
  pairing_says = $state('');
  /** A code that came in the address and waits for a name. */
  code = $state('');
  /** The site could not be had though the server answered. */
  trouble = $state.raw<Fault[]>([]);

  private toast_timer: ReturnType<typeof setTimeout> | undefined;
  /** What answers next may be another server, with a journal begun anew. */
  private server_was_gone = true;
  private heard_instruments: string = '';

  private readonly events = new Events({
    on_live: (live) => this.take_live(live),
    on_site: (revision) => {
      if (revision !== this.site?.revision) void this.refresh();
    },
    on_connection: (connection) => this.take_connection(connection),
    ask: () => get_session(),
  });

  private readonly queue = new Queue({
    on_change: (items, lasting, sending, says) => {
      this.queued = items;
      this.lasting = lasting;
      this.sending = sending;
      this.queue_says = says;
    },
    on_recorded: (item, answer) => this.take_recorded(item, answer),
    on_refused: (item) => {
      this.say(w().queue.refused_toast(item.label), [], true);
    },
    on_unreachable: () => this.events.wake(),
    send: (item) => this.send(item),
    journal: () => (this.from_before || !this.session?.let_in ? '' : this.journal),
  });

  private readonly waker = new Wake((state) => {
    this.wake = state;
  });

  async start(): Promise<void> {
    const code = take_code_from_address();
    this.apply_settings();
    this.site = site_of_last_time();
    this.from_before = this.site !== null;
    setInterval(() => {
      this.now_ms = Date.now();
    }, 1_000);
    await this.queue.open();
    // A phone that was let in before under its owner's name goes in by itself.
    if (code !== '' && this.settings.author !== '') await this.pair(code, this.settings.author);
    else await this.enter();
    this.code = this.session?.let_in ? '' : code;
    this.events.start();
  }

  /** The visit that is under way: name of its entry; empty: none began yet. */
  get visit(): string {
    for (let i = this.entries.length - 1; i >= 0; --i) {
      if (this.entries[i]?.kind === 'visit') return this.entries[i]?.name ?? '';
    }
    return '';
  }

  get us(): boolean {
    return this.settings.us ?? this.site?.us ?? false;
  }

  get connected(): boolean {
    return this.connection.state === 'connected';
  }

  /** Which journal is shown; empty: not known. Everything that is typed belongs to it. */
  get journal(): string {
    return this.site?.journal ?? '';
  }

  get waiting(): Queued[] {
    const journal = this.journal;
    return this.queued.filter((item) => !item.aside && !item.refused && item.journal === journal);
  }

  /** As it is now: what was said before the line was lost is old, whatever it was then. */
  value_of(place: string): LiveValue | null {
    const value = this.live?.values.find((one) => one.place === place) ?? null;
    if (!value || this.connected) return value;
    return { ...value, quality: value.quality === 'silent' ? 'silent' : 'stale' };
  }

  // ------------------------------------------------------------------------------- coming and going

  /** Asks whether we are let in, and then where the job stands. */
  async enter(): Promise<void> {
    try {
      this.session = await get_session();
      if (this.session.let_in) await this.refresh();
    } catch (error) {
      if (!(error instanceof Unreachable)) this.take_trouble(error);
    }
  }

  async pair(code: string, name: string): Promise<boolean> {
    this.pairing_says = '';
    try {
      await pair(code.trim(), name.trim());
    } catch (error) {
      this.pairing_says = this.words_of(error);
      await this.enter();
      return this.session?.let_in ?? false;
    }
    if (this.settings.author === '') this.set({ author: name.trim() });
    await this.enter();
    this.events.wake();
    return true;
  }

  /** What of this journal is on this phone and not in the journal. */
  get unsent(): Queued[] {
    const journal = this.journal;
    return this.queued.filter((item) => item.journal === journal || item.journal === undefined);
  }

  /** Everything that waits is sent first. @return whether nothing is left */
  async send_before_leaving(): Promise<boolean> {
    this.try_now();
    const until = Date.now() + kLeave_ms;
    while (this.waiting.length > 0 && Date.now() < until) {
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
    return this.unsent.length === 0;
  }

  /** What is not in the journal, as a file that a person can keep and read. */
  save_unsent(): void {
    const text = JSON.stringify({ journal: this.journal, site: this.site?.job, unsent: this.unsent }, null, 1);
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
    link.download = `${this.site?.job ?? 'site'}-unsent.json`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  }

  /** Afterwards nothing of the site is on this phone. */
  async leave(): Promise<void> {
    try {
      await leave();
    } catch (error) {
      this.say(this.words_of(error), [], true);
      return;
    }
    await this.queue.forget(this.unsent.map((item) => item.seq));
    forget_typing();
    try {
      localStorage.removeItem(kSiteKey);
    } catch {
      // nothing was kept
    }
    this.site = null;
    this.entries = [];
    this.live = null;
    this.from_before = false;
    forget_courses();
    this.view = 'now';
    await this.enter();
    this.say(w().more.left, [], false);
  }

  async refresh(): Promise<void> {
    try {
      const anew = this.server_was_gone;
      this.take_site(await get_site(), anew);
      this.take_entries(await get_entries(), anew);
      this.server_was_gone = false;
      this.trouble = [];
      this.queue.kick();
    } catch (error) {
      if (error instanceof Unreachable) this.events.wake();
      else this.take_trouble(error);
    }
  }

  private take_trouble(error: unknown): void {
    if (error instanceof Refused && error.status === 401) {
      if (this.session) this.session = { ...this.session, let_in: false, lan: true };
      return;
    }
    this.trouble = error instanceof Refused ? error.faults : this.trouble;
  }

  private take_site(site: Site, may_fall = false): void {
    const before = this.site;
    // The journal only grows: an answer with fewer entries was under way when a newer one came. What
    // was kept from before is no measure, for the journal may have been made anew under its name.
    const same = before !== null && before.journal === site.journal;
    const older = same && site.entry_count < before.entry_count;
    if (older && !this.from_before && !may_fall) return;
    if (before && !same) this.forget_other_journal();
    this.site = site;
    this.from_before = false;
    keep_site(site);
    if (before && before.next.headline !== site.next.headline) {
      this.announced = w().announce_next(site.next.headline);
    }
  }

  /** What is on the screen of the site before could be taken over, or undone, in the next one. */
  private forget_other_journal(): void {
    this.entries = [];
    this.close_toast();
    this.live = null;
    this.heard_instruments = '';
    forget_courses();
  }

  private take_entries(answer: Entries, may_fall = false): void {
    if ((answer.journal ?? '') !== this.journal) return;
    const entries = answer.entries;
    if (entries.length >= this.entries.length || may_fall) this.entries = entries;
  }

  private take_live(live: Live): void {
    // Another site is served by now (the event `site` tells): its values come into no form of this one.
    if (this.site && (live.journal ?? '') !== this.journal) return;
    this.live = live;
    this.live_ms = Date.now();
    this.now_ms = this.live_ms;
    note_course(live, this.live_ms);
    const heard = live.instruments.map((one) => `${one.name} ${one.state}`).join(', ');
    if (heard !== this.heard_instruments && this.heard_instruments !== '') this.announced = heard;
    this.heard_instruments = heard;
  }

  /** The server answers, and does not let this phone in: not the same as no connection. */
  get shut_out(): boolean {
    return this.session !== null && !this.session.let_in;
  }

  private take_connection(connection: Connection): void {
    const before = this.connection.state;
    this.connection = connection;
    if (connection.state === before) return;
    if (connection.state === 'lost') {
      this.server_was_gone = true;
      if (this.shut_out) return;
      this.announced = w().connection.lost_announced;
      // The listening ends too when the phone is no longer let in.
      void this.enter();
    } else if (connection.state === 'connected') {
      if (before === 'lost') this.announced = w().connection.connected;
      void this.enter();
    }
  }

  // --------------------------------------------------------------------------------- what is typed

  /** Names the journal, as far as it is known; what has no name waits for the person's word. */
  private named(journal: string): { journal?: string } {
    return journal === '' ? {} : { journal };
  }

  /** Written to the phone first, then sent.
   *  @param journal  that it was typed for: where something is waited for between typing and this */
  async submit(
    label: string,
    what: Omit<EntryPost, 'journal' | 'token' | 'author' | 'typed_at'>,
    asked = '',
    journal = this.journal,
  ): Promise<void> {
    const site = this.site;
    if (!site) return;
    const body: EntryPost = { ...this.named(journal), token: new_token(), typed_at: now_typed(), ...what };
    if (this.settings.author !== '') body.author = this.settings.author;
    else if (!this.settings.asked_who) this.set({ asked_who: true });
    await this.queue.add({
      ...this.named(journal),
      job: site.job,
      asked,
      revision: site.revision,
      what: 'entries',
      body,
      label,
    });
    if (asked !== '') clear_draft(journal, asked);
    if (!this.connected) {
      this.say(w().queue.kept(label), [], false);
      this.events.wake();
    }
  }

  async undo(names: string[], remark = ''): Promise<void> {
    const site = this.site;
    if (!site) return;
    this.toast = null;
    const journal = this.named(this.journal);
    const said = new Map(this.entries.map((one) => [one.name, one.says]));
    for (const name of [...names].reverse()) {
      const body: UndoPost = {
        ...journal,
        token: new_token(),
        entry: name,
        remark,
        author: this.settings.author,
      };
      await this.queue.add({
        ...journal,
        job: site.job,
        asked: '',
        revision: site.revision,
        what: 'undo',
        body,
        label: w().undo.label(said.get(name) ?? name),
      });
    }
  }

  /** The last entry that counts and is not itself an undo. */
  get last_entry(): JournalEntry | null {
    for (let i = this.entries.length - 1; i >= 0; --i) {
      const entry = this.entries[i];
      if (!entry || entry.kind === 'undo') continue;
      if (entry.fate && /^(undone|corrected|damaged)/.test(entry.fate)) continue;
      return entry;
    }
    return null;
  }

  private async send(item: Queued): Promise<Outcome> {
    try {
      const answer =
        item.what === 'undo'
          ? await post_undo(item.body as UndoPost)
          : await post_entries(item.body as EntryPost);
      return { kind: 'recorded', answer };
    } catch (error) {
      if (!(error instanceof Refused)) return { kind: 'unreachable' };
      if (error.for_good) return { kind: 'refused', faults: error.faults, confirm: error.confirm };
      if (error.elsewhere) return this.look_where(item, error.faults);
      if (error.status === 401) this.take_trouble(error);
      return {
        kind: 'later',
        wait_ms: error.retry_after_s * 1_000,
        says: this.words_of(error),
      };
    }
  }

  /** The server says that it has another journal than the item's. It is looked at anew, so that
   *  nothing more is sent there; if it says now that it has this one, its refusal stands. */
  private async look_where(item: Queued, faults: Fault[]): Promise<Outcome> {
    try {
      this.take_site(await get_site(), true);
      this.take_entries(await get_entries(), true);
    } catch (error) {
      this.take_trouble(error);
      return { kind: 'unreachable' };
    }
    return item.journal === this.journal ? { kind: 'refused', faults } : { kind: 'elsewhere' };
  }

  private take_recorded(item: Queued, answer: Recorded): void {
    this.take_site(answer.site);
    const names = answer.recorded.recorded.map((entry) => entry.name);
    const undone = item.what === 'undo';
    this.say(
      undone ? item.label : w().recorded(names.length, item.label),
      undone ? [] : names,
      false,
    );
    void get_entries().then(
      (entries) => this.take_entries(entries),
      () => undefined,  // the next change of the site brings them
    );
  }

  /** On the person's word: what an earlier version of the page kept belongs to the site shown. */
  give_here(seq: number): Promise<void> {
    return this.queue.give_to(seq, this.journal, this.site?.job ?? '');
  }
  /** Likewise, of what was half typed; the forms show it from now on. */
  adopt_old_drafts(): void {
    if (this.journal === '') return;
    adopt_old_drafts(this.journal);
    this.adopted += 1;
  }

  edit_queued(seq: number, body: EntryPost): Promise<void> {
    return this.queue.edit(seq, { ...body, token: new_token() });
  }
  /** The person looked again: it really shows that. */
  confirm(item: Queued): Promise<void> {
    return this.edit_queued(item.seq, { ...(item.body as EntryPost), confirmed: true });
  }
  set_aside(seq: number, aside: boolean): Promise<void> {
    return this.queue.set_aside(seq, aside);
  }
  async discard(seq: number): Promise<void> {
    if (!(await this.queue.discard(seq))) this.say(w().queue.not_now, [], true);
  }
  try_now(): void {
    this.events.wake();
    this.queue.kick();
  }

  // ----------------------------------------------------------------------------- telling, settings

  say(says: string, entries: string[], bad: boolean): void {
    clearTimeout(this.toast_timer);
    this.toast = { says, entries, bad };
    this.announced = says;
    this.toast_timer = setTimeout(() => this.close_toast(), bad ? 2 * kToast_ms : kToast_ms);
  }

  close_toast(): void {
    clearTimeout(this.toast_timer);
    this.toast = null;
  }

  words_of(error: unknown): string {
    if (error instanceof Refused) {
      if (error.status === 429) return w().errors.too_often(error.retry_after_s);
      return error.faults
        .map((fault) => fault.what + (fault.expected ? `; ${fault.expected}` : ''))
        .join(' ');
    }
    return w().errors.unreachable;
  }

  set(changed: Partial<Settings>): void {
    this.settings = { ...this.settings, ...changed };
    save_settings(this.settings);
    this.apply_settings();
  }

  private apply_settings(): void {
    document.documentElement.dataset.theme = this.settings.theme;
    choose_language((this.settings.language as LanguageCode | null) ?? browser_language()).catch(
      () => this.say(w().errors.unreachable, [], true),
    );
  }

  hold_awake(): void {
    if (this.settings.awake && this.wake === 'off') void this.waker.hold();
  }
  set_awake(on: boolean): void {
    this.set({ awake: on });
    if (on) void this.waker.hold();
    else void this.waker.release();
  }

  forget_typing(): void {
    forget_typing();
  }
}

export const app = new App();
