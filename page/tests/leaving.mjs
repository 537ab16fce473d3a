// A phone comes in by a code and a name, and leaves: what is unsent is sent first, and afterwards
// nothing of the site is on it.
//   node page/tests/leaving.mjs PROGRAM SOURCE_DIR
import { by, check, folder, free_port, job_of, main, open_browser, phone, shot, start_server, until } from './browser.mjs';
import { join } from 'node:path';

const kFile = join(folder, 'site.job');
const code_of = (server) => /Code: (\S+)/.exec(server.said())[1];
const go = (page, view) => page.locator(`[data-view="${view}"]`).tap();

/** Everything that the phone keeps, as text. */
const kept = (page) =>
  page.evaluate(async () => {
    const own = Object.entries(localStorage).filter(([key]) => key !== 'weighwright.settings');
    const database = await new Promise((resolve, reject) => {
      const request = indexedDB.open('weighwright');
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const queued = await new Promise((resolve) => {
      const request = database.transaction('queue', 'readonly').objectStore('queue').getAll();
      request.onsuccess = () => resolve(request.result);
    });
    database.close();
    return JSON.stringify({ own, queued });
  });

await main(async () => {
  await open_browser();
  const server = await start_server({ port: await free_port(), file: kFile, lan: true });
  const { page, context, troubles } = await phone();
  await page.goto(server.url);
  await by(page, 'code').fill(code_of(server));
  check('nobody comes in without a name', await page.locator('.pair button.main').isDisabled());
  await by(page, 'phone-name').fill('R. Example');
  await page.locator('.pair button.main').tap();
  await page.locator('[data-view="more"]').waitFor();
  check('the terminal shows who came in', /Let in: 1 {2}R\. Example, from 127\.0\.0\.1/.test(server.said()), server.said());

  // The phone may have changed hands since the last visit.
  await by(page, 'who-still').waitFor();
  check('a new visit asks who records', (await by(page, 'who-name').inputValue()) === 'R. Example');
  await by(page, 'who-yes').tap();
  await by(page, 'recorded-by').waitFor();
  await page.reload();
  await by(page, 'recorded-by').waitFor();
  check('and asks once', (await by(page, 'who-still').count()) === 0);

  await go(page, 'more');
  await by(page, 'note').waitFor();
  await context.setOffline(true);
  await by(page, 'note').fill('typed while the line was gone');
  await by(page, 'send-note').tap();
  await by(page, 'note').fill('half a note');
  await by(page, 'leave').tap();
  await by(page, 'leave-unsent').waitFor();
  await shot(page, 'leaving');
  check('it is on the phone while it is asked', (await kept(page)).includes('typed while the line was gone'));
  // It waits for the line to come back.
  await page.locator('[data-testid="toast"]').waitFor({ state: 'detached', timeout: 40_000 });
  await by(page, 'leave-wait').tap();
  await context.setOffline(false);
  await by(page, 'code').waitFor();
  await until('nothing of the site is on the phone', async () => (await kept(page)) === '{"own":[],"queued":[]}');
  const entries = job_of(kFile, 'show', '--all').entries;
  const notes = entries.filter((one) => one.says.includes('typed while the line was gone'));
  check('what was unsent came into the journal once', notes.length === 1, JSON.stringify(entries));
  await page.reload();
  await by(page, 'code').waitFor();
  check('nothing comes back with the page', (await kept(page)) === '{"own":[],"queued":[]}', await kept(page));
  // Browsers take no service worker from a certificate that nobody vouches for.
  const others = troubles.filter((one) => !/SSL certificate/.test(one));
  check('no error in the page', others.length === 0, others.join('; '));
});
