// What the browser tests share: the program started on a fresh job, a phone, a tally.
import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const kBrowsers = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const kSwitches = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export const [program, source] = process.argv.slice(2);
if (!program || !source) {
  console.error(`usage: node ${process.argv[1]} PROGRAM SOURCE_DIR`);
  process.exit(2);
}

export const folder = mkdtempSync(join(tmpdir(), 'weighwright-page-'));
export const job_file = join(folder, 'practice.job');
const environment = { ...process.env, HOME: folder, XDG_DATA_HOME: join(folder, 'data') };
/** SHOTS=FOLDER keeps the pictures. */
const shots = process.env.SHOTS ?? join(folder, 'shots');
mkdirSync(shots, { recursive: true });

let failed = 0;

export function check(name, holds, what = '') {
  if (holds) {
    console.log(`ok ${name}`);
  } else {
    failed += 1;
    console.log(`FAILED ${name}${what === '' ? '' : `: ${what}`}`);
  }
  return holds;
}

/** The program's own word on the journal, from the file and not from the page. */
export const job = (verb, ...more) => job_of(job_file, verb, ...more);
export function job_of(file, verb, ...more) {
  try {
    return JSON.parse(
      execFileSync(program, ['job', verb, file, '--json', ...more], { encoding: 'utf8', env: environment, stdio: ['ignore', 'pipe', 'pipe'] }),
    );
  } catch (error) {
    if (error.status === 1 && error.stdout) return JSON.parse(error.stdout);
    throw error;
  }
}

export const free_port = () =>
  new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address();
      probe.close(() => resolve(port));
    });
  });

const wait = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

export async function until(what, holds, limit_ms = 60_000) {
  const begun = Date.now();
  for (;;) {
    let last = null;
    try {
      const answer = await holds();
      if (answer) return answer;
    } catch (error) {
      last = error;
    }
    if (Date.now() - begun > limit_ms) throw new Error(`not within ${limit_ms / 1000} s: ${what}${last ? ` (${last.message})` : ''}`);
    await wait(100);
  }
}

const running = new Set();

/** A journal of a real site, with a deck and nothing done. */
export function new_job(file, deck = 'three-modules.toml') {
  execFileSync(program, ['job', 'new', file, join(source, 'examples', deck)], { env: environment, stdio: 'pipe' });
}

/** A practice site of its own: the same seed, the same site. Not `rehearse`: the journal `file` as it is. */
export async function start_server({ port, seed = 2, deck = 'three-modules.toml', file = job_file, rehearse = true, lan = false }) {
  const deck_file = join(source, 'examples', deck);
  const args = ['serve', file, '--port', String(port)];
  if (lan) args.push('--lan');
  if (rehearse) args.push('--rehearse', deck_file, '--seed', String(seed));
  // PAGE_DIR=FOLDER: the page as it was just built, instead of the one in the program.
  if (process.env.PAGE_DIR) args.push('--page', process.env.PAGE_DIR);
  const child = spawn(program, args, { env: environment, stdio: ['ignore', 'pipe', 'pipe'] });
  running.add(child);
  let said = '';
  child.stdout.on('data', (part) => (said += part));
  child.stderr.on('data', (part) => (said += part));
  let ended = null;
  child.on('exit', (code, signal) => {
    ended = signal ?? code;
    running.delete(child);
  });
  const url = `${lan ? 'https' : 'http'}://127.0.0.1:${port}/`;
  await until(`the server answers at ${url}`, async () => {
    if (ended !== null) return true;
    // The certificate is its own: it answers once it shows a code.
    if (lan) return /Code: /.test(said);
    return (await fetch(`${url}api/session`)).ok;
  });
  if (ended !== null) throw new Error(`the server ended (${ended}): ${said}`);
  return {
    url,
    said: () => said,
    /** As when the machine loses power: no goodbye. */
    kill: async () => {
      child.kill('SIGKILL');
      await until('the server is gone', () => ended !== null);
    },
  };
}

let browser = null;
const pages = [];

export async function open_browser() {
  const executablePath = kBrowsers.find((one) => one && existsSync(one));
  if (!executablePath) throw new Error('no Chromium; say where it is: CHROMIUM=/path');
  browser = await chromium.launch({ executablePath, args: kSwitches });
  return browser;
}

/** A phone in the hand: 360 by 740, touch. */
export async function phone({ width = 360, height = 740, language = 'en', theme = 'light', us = null } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, hasTouch: width < 900, isMobile: width < 900, locale: 'en-GB', ignoreHTTPSErrors: true });
  await context.addInitScript(
    ([theme, language, us]) => {
      if (!localStorage.getItem('weighwright.settings')) {
        localStorage.setItem('weighwright.settings', JSON.stringify({ theme, language, us, awake: false }));
      }
    },
    [theme, language, us],
  );
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  pages.push(page);
  const troubles = [];
  page.on('pageerror', (error) => troubles.push(error.message));
  page.on('console', (message) => {
    // A request that finds no server is told by the browser itself; that is part of the test.
    if (message.type() === 'error' && !/Failed to load resource|net::ERR|EventSource/.test(message.text())) troubles.push(message.text());
  });
  const outside = [];
  page.on('request', (request) => {
    const url = new URL(request.url());
    if (!['127.0.0.1', 'localhost'].includes(url.hostname) && !['data:', 'blob:'].includes(url.protocol)) outside.push(request.url());
  });
  return { context, page, troubles, outside };
}

export const by = (page, id) => page.locator(`[data-testid="${id}"]`);
export const shot = (page, name, full = false) => page.screenshot({ path: join(shots, `${name}.png`), fullPage: full });

/** Runs the test, and leaves nothing behind. */
export async function main(test) {
  try {
    await test();
  } catch (error) {
    failed += 1;
    console.log(`FAILED ${error.stack ?? error}`);
    for (const [i, page] of pages.entries()) await shot(page, `failed-${i}`, true).catch(() => undefined);
  } finally {
    await browser?.close().catch(() => undefined);
    for (const child of running) child.kill('SIGKILL');
    rmSync(folder, { recursive: true, force: true });
  }
  process.exitCode = failed > 0 ? 1 : 0;
}
