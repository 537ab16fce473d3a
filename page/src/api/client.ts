import type {
  Draft,
  Entries,
  EntryPost,
  Fault,
  PhoneIn,
  PracticeAnswer,
  Question,
  Recorded,
  Session,
  Site,
  UndoPost,
} from './types';

/** The server answered, and said no: what was wrong with what was asked. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly faults: Fault[],
    readonly retry_after_s: number,
    /** The whole answer, where more than faults stands in it. */
    readonly answer: Record<string, unknown>,
  ) {
    super(faults.map((fault) => fault.what).join('; ') || `HTTP ${status}`);
  }

  /** It was meant for another journal than the one that is served now; nothing was recorded. */
  get elsewhere(): boolean {
    return this.status === 409;
  }

  /** It can hardly be on this deck: recorded when it is sent once more as confirmed. */
  get confirm(): boolean {
    return this.answer.confirm === true;
  }

  /** What was sent is wrong, and sending it again as it is can not help. */
  get for_good(): boolean {
    return this.status === 400 || this.status === 404 || this.status === 413 || this.status === 415;
  }
}

/** No answer came: no network, no server, or too late. */
export class Unreachable extends Error {}

const kTimeout_ms = 12_000;

function faults_of(answer: unknown, status: number): Fault[] {
  const faults = (answer as { faults?: Fault[] } | null)?.faults;
  if (Array.isArray(faults) && faults.length > 0) return faults;
  return [{ file: '', line: null, column: null, what: `HTTP ${status}`, expected: '' }];
}

async function request(
  method: string,
  path: string,
  body?: unknown,
  headers: Record<string, string> = {},
  timeout_ms = kTimeout_ms,
): Promise<Response> {
  const controller = new AbortController();
  const timer = setTimeout(() => controller.abort(), timeout_ms);
  try {
    const response = await fetch(path, {
      method,
      headers: body === undefined ? headers : { ...headers, 'Content-Type': 'application/json' },
      body: body === undefined ? undefined : JSON.stringify(body),
      cache: 'no-store',
      credentials: 'same-origin',
      signal: controller.signal,
    });
    // The body is read under the same clock: a connection that dies half-way must not hang.
    const text = await response.text();
    return new Response(response.status === 204 || response.status === 304 ? null : text, {
      status: response.status,
      headers: response.headers,
    });
  } catch (error) {
    throw new Unreachable(error instanceof Error ? error.message : String(error));
  } finally {
    clearTimeout(timer);
  }
}

async function json_of<T>(response: Response): Promise<T> {
  const text = await response.text();
  let answer: unknown = null;
  try {
    answer = text === '' ? {} : JSON.parse(text);
  } catch {
    // Something between phone and server answered in its place (a captive portal, a proxy).
    throw new Unreachable('the answer is not JSON');
  }
  if (!response.ok) {
    const seconds = Number(response.headers.get('Retry-After') ?? '0');
    throw new Refused(
      response.status,
      faults_of(answer, response.status),
      Number.isFinite(seconds) ? seconds : 0,
      (answer ?? {}) as Record<string, unknown>,
    );
  }
  return answer as T;
}

async function get<T>(path: string, timeout_ms = kTimeout_ms): Promise<T> {
  return json_of<T>(await request('GET', path, undefined, {}, timeout_ms));
}

async function post<T>(path: string, body: unknown, timeout_ms = kTimeout_ms): Promise<T> {
  return json_of<T>(await request('POST', path, body, {}, timeout_ms));
}

export const get_session = (): Promise<Session> => get('api/session', 6_000);
export const pair = (code: string, name: string): Promise<unknown> =>
  post('api/pair', { code, name });
export const get_phones = async (): Promise<PhoneIn[]> =>
  (await get<{ phones: PhoneIn[] }>('api/phones')).phones;
export const put_out = async (phone: string): Promise<PhoneIn[]> =>
  (await post<{ phones: PhoneIn[] }>('api/put_out', { phone })).phones;
export const connect_instruments = (): Promise<unknown> => post('api/instruments', {});
export const leave = (): Promise<unknown> => post('api/leave', {});
export const get_entries = (): Promise<Entries> => get('api/entries');
export const get_questions = async (): Promise<Question[]> =>
  (await get<{ questions: Question[] }>('api/questions')).questions;
export const post_draft = (name: string, answers: string[]): Promise<Draft> =>
  post('api/draft', { name, answers });
export const post_entries = (body: EntryPost): Promise<Recorded> =>
  // Photos take their time over a weak link.
  post('api/entries', body, body.photos?.length ? 60_000 : 20_000);
export const post_undo = (body: UndoPost): Promise<Recorded> => post('api/undo', body, 20_000);
export const post_practice = async (journal: string, lines: string[]): Promise<PracticeAnswer[]> =>
  (await post<{ answers: PracticeAnswer[] }>('api/practice', { journal, lines }, 30_000)).answers;

export interface Paper {
  name: string;
  blob: Blob;
}

const kPaper_ms = 60_000; // drawn when it is asked for

/** A paper, or Refused with the sentences that say why there is none. */
export async function get_paper(code: string): Promise<Paper> {
  let response: Response;
  let blob: Blob;
  try {
    const signal = AbortSignal.timeout(kPaper_ms);
    response = await fetch(`api/paper/${code}`, { cache: 'no-store', credentials: 'same-origin', signal });
    blob = await response.blob();
  } catch (error) {
    throw new Unreachable(error instanceof Error ? error.message : String(error));
  }
  if (!response.ok) await json_of(new Response(await blob.text(), { status: response.status, headers: response.headers }));
  const name = /filename="([^"]+)"/.exec(response.headers.get('Content-Disposition') ?? '')?.[1];
  return { name: name ?? code, blob };
}

let last_site: { etag: string; site: Site } | null = null;

/** Where the job stands; asked with the revision that is known, so that "unchanged" costs little. */
export async function get_site(): Promise<Site> {
  const headers: Record<string, string> = last_site ? { 'If-None-Match': last_site.etag } : {};
  const response = await request('GET', 'api/site', undefined, headers, 30_000);
  if (response.status === 304 && last_site) return last_site.site;
  const site = await json_of<Site>(response);
  const etag = response.headers.get('ETag');
  last_site = etag ? { etag, site } : null;
  return site;
}

/** The code that a scanned link carries after the #. It is taken out of the address bar at once. */
export function take_code_from_address(): string {
  const match = /^#code=([A-Za-z0-9-]+)$/.exec(location.hash);
  if (!match) return '';
  history.replaceState(null, '', location.pathname + location.search);
  return match[1] ?? '';
}

export function new_token(): string {
  // randomUUID is there only in a secure context; a phone on the pit's own network may not have one.
  if (typeof crypto.randomUUID === 'function') return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** Local time with its offset: "2026-11-25T18:04:11+01:00". */
export function now_typed(date = new Date()): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  const offset = -date.getTimezoneOffset();
  const sign = offset < 0 ? '-' : '+';
  const hours = Math.floor(Math.abs(offset) / 60);
  const minutes = Math.abs(offset) % 60;
  return (
    `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}` +
    `T${two(date.getHours())}:${two(date.getMinutes())}:${two(date.getSeconds())}` +
    `${sign}${two(hours)}:${two(minutes)}`
  );
}
