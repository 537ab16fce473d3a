// The test by a rulebook on a practice site, at the size of a phone, by touch: what it is for, the
// weights, placements that pass and one that does not, the list of all, a paper. The job before it is
// played through the API.
//   node page/tests/test_phase.mjs PROGRAM SOURCE_DIR      (SHOTS=folder: pictures)
// The limit beside the figures: OIML R 76-1:2006, 3.5.1, table 6: of class III 0.5 e up to 500 e, e is
// 20 kg here, so 10 kg for 9 t. Journal and papers are judged by the program and by their first
// bytes (ISO 32000-1:2008, 7.5.2: a file begins with %PDF-).
import { readFileSync } from 'node:fs';
import { by, check, free_port, job, main, open_browser, phone, start_server, until } from './browser.mjs';
import { look_at } from './looking.mjs';
import { play_until, site_of } from './player.mjs';

const code_of = (page) => by(page, 'headline').getAttribute('data-code');
const shows = (page, code) => until(`the page asks for ${code}`, async () => (await code_of(page)) === code);

/** Records what stands in the form, and waits for what comes next. */
async function record_it(page, form = page.locator('article.card')) {
  const before = job('next').entry_count;
  await form.locator('[data-testid="record"]:visible').first().tap();
  await until('it is in the journal', () => job('next').entry_count > before, 40_000);
  await until('the page has it', async () => (await by(page, 'covered').count()) === 0 && (await by(page, 'waiting').count()) === 0);
}

async function practise(page) {
  await by(page, 'practice').first().tap();
  await until('the practice site has answered', async () => (await page.locator('.table p.says').count()) > 0);
}

async function type(page, column, figures) {
  await page.locator(`[data-cell$="/${column}"]`).tap();
  await by(page, 'keypad').waitFor();
  const keypad = by(page, 'keypad');
  for (const figure of figures) await keypad.locator(`[data-key="${figure}"]`).tap();
}

const told = async (page) => (await by(page, 'difference').innerText()).replace(/\s+/g, ' ').replace('\u2212', '-');

/** "Eccentric load (8 of 29)" */
const number_of = async (page) => Number(/\((\d+) /.exec(await by(page, 'headline').innerText())?.[1]);

async function what_for_and_weights(page) {
  await shows(page, 'occasion');
  await look_at(page, 'test-occasion');
  await by(page, 'record').tap();
  await page.locator('p.says').waitFor();
  check('nothing is sent before something is chosen', (await code_of(page)) === 'occasion' && job('next').next.code === 'occasion');
  await page.locator('[data-choice="new"]').tap();
  await record_it(page);
  await shows(page, 'weights');
  await look_at(page, 'test-weights');
  await practise(page);
  await record_it(page);
  await shows(page, 'test');
  check('the journal knows the occasion', job('show', '--all').entries.some((one) => one.kind === 'occasion' && one.says.includes('new')));
}

/** To the first placement of known weights on one place. */
async function to_a_place(server, page) {
  await practise(page);
  await record_it(page);
  check('zero was read and is shown as read last', (await by(page, 'last-line').innerText()).includes('Zero'));
  const { site } = await play_until(server.url, (one) => one.test.lines.find((line) => line.state === 'next')?.check === 'eccentric');
  const line = site.test.lines.find((one) => one.state === 'next');
  await until('the page shows it', async () => (await number_of(page)) === line.number);
  return line;
}

async function one_inside(page, line) {
  const limit = await by(page, 'limit').innerText();
  check('the limit is shown large: 0.5 e of 20 kg', /within 10\s*kg/.test(limit), limit);
  check('where the load stands is hatched on the deck', (await page.locator('[data-patch]').count()) === line.patches.length && line.patches.length > 0);
  await type(page, 'zero_before', '0');
  await type(page, 'indication_kg', '9020');
  check('beyond the limit is said at once, in words', /\+20 kg.*outside/.test(await told(page)), await told(page));
  for (let i = 0; i < 4; ++i) await page.locator('[data-key="back"]').tap();
  for (const figure of '9010') await page.locator(`[data-key="${figure}"]`).tap();
  check('on the limit is inside', /\+10 kg.*inside/.test(await told(page)), await told(page));
  await look_at(page, 'test-keypad', false);
  await page.locator('.keypad .close').tap();
  await look_at(page, 'test-placement');
  await practise(page);
  check('what the practice site shows is within', /inside/.test(await told(page)), await told(page));
  await record_it(page);
  await until('the next placement is shown', async () => (await number_of(page)) === line.number + 1);
  check('the verdict of the server: pass', (await by(page, 'last-line').getAttribute('data-verdict')) === 'pass', await by(page, 'last-line').innerText());
}

async function one_outside(page, line) {
  await type(page, 'zero_before', '0');
  await page.locator('[data-key="next"]').tap();
  for (const figure of '9100') await page.locator(`[data-key="${figure}"]`).tap();
  await page.locator('.keypad .close').tap();
  await record_it(page);
  await until('the next placement is shown', async () => (await number_of(page)) === line.number + 2);
  const last = by(page, 'last-line');
  check('the verdict of the server: fail', (await last.getAttribute('data-verdict')) === 'fail', await last.innerText());
  check('and it is said in a word, with the error', /fail.*\+100/s.test(await last.innerText()), await last.innerText());
}

async function all_placements(server, page) {
  await by(page, 'to-test').tap();
  await by(page, 'test-view').waitFor();
  const { test } = await site_of(server.url);
  check('every line is in the list', (await page.locator('[data-line]').count()) === test.lines.length);
  check('the one that failed is marked', (await page.locator('[data-line][data-verdict="fail"]').count()) === 1);
  check('one is next', (await page.locator('[data-line][data-state="next"]').count()) === 1);
  await page.locator('[data-line] summary').nth(8).tap();
  await look_at(page, 'test-view');
}

async function papers(page) {
  const coming = page.waitForEvent('download');
  await page.locator('[data-paper="report"]').tap();
  const paper = await coming;
  check('the report comes under a name', /^report-.*\.pdf$/.test(paper.suggestedFilename()), paper.suggestedFilename());
  check('and is a PDF', readFileSync(await paper.path()).subarray(0, 5).toString() === '%PDF-');
  const why = 'the plan can not be drawn today';
  await page.route('**/api/paper/plan', (route) =>
    route.fulfill({ status: 400, contentType: 'application/json', body: JSON.stringify({ faults: [{ file: '', line: null, column: null, what: why, expected: 'tomorrow' }] }) }),
  );
  await page.locator('[data-paper="plan"]').tap();
  await until('a paper that can not be had says why', async () => (await by(page, 'paper-told').innerText()).includes(why));
}

/** The same in Spanish, in full sun and pounds. */
async function otherwise(server) {
  const { context, page } = await phone({ language: 'es', theme: 'sun', us: true });
  await page.goto(server.url);
  await by(page, 'headline').waitFor();
  await until('Spanish is there', async () => (await by(page, 'headline').innerText()).includes(' de '));
  await look_at(page, 'test-placement-es-sun');
  await page.locator('[data-view="test"]').tap();
  await by(page, 'test-view').waitFor();
  await look_at(page, 'test-view-es-sun');
  await context.close();
}

await main(async () => {
  const server = await start_server({ port: await free_port() });
  await open_browser();
  await play_until(server.url, (site) => site.next.code === 'occasion');
  const { page, troubles, outside } = await phone();
  await page.goto(server.url);
  await by(page, 'headline').waitFor();
  check('there is no test to look at yet', (await page.locator('[data-view="test"]').count()) === 0);
  await what_for_and_weights(page);
  const line = await to_a_place(server, page);
  await one_inside(page, line);
  await one_outside(page, line);
  await all_placements(server, page);
  await papers(page);
  await otherwise(server);
  check('nothing that was entered was refused', job('show', '--all').entries.every((one) => one.fate === null));
  check('no error in the page', troubles.length === 0, troubles.join(' | '));
  check('no request left the machine', outside.length === 0, outside.join(' '));
});
