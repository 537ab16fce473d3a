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
  const sizes = new Map();
  let shown = false;
  page.on('response', async (response) => {
    const path = new URL(response.url()).pathname;
    // What comes after the first view is there (other views, another language) is not part of it.
    if (path.startsWith('/api/') || path === '/sw.js' || shown) return;
    sizes.set(path, 0);
    sizes.set(path, gzipSync(await response.body(), { level: 9 }).length);
  });
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: kSlower });
  const begun = Date.now();
  await page.goto(server.url);
  await by(page, 'headline').waitFor();
  shown = true;
  const shown_ms = Date.now() - begun;
  const paint_ms = await page.evaluate(() => Math.round(performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN));
  await page.waitForLoadState('load');
  for (const [path, bytes] of sizes) console.log(`${String(bytes).padStart(8)} bytes gzip -9  ${path}`);
  const total = [...sizes.values()].reduce((sum, one) => sum + one, 0);
  check(`first view ${(total / 1000).toFixed(1)} kB of ${kMost_bytes / 1000} kB`, sizes.size >= 3 && [...sizes.values()].every((one) => one > 0) && total < kMost_bytes);
  console.log(`first contentful paint ${paint_ms} ms, next action shown after ${shown_ms} ms (processor ${kSlower} times slower)`);
});
