import type { EntryPost, Fault, Recorded, UndoPost } from './api/types';

/** What was typed, and did not get to the journal yet. Written to the phone's own store before it
 *  is sent, and taken out when the server has said that it is recorded: nothing is lost when the
 *  phone locks, the page is loaded anew or the server is gone. */
export interface Queued {
  seq: number;
  /** The journal that it was typed for (Site.journal): it is never sent to another. Left out by an
   *  earlier version of the page, which knew the file's name alone: then nobody but the person can
   *  say where it belongs, and it waits until somebody does. */
  journal?: string;
  /** How that journal's file was called: for people. */
  job: string;
  /** What was asked when it was typed: "share/cells.csv"; empty: of its own accord. */
  asked: string;
  /** The revision that the asking came from. */
  revision: string;
  what: 'entries' | 'undo';
  body: EntryPost | UndoPost;
  /** In words, for the list. */
  label: string;
  queued_ms: number;
  attempts: number;
  /** Why it was refused; empty: it waits. */
  faults: Fault[];
  refused: boolean;
  /** Refused only because it can hardly be: the person may confirm it. */
  confirm?: boolean;
  /** The person put it aside; it is kept, and not sent. */
  aside: boolean;
}

export type NewItem = Omit<Queued, 'seq' | 'queued_ms' | 'attempts' | 'faults' | 'refused' | 'confirm' | 'aside'>;

/** What happened to one try to send. */
export type Outcome =
  | { kind: 'recorded'; answer: Recorded }
  | { kind: 'refused'; faults: Fault[]; confirm?: boolean }
  /** Another journal is served there by now: it stays, and is sent when its own one is back. */
  | { kind: 'elsewhere' }
  | { kind: 'later'; wait_ms: number; says: string }
  | { kind: 'unreachable' };

const kDatabase = 'weighwright';
const kStore = 'queue';

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('the store of the phone failed'));
  });
}

function open_database(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(kDatabase, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore(kStore, { keyPath: 'seq', autoIncrement: true });
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('the store of the phone is closed'));
    request.onblocked = () => reject(new Error('the store of the phone is held by another tab'));
  });
}

/** The store, or the memory of this page where a browser has none (a private window): then
 *  `lasting` is false, and the page says so. */
class Store {
  private constructor(private readonly database: IDBDatabase | null) {}
  private memory: Queued[] = [];
  private next = 1;

  static async open(): Promise<Store> {
    try {
      const store = new Store(await open_database());
      await store.all();
      return store;
    } catch (error) {
      console.warn('no lasting store', error);
      return new Store(null);
    }
  }

  get lasting(): boolean {
    return this.database !== null;
  }

  async all(): Promise<Queued[]> {
    if (!this.database) return this.memory.map((item) => ({ ...item }));
    const store = this.database.transaction(kStore, 'readonly').objectStore(kStore);
    return (await done(store.getAll())) as Queued[];
  }

  /** Returns when it is on the disk of the phone, not only asked for. */
  private async write(work: (store: IDBObjectStore) => IDBRequest): Promise<unknown> {
    const transaction = this.database!.transaction(kStore, 'readwrite', { durability: 'strict' });
    const request = work(transaction.objectStore(kStore));
    await new Promise<void>((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      transaction.onerror = () => reject(transaction.error ?? new Error('the store failed'));
      transaction.onabort = () => reject(transaction.error ?? new Error('the store is full'));
    });
    return request.result;
  }

  async add(item: Omit<Queued, 'seq'>): Promise<void> {
    if (this.database) await this.write((store) => store.add(item));
    else this.memory.push({ ...item, seq: this.next++ });
  }

  /** Writes only over what is still there: what was taken out must not come back. */
  async put(item: Queued): Promise<void> {
    if (!this.database) {
      this.memory = this.memory.map((one) => (one.seq === item.seq ? { ...item } : one));
      return;
    }
    const there = (await this.all()).some((one) => one.seq === item.seq);
    if (there) await this.write((store) => store.put(item));
  }

  async remove(seq: number): Promise<void> {
    if (this.database) await this.write((store) => store.delete(seq));
    else this.memory = this.memory.filter((one) => one.seq !== seq);
  }
}

export interface QueueEvents {
  on_change: (items: Queued[], lasting: boolean, sending: boolean, says: string) => void;
  on_recorded: (item: Queued, answer: Recorded) => void;
  on_refused: (item: Queued) => void;
  on_unreachable: () => void;
  send: (item: Queued) => Promise<Outcome>;
  /** The journal that the server has open (Site.journal); empty: not known yet. */
  journal: () => string;
}

const kFirstWait_ms = 1_000;
const kLongestWait_ms = 20_000;

/** Sends in the order in which it was typed. One that was refused is left out until it is put right;
 *  what comes after it goes on, for every item stands by itself. */
export class Queue {
  private store: Store | null = null;
  private items: Queued[] = [];
  private running = false;
  /** The item that is on its way just now; 0: none. */
  private under_way = 0;
  private says = '';
  private wait_ms = kFirstWait_ms;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(private readonly events: QueueEvents) {}

  async open(): Promise<void> {
    this.store = await Store.open();
    // The browser is asked not to clear the store when space gets short; it may say no.
    void navigator.storage?.persist?.().catch(() => false);
    await this.refresh();
    this.kick();
  }

  private opened(): Store {
    if (!this.store) throw new Error('the queue is not open yet');
    return this.store;
  }

  private async refresh(): Promise<void> {
    this.items = (await this.opened().all()).sort((a, b) => a.seq - b.seq);
    this.tell();
  }

  private tell(): void {
    this.events.on_change(this.items, this.opened().lasting, this.running, this.says);
  }

  async add(item: NewItem): Promise<void> {
    await this.opened().add({
      ...item,
      queued_ms: Date.now(),
      attempts: 0,
      faults: [],
      refused: false,
      aside: false,
    });
    await this.refresh();
    this.kick();
  }

  /** Sent anew with what the person changed: under a token of its own, for a refused one was not
   *  recorded. */
  async edit(seq: number, body: EntryPost | UndoPost): Promise<void> {
    const item = (await this.opened().all()).find((one) => one.seq === seq);
    if (!item) return;
    await this.opened().put({ ...item, body, faults: [], refused: false, confirm: false, aside: false });
    await this.refresh();
    this.kick();
  }

  async set_aside(seq: number, aside: boolean): Promise<void> {
    const item = (await this.opened().all()).find((one) => one.seq === seq);
    if (!item) return;
    await this.opened().put({ ...item, aside, refused: aside ? item.refused : false });
    await this.refresh();
    this.kick();
  }

  /** Only on the word of the person, and only what lies aside. False: not now, for it is on its way
   *  and may be in the journal already. */
  async discard(seq: number): Promise<boolean> {
    if (this.under_way === seq) return false;
    if (!this.items.some((one) => one.seq === seq && one.aside)) return false;
    await this.opened().remove(seq);
    await this.refresh();
    return true;
  }

  /** On the word of the person: what an earlier version of the page kept belongs into this journal. */
  async give_to(seq: number, journal: string, job: string): Promise<void> {
    const item = (await this.opened().all()).find((one) => one.seq === seq);
    if (!item || item.journal !== undefined || journal === '') return;
    const body = { ...item.body, journal };
    await this.opened().put({ ...item, journal, job, body, faults: [], refused: false, aside: false });
    await this.refresh();
    this.kick();
  }

  /** Whoever leaves has sent these or saved them to a file. */
  async forget(seqs: number[]): Promise<void> {
    for (const seq of seqs) {
      if (this.under_way !== seq) await this.opened().remove(seq);
    }
    await this.refresh();
  }

  /** Try now. */
  kick(): void {
    clearTimeout(this.timer);
    this.wait_ms = kFirstWait_ms;
    void this.run();
  }

  private first_waiting(): Queued | null {
    const journal = this.events.journal();
    if (journal === '') return null;
    return this.items.find((item) => item.journal === journal && !item.aside && !item.refused) ?? null;
  }

  private async run(): Promise<void> {
    if (this.running || !this.store) return;
    this.running = true;
    this.tell();
    try {
      // Two tabs of one phone share the store: only one sends. (No locks: no secure context; then
      // the token keeps what is sent twice from being recorded twice.)
      if (navigator.locks) await navigator.locks.request('weighwright-queue', () => this.drain());
      else await this.drain();
    } catch (error) {
      console.warn('the queue stopped', error);
      this.again_later();
    } finally {
      this.running = false;
      this.tell();
    }
  }

  private async drain(): Promise<void> {
    await this.refresh();
    for (let item = this.first_waiting(); item; item = this.first_waiting()) {
      this.under_way = item.seq;
      try {
        const outcome = await this.events.send(item);
        if (!(await this.settle(item, outcome))) return;
      } finally {
        this.under_way = 0;
      }
    }
  }

  /** Writes to the item as it is now, not as it was when it was sent: what the person did to it
   *  meanwhile (put aside, put right) holds. */
  private async note(sent: Queued, changed: (now: Queued) => Partial<Queued>): Promise<void> {
    const now = (await this.opened().all()).find((one) => one.seq === sent.seq);
    if (now) await this.opened().put({ ...now, ...changed(now) });
  }

  /** Whether the next one may go. */
  private async settle(item: Queued, outcome: Outcome): Promise<boolean> {
    this.says = '';
    switch (outcome.kind) {
      case 'recorded':
        await this.opened().remove(item.seq);
        this.wait_ms = kFirstWait_ms;
        await this.refresh();
        this.events.on_recorded(item, outcome.answer);
        return true;
      case 'refused':
        // Put right while it was under way: the refusal was of what stood there before.
        await this.note(item, (now) =>
          now.body.token === item.body.token
            ? { faults: outcome.faults, refused: true, confirm: outcome.confirm === true }
            : {},
        );
        await this.refresh();
        this.events.on_refused({ ...item, faults: outcome.faults, refused: true });
        return true;
      case 'elsewhere':
        await this.note(item, (now) => ({ attempts: now.attempts + 1 }));
        await this.refresh();
        return true;
      case 'later':
        this.says = outcome.says;
        await this.note(item, (now) => ({ attempts: now.attempts + 1 }));
        await this.refresh();
        this.again_later(outcome.wait_ms);
        return false;
      case 'unreachable':
        await this.note(item, (now) => ({ attempts: now.attempts + 1 }));
        await this.refresh();
        this.events.on_unreachable();
        this.again_later();
        return false;
    }
  }

  private again_later(at_least_ms = 0): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.run(), Math.max(this.wait_ms, at_least_ms));
    this.wait_ms = Math.min(this.wait_ms * 2, kLongestWait_ms);
  }
}
