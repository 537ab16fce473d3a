// Every view in every theme and language on a phone, in some of them on wider screens: axe-core finds nothing serious or critical, nothing
// scrolls sideways, whatever is touched is large enough. Pictures for who wants to look: SHOTS=folder
//   node page/tests/look.mjs PROGRAM SOURCE_DIR
// Sources: page/tests/looking.mjs
import { by, check, free_port, job, main, open_browser, phone, start_server, until } from './browser.mjs';
import { look_at } from './looking.mjs';

async function post(server, path, body) {
  const { journal } = await (await fetch(`${server.url}api/site`)).json();
  const answer = await fetch(server.url + path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', Origin: server.url.slice(0, -1) },
    body: JSON.stringify({ journal, ...body }),
  });
  const said = await answer.json();
  if (!answer.ok) throw new Error(`${path}: ${JSON.stringify(said)}`);
  return said;
}

let tokens = 0;
const record = (server, what) => post(server, 'api/entries', { token: `look-test-${String((tokens += 1)).padStart(8, '0')}`, ...what });

/** Brings the job to the point where stands are to be moved. */
async function to_the_moves(server) {
  const answers = (await post(server, 'api/practice', { lines: ['meter all', 'map'] })).answers;
  await record(server, { ticks: ['locked_out', 'set_down', 'wired', 'panels_on', 'rods_slack', 'nothing_touches', 'nobody_on_deck', 'warm', 'same_meter'] });
  await record(server, { tables: answers.map((one, i) => ({ name: `t${i}.csv`, text: one.table })) });
}

async function record_cells(server) {
  const [cells] = (await post(server, 'api/practice', { lines: ['cells'] })).answers;
  await record(server, { tables: [{ name: 'cells.csv', text: cells.table }] });
}

const kWidths = [[360, 740], [768, 1024], [1280, 800]];
const kThemes = ['light', 'dark', 'sun'];
const kLanguages = ['en', 'es'];

/** On a phone every theme in every language; wider ones share the rest of the page with it. */
function shown_at(width) {
  const all = kThemes.flatMap((theme) => kLanguages.map((language) => [theme, language]));
  const wider = { 768: [['light', 'es'], ['sun', 'en']], 1280: [['dark', 'es'], ['light', 'en']] };
  return wider[width] ?? all;
}

async function every_view(server, state) {
  for (const [width, height] of kWidths) {
    for (const [theme, language] of shown_at(width)) {
      const { context, page, troubles } = await phone({ width, height, theme, language });
      await page.goto(server.url);
      await by(page, 'headline').waitFor();
      const views = width >= 900 ? ['now', 'journal', 'more'] : ['now', 'deck', 'journal', 'more'];
      for (const view of views) {
        await page.locator(`[data-view="${view}"]`).click();
        await page.evaluate(() => document.querySelectorAll('details').forEach((one) => (one.open = true)));
        await look_at(page, `${state}-${view}-${width}-${theme}-${language}`);
      }
      check(`${state} ${width} ${theme} ${language}: no error in the page`, troubles.length === 0, troubles.join(' | '));
      await context.close();
    }
  }
}

async function keypad(server) {
  for (const theme of kThemes) {
    const { context, page } = await phone({ theme });
    await page.goto(server.url);
    await page.locator('[data-cell]').first().tap();
    await by(page, 'keypad').waitFor();
    await look_at(page, `keypad-360-${theme}`, false);
    await context.close();
  }
}

/** By keyboard alone: to the action by the first link, and along every part. */
async function by_keyboard(server) {
  const { context, page } = await phone({ width: 1280, height: 800 });
  await page.goto(server.url);
  await by(page, 'headline').waitFor();
  await page.keyboard.press('Tab');
  check('the first stop of the keyboard leads to the action', (await page.evaluate(() => document.activeElement?.getAttribute('href'))) === '#main');
  const seen = new Set();
  for (let i = 0; i < 60; ++i) {
    await page.keyboard.press('Tab');
    seen.add(await page.evaluate(() => document.activeElement?.getAttribute('data-testid') ?? document.activeElement?.tagName));
  }
  check('the keyboard comes to "record"', seen.has('record'), [...seen].join(' '));
  await context.close();
}

await main(async () => {
  const server = await start_server({ port: await free_port() });
  await open_browser();
  await to_the_moves(server);
  await keypad(server);
  await by_keyboard(server);
  await record_cells(server);
  await until('stands are to be moved', () => job('next').next.table?.startsWith('stand,'));
  await every_view(server, 'moves');
});
