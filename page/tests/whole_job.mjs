// The whole sharing and trimming job on a practice site, at the size of a phone, by touch alone:
// what a person would tap, until every place agrees and the span is set. Whether it is done is read
// from the journal by the program, not from the page.
//   node page/tests/whole_job.mjs PROGRAM SOURCE_DIR      (SEED=n, DECK=name.toml: another site; SHOTS=folder: pictures)
import { by, check, free_port, job, main, open_browser, phone, shot, start_server, until } from './browser.mjs';

// outside check: the page: a whole job by touch at phone size; a connection and a server lost; no
//  serious finding of accessibility | judged by the journal, not by the page; axe-core 4.14 (rules
//  of WCAG 2.2 A and AA); tap targets WCAG 2.5.5, contrast 1.4.3 and 1.4.6

const kMostActions = 80;
const seed = Number(process.env.SEED ?? 2);

/** Taps through one action as the card asks for it. Gives what was tapped, for the tally. */
async function act(page) {
  const card = page.locator('article.card');
  const tapped = [];
  const practice = card.locator('[data-testid="practice"]:enabled:visible');
  while ((await practice.count()) > 0) {
    const first = practice.first();
    const handle = await first.elementHandle();
    await first.tap();
    tapped.push('practice');
    // Done: it may be tapped again (measured) or not (moved); either way it is not busy any more.
    await until('the practice site has answered', async () => (await card.locator('[data-testid="practice"]:visible').first().innerText()).includes('on the practice site'));
    const done = await handle.isDisabled().catch(() => true);
    if (!done) break;
  }
  const all = card.locator('[data-testid="all-ticks"]');
  if ((await all.count()) > 0) {
    await all.tap();
    tapped.push('all ticks');
  }
  const remark = card.locator('[data-testid="remark-needed"]:visible');
  if ((await remark.count()) > 0) {
    await remark.fill('Looked at and put right');
    tapped.push('remark');
  }
  const record = card.locator('[data-testid="record"]:visible');
  if ((await record.count()) > 0) {
    await record.first().tap();
    tapped.push('record');
  }
  return tapped;
}

const steps_done = () => Object.fromEntries(job('show').steps.map((step) => [step.step, step.state]));

await main(async () => {
  const server = await start_server({ port: await free_port(), seed, deck: process.env.DECK });
  await open_browser();
  const { page, troubles, outside } = await phone();
  await page.goto(server.url);
  await by(page, 'headline').waitFor();
  check('the practice site is marked as practice', await by(page, 'practice-bar').isVisible());

  const walked = [];
  let pictures = 0;
  for (let i = 0; i < kMostActions; ++i) {
    const state = steps_done();
    if (state.trim === 'done' && state.span === 'done') break;
    const headline = by(page, 'headline');
    const code = await headline.getAttribute('data-code');
    const before = job('next').entry_count;
    walked.push(code);
    await shot(page, `job-${String(pictures++).padStart(2, '0')}-${code}`, true);
    const tapped = await act(page);
    if (tapped.length === 0) throw new Error(`nothing to tap at "${await headline.innerText()}" (${code})`);
    await until(`"${await headline.innerText()}" (${code}) comes into the journal after ${tapped.join(', ')}`, () => job('next').entry_count > before, 40_000);
    await until('the page has it', async () => (await by(page, 'covered').count()) === 0 && (await by(page, 'waiting').count()) === 0);
    const now = job('next');
    await until('the page shows the next action', async () => (await headline.getAttribute('data-step')) === now.next.step);
  }
  const state = steps_done();
  for (const step of ['share', 'fix', 'trim', 'span']) {
    check(`journal says ${step} is done`, state[step] === 'done', `it is ${state[step]}; walked ${walked.join(' ')}`);
  }
  const entries = job('show', '--all').entries;
  check('span was set as left', entries.some((one) => one.kind === 'setting' && one.says.includes('span')));
  check('nothing that was entered was refused or taken back', entries.every((one) => one.fate === null), JSON.stringify(entries.filter((one) => one.fate !== null)));
  check('the journal is whole', job('verify').whole === true);
  check('no error in the page', troubles.length === 0, troubles.join(' | '));
  check('no request left the machine', outside.length === 0, outside.join(' '));
  console.log(`${walked.length} actions, ${entries.length} entries: ${walked.join(' ')}`);
});
