// What is typed while there is no network, while the server is killed without a goodbye, and when an
// answer is lost on the way: everything is in the journal exactly once, and visibly waiting meanwhile.
//   node page/tests/lost_connection.mjs PROGRAM SOURCE_DIR
import { by, check, free_port, job, main, open_browser, phone, shot, start_server, until } from './browser.mjs';

const entries = () => job('show', '--all').entries;
const times = (text) => entries().filter((one) => one.says.includes(text)).length;

async function type_note(page, text) {
  await page.locator('[data-view="more"]').tap();
  await by(page, 'note').fill(text);
  await by(page, 'send-note').tap();
  await until('the note is taken off the form', async () => (await by(page, 'note').inputValue()) === '');
}

const waiting = async (page) => Number(/\((\d+)\)/.exec(await by(page, 'waiting-count').innerText())?.[1] ?? 0);
const is_lost = (page) => until('the page says that the connection is lost', async () => (await by(page, 'connection').getAttribute('data-state')) === 'lost');
const is_back = (page) => until('the page says that it is connected', async () => (await by(page, 'connection').getAttribute('data-state')) === 'connected');
const nothing_waits = (page) => until('nothing waits any more', async () => (await by(page, 'waiting').count()) === 0, 90_000);

async function without_network(context, page) {
  await context.setOffline(true);
  await is_lost(page);
  await by(page, 'lost').waitFor();
  await page.locator('[data-view="now"]').tap();
  await by(page, 'record').tap();
  await by(page, 'covered').waitFor();
  await type_note(page, 'typed without network, one');
  await type_note(page, 'typed without network, two');
  check('three wait, and it is said', (await waiting(page)) === 3, String(await waiting(page)));
  await shot(page, 'lost-1');
  check('none of them is in the journal yet', times('typed without network') === 0);

  await page.reload();
  await by(page, 'waiting').waitFor();
  check('after a reload without network three still wait', (await waiting(page)) === 3, String(await waiting(page)));
  check('after a reload without network the job is still shown', (await by(page, 'headline').innerText()) !== '');
  await shot(page, 'lost-2');

  await context.setOffline(false);
  await is_back(page);
  await nothing_waits(page);
  check('both notes once', times('typed without network, one') === 1 && times('typed without network, two') === 1);
  check('the tick once', entries().filter((one) => one.kind === 'tick').length === 1);
  const order = entries().filter((one) => one.kind === 'tick' || one.says.includes('typed without network'));
  check('in the order in which they were typed', order[0]?.kind === 'tick' && order[1]?.says.includes('one') && order[2]?.says.includes('two'));
}

async function with_the_server_killed(server, page, port) {
  await server.kill();
  await is_lost(page);
  await type_note(page, 'typed while the server was dead');
  check('it waits, and it is said', (await waiting(page)) === 1);
  await page.reload();
  await by(page, 'waiting').waitFor();
  check('it waits after a reload without server', (await waiting(page)) === 1);
  await shot(page, 'lost-3');
  const again = await start_server({ port });
  await is_back(page);
  await nothing_waits(page);
  check('it is in the journal once', times('typed while the server was dead') === 1);
  return again;
}

/** The server records, and is killed before its answer comes: the page must send it once more, and
 *  the server must know it again. */
async function with_the_answer_lost(server, page, port) {
  let cut = 0;
  await page.route('**/api/entries', async (route) => {
    if (route.request().method() !== 'POST' || cut > 0) return route.continue();
    cut += 1;
    await route.fetch();
    await server.kill();
    await route.abort();
  });
  await type_note(page, 'recorded, the answer lost');
  await until('the answer was cut', () => cut === 1);
  await is_lost(page);
  check('it still waits, for no answer came', (await waiting(page)) === 1);
  const again = await start_server({ port });
  await is_back(page);
  await nothing_waits(page);
  await page.unroute('**/api/entries');
  check('recorded once all the same', times('recorded, the answer lost') === 1, String(times('recorded, the answer lost')));
  return again;
}

async function half_typed(page) {
  await page.locator('[data-view="now"]').tap();
  await until('cells are to be read with no load', async () => (await by(page, 'headline').getAttribute('data-code')) === 'no_load');
  const cell = page.locator('[data-cell^="1L/"]').first();
  await cell.tap();
  for (const key of ['minus', '0', '.', '2', '6']) await page.locator(`[data-key="${key}"]`).tap();
  await page.locator('[data-key="next"]').tap();
  await shot(page, 'half-typed');
  check('the keys type', (await cell.inputValue()) === '-0.26', await cell.inputValue());
  await page.reload();
  await by(page, 'headline').waitFor();
  await cell.waitFor();
  check('what was half typed is there after a reload', (await cell.inputValue()) === '-0.26', await cell.inputValue());
}

async function refused_and_put_right(page) {
  await page.locator('[data-view="more"]').tap();
  await page.locator('summary', { hasText: 'A table, as a file or as text' }).tap();
  const text = page.locator('details textarea').first();
  await text.fill('stand,height_mm\n1L,0.0\n1R,O.8\n');
  await page.locator('details button', { hasText: 'Record' }).first().tap();
  await page.locator('[data-refused]').waitFor();
  const said = await page.locator('[data-refused]').innerText();
  check('a refused table says where and what', /3:/.test(said) && said.includes('O.8'), said);
  await type_note(page, 'typed behind a refused one');
  await shot(page, 'refused', true);
  await until('what was typed afterwards does not wait for it', () => times('behind a refused') === 1);
  check('the refused one is not recorded meanwhile', entries().every((one) => one.kind !== 'measurement'));
  await page.reload();
  await page.locator('[data-refused]').waitFor();
  await by(page, 'edit').tap();
  await page.locator('[data-edit="1/height_mm"]').fill('0.8');
  await shot(page, 'put-right', true);
  await by(page, 'save-edit').tap();
  await until('nothing is refused any more', async () => (await page.locator('[data-refused]').count()) === 0);
  await nothing_waits(page);
  check('put right, it is in the journal once', entries().filter((one) => one.kind === 'measurement').length === 1);
  check('and what was typed after it, once', times('behind a refused') === 1);
}

async function taken_back(page) {
  const before = entries().length;
  await page.locator('[data-view="now"]').tap();
  await by(page, 'undo-last').tap();
  await by(page, 'undo-yes').tap();
  await until('the undo comes into the journal', () => entries().length === before + 1);
  check('the last entry is taken back, and kept', entries().some((one) => one.kind === 'measurement' && /undone/.test(one.fate ?? '')));
}

await main(async () => {
  const port = await free_port();
  let server = await start_server({ port });
  await open_browser();
  const { context, page, troubles } = await phone();
  await page.goto(server.url);
  await by(page, 'headline').waitFor();
  await until('the page is kept on the phone', () =>
    page.evaluate(async () => (await caches.match('./')) !== undefined && (await caches.match(document.querySelector('script[src]').src)) !== undefined),
  );
  await is_back(page);
  await without_network(context, page);
  server = await with_the_server_killed(server, page, port);
  server = await with_the_answer_lost(server, page, port);
  await half_typed(page);
  await refused_and_put_right(page);
  await taken_back(page);
  check('the journal is whole', job('verify').whole === true);
  check('no error in the page', troubles.length === 0, troubles.join(' | '));
});
