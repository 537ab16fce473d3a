import type { Live } from './types';

export type Connection =
  | { state: 'connecting' }
  | { state: 'connected' }
  | { state: 'lost'; since_ms: number; next_try_ms: number };

export interface Listener {
  on_live: (live: Live) => void;
  on_site: (revision: string) => void;
  on_connection: (connection: Connection) => void;
  /** Asked when nothing came for a while: resolves when the server answers. */
  ask: () => Promise<unknown>;
}

const kFirstWait_ms = 1_000;
const kLongestWait_ms = 15_000;
// The server's comment lines keep the connection open but can't be seen here; so after this long
// without an event the server is asked whether it is there. A dead radio link tells nobody.
const kQuiet_ms = 8_000;

/** Listens for as long as the page lives; tries again after a loss, sooner when woken. */
export class Events {
  private source: EventSource | null = null;
  private wait_ms = kFirstWait_ms;
  private lost_since: number | null = null;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private quiet: ReturnType<typeof setInterval> | undefined;
  private last_ms = 0;
  private asking = false;

  constructor(private readonly listener: Listener) {}

  start(): void {
    window.addEventListener('online', this.wake);
    window.addEventListener('offline', this.gone);
    window.addEventListener('pageshow', this.wake);
    document.addEventListener('visibilitychange', this.wake);
    this.quiet = setInterval(() => void this.look(), 2_000);
    this.open();
  }

  stop(): void {
    window.removeEventListener('online', this.wake);
    window.removeEventListener('offline', this.gone);
    window.removeEventListener('pageshow', this.wake);
    document.removeEventListener('visibilitychange', this.wake);
    clearInterval(this.quiet);
    clearTimeout(this.timer);
    this.source?.close();
    this.source = null;
  }

  /** Try now instead of when the wait is over. */
  readonly wake = (): void => {
    if (document.visibilityState === 'hidden') return;
    if (this.lost_since !== null) {
      this.wait_ms = kFirstWait_ms;
      this.open();
    } else {
      void this.look(true);
    }
  };

  private readonly gone = (): void => this.lose();

  private open(): void {
    clearTimeout(this.timer);
    this.source?.close();
    if (this.lost_since === null) this.listener.on_connection({ state: 'connecting' });
    const source = new EventSource('api/events');
    this.source = source;
    source.onopen = () => {
      this.wait_ms = kFirstWait_ms;
      this.lost_since = null;
      this.last_ms = Date.now();
      this.listener.on_connection({ state: 'connected' });
    };
    source.onerror = () => this.lose();
    source.addEventListener('live', (event) => this.take(event, this.listener.on_live));
    source.addEventListener('site', (event) =>
      this.take<{ revision: string }>(event, (what) => this.listener.on_site(what.revision)),
    );
  }

  private take<T>(event: Event, give: (what: T) => void): void {
    this.last_ms = Date.now();
    try {
      give(JSON.parse((event as MessageEvent<string>).data) as T);
    } catch (error) {
      console.warn('an event that is not JSON was left out', error);
    }
  }

  private async look(now = false): Promise<void> {
    if (this.asking || this.lost_since !== null || document.visibilityState === 'hidden') return;
    if (!now && Date.now() - this.last_ms < kQuiet_ms) return;
    this.asking = true;
    try {
      await this.listener.ask();
      this.last_ms = Date.now();
    } catch {
      this.lose();
    } finally {
      this.asking = false;
    }
  }

  private lose(): void {
    this.source?.close();
    this.source = null;
    this.lost_since ??= Date.now();
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.open(), this.wait_ms);
    this.listener.on_connection({
      state: 'lost',
      since_ms: this.lost_since,
      next_try_ms: Date.now() + this.wait_ms,
    });
    this.wait_ms = Math.min(this.wait_ms * 2, kLongestWait_ms);
  }
}
