// Two journals on one origin: both are called site.job, one is a practice site's, one is real, and they
// are served from one port one after the other. Nothing that was typed for one comes into the other,
// nor into its forms, and nothing of it is lost.
//   node page/tests/two_journals.mjs PROGRAM SOURCE_DIR
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { by, check, folder, free_port, job_of, main, new_job, open_browser, phone, shot, start_server, until } from './browser.mjs';

const kPractice = join(folder, 'practice', 'site.job');
const kReal = join(folder, 'real', 'site.job');
const entries = (file) => job_of(file, 'show', '--all').entries;
const times = (file, text) => entries(file).filter((one) => one.says.includes(text)).length;

const is_back = (page) => until('the page says that it is connected', async () => (await by(page, 'connection').getAttribute('data-state')) === 'connected');
const is_lost = (page) => until('the page says that the connection is lost', async () => (await by(page, 'connection').getAttribute('data-state')) === 'lost');
const practises = (page) => by(page, 'practice-bar').count();
const go = (page, view) => page.locator(`[data-view="${view}"]`).tap();
const wait = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

async function type_note(page, text) {
  await go(page, 'more');
  await by(page, 'note').fill(text);
  await by(page, 'send-note').tap();
}

const kind = (page, name) => page.locator('.kinds button', { hasText: name });

async function half_typed(page) {
  await go(page, 'more');
  await by(page, 'note').fill('half a note of the practice site');
  await kind(page, 'Weather').tap();
  await page.locator('[data-field="temp_degC"]').fill('-7');
}

async function nothing_is_half_typed(page) {
  await go(page, 'more');
  await by(page, 'note').waitFor();
  check('the note of one site stands in no form of the other', (await by(page, 'note').inputValue()) === '');
  await kind(page, 'Weather').tap();
  check('nor do the fields of an entry', (await page.locator('[data-field="temp_degC"]').inputValue()) === '');
  await kind(page, 'Weather').tap();
}

/** The page sends while the one server goes and the other comes: what it sends names the first. */
async function changed_while_it_is_sent(page, server, port) {
  let other = null;
  await page.route('**/api/entries', async (route) => {
    if (route.request().method() !== 'POST' || other) return route.continue();
    await server.kill();
    other = await start_server({ port, file: kReal, rehearse: false });
    await route.continue();
  });
  const refused = page.waitForResponse((answer) => answer.url().endsWith('/api/entries') && answer.status() === 409);
  await type_note(page, 'sent while the server changed');
  const said = await (await refused).json();
  check('the server says whose it is not', /another journal/.test(said.faults[0].what) && /nothing was recorded/.test(said.faults[0].what), JSON.stringify(said));
  await page.unroute('**/api/entries');
  await is_back(page);
  await until('the page shows the other site', async () => (await practises(page)) === 0);
  check('it did not come into the other journal', times(kReal, 'sent while the server changed') === 0);
  await by(page, 'foreign').waitFor();
  check('it waits for its own one, and is not told as refused', (await page.locator('[data-refused]').count()) === 0);
  return other;
}

/** As an earlier version of the page kept it: the file's name, no journal. */
async function kept_by_an_earlier_version(page) {
  await page.evaluate(async () => {
    const database = await new Promise((resolve, reject) => {
      const request = indexedDB.open('weighwright', 1);
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const item = { job: 'site.job', asked: '', revision: '', what: 'entries', label: 'Note: of some site', queued_ms: Date.now(), attempts: 0, faults: [], refused: false, aside: false };
    const store = database.transaction('queue', 'readwrite').objectStore('queue');
    await new Promise((resolve) => {
      store.add({ ...item, body: { token: 'kept-by-an-older-page', notes: ['of some site'] } }).onsuccess = resolve;
    });
    database.close();
    localStorage.setItem('weighwright.draft.note', 'half a note of some site');
  });
  await page.reload();
  await by(page, 'unnamed').waitFor();
  await is_back(page);
  await wait(2_500);  // longer than the first waits of the queue
  check('what names no journal is shown, and not sent by itself', times(kReal, 'of some site') === 0);
  await shot(page, 'two-journals-unnamed', true);
  await go(page, 'more');
  check('what was half typed for some site comes into no form by itself', (await by(page, 'note').inputValue()) === '');
  await by(page, 'take-drafts').tap();
  await go(page, 'now');
  await go(page, 'more');
  check('it does on the word of the person', (await by(page, 'note').inputValue()) === 'half a note of some site');
  await by(page, 'note').fill('');
  await by(page, 'give-here').tap();
  await until('it is sent on the word of the person', () => times(kReal, 'of some site') === 1);
  await until('and is shown no more', async () => (await by(page, 'unnamed').count()) === 0);
}

await main(async () => {
  mkdirSync(join(folder, 'practice'));
  mkdirSync(join(folder, 'real'));
  new_job(kReal);
  const port = await free_port();
  let server = await start_server({ port, file: kPractice });
  await open_browser();
  const { page, troubles } = await phone();
  await page.goto(server.url);
  await by(page, 'headline').waitFor();
  await is_back(page);
  check('the first site is for practice', (await practises(page)) === 1);
  await half_typed(page);

  await server.kill();
  await is_lost(page);
  await by(page, 'note').fill('typed for the practice site');
  await by(page, 'send-note').tap();
  await go(page, 'now');
  await by(page, 'record').tap();
  await half_typed(page);
  check('two wait', (await page.locator('[data-testid="waiting-count"]').innerText()).includes('(2)'));

  const real = entries(kReal).length;
  server = await start_server({ port, file: kReal, rehearse: false });
  await until('the page shows the real site', async () => (await practises(page)) === 0);
  await is_back(page);
  await by(page, 'foreign').waitFor();
  check('what waits for another journal is told', (await by(page, 'foreign').innerText()).startsWith('2 entries typed for another journal (site.job '));
  await nothing_is_half_typed(page);
  await page.reload();
  await by(page, 'foreign').waitFor();
  await is_back(page);
  await nothing_is_half_typed(page);
  await type_note(page, 'typed for the real site');
  await until('what is typed for the real site is in its journal', () => times(kReal, 'typed for the real site') === 1);
  await wait(2_500);
  check('nothing else came into it', entries(kReal).length === real + 1, JSON.stringify(entries(kReal)));
  await shot(page, 'two-journals-foreign', true);

  await server.kill();
  await is_lost(page);
  server = await start_server({ port, file: kPractice });
  await until('the page shows the practice site', async () => (await practises(page)) === 1);
  await until('what waited for it is in its journal', () => times(kPractice, 'typed for the practice site') === 1);
  await until('nothing waits any more', async () => (await by(page, 'foreign').count()) + (await by(page, 'waiting-count').count()) === 0);
  await go(page, 'more');
  check('and what was half typed for it is back', (await by(page, 'note').inputValue()) === 'half a note of the practice site');
  check('nothing of the real site came here', times(kPractice, 'typed for the real site') === 0);

  server = await changed_while_it_is_sent(page, server, port);
  await kept_by_an_earlier_version(page);

  await server.kill();
  await start_server({ port, file: kPractice });
  await until('what was refused elsewhere is recorded at home', () => times(kPractice, 'sent while the server changed') === 1);
  check('once', times(kPractice, 'sent while the server changed') === 1);
  check('both journals are whole', job_of(kReal, 'verify').whole && job_of(kPractice, 'verify').whole);
  check('no error in the page', troubles.length === 0, troubles.join(' | '));
});
