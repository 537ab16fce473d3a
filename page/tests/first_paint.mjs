// How much the first view weighs (gzip -9; fails above 150 kB) and how soon something is seen on a
// processor four times slower (printed, never judged: it depends on the machine).
//   node page/tests/first_paint.mjs PROGRAM SOURCE_DIR
import { gzipSync } from 'node:zlib';
import { by, check, free_port, main, open_browser, phone, start_server } from './browser.mjs';

const kMost_bytes = 150_000;
const kSlower = 4;

await main(async () => {
  const server = await start_server({ port: await free_port() });
  await open_browser();
  const { context, page } = await phone();
  await page.addInitScript(() => {
    const look = new MutationObserver(() => {
      if (!document.querySelector('[data-testid="headline"]')) return;
      window.first_view_ms = performance.now();
      look.disconnect();
    });
    look.observe(document, { childList: true, subtree: true });
  });
  const bodies = new Map();
  page.on('response', (response) => {
    const path = new URL(response.url()).pathname;
    if (!path.startsWith('/api/') && path !== '/sw.js') bodies.set(path, response.body());
  });
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: kSlower });
  await page.goto(server.url);
  await by(page, 'headline').waitFor();
  await page.waitForLoadState('load');
  const shown_ms = await page.evaluate(() => Math.round(window.first_view_ms));
  const paint_ms = await page.evaluate(() => Math.round(performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN));
  // What is fetched after the first view is there (other views, another language) is not part of it.
  const first = await page.evaluate(() =>
    performance.getEntriesByType('resource').filter((one) => one.startTime <= window.first_view_ms).map((one) => new URL(one.name).pathname),
  );
  const sizes = new Map();
  for (const path of ['/', ...first]) {
    if (bodies.has(path)) sizes.set(path, gzipSync(await bodies.get(path), { level: 9 }).length);
  }
  for (const [path, bytes] of sizes) console.log(`${String(bytes).padStart(8)} bytes gzip -9  ${path}`);
  const total = [...sizes.values()].reduce((sum, one) => sum + one, 0);
  check(`first view ${(total / 1000).toFixed(1)} kB of ${kMost_bytes / 1000} kB`, sizes.size >= 3 && total < kMost_bytes);
  console.log(`first contentful paint ${paint_ms} ms, next action shown after ${shown_ms} ms (processor ${kSlower} times slower)`);
});
