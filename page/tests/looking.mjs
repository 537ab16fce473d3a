// What every view must be: axe-core finds nothing serious or critical, nothing scrolls sideways,
// whatever is touched is large enough.
// Sources: WCAG 2.2 by way of axe-core's rules; target size 44 by 44 CSS px as in its criterion 2.5.5
// (2.5.8 asks for 24); reflow as in 1.4.10 (no scrolling in two dimensions), here at 360 CSS px.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { check, shot } from './browser.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const kLeastTarget_px = 44;

async function violations(page) {
  // Evaluated from outside: the page's own policy lets no foreign script in.
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe);
  return page.evaluate(async () => {
    const found = await window.axe.run(document, { resultTypes: ['violations'] });
    return found.violations
      .filter((one) => ['serious', 'critical'].includes(one.impact))
      .map((one) => `${one.id}: ${one.nodes.slice(0, 3).map((node) => `${node.target.join(' ')} ${node.any[0]?.message ?? ''}`).join(' | ')}`);
  });
}

const too_wide = (page) =>
  page.evaluate(() => {
    const root = document.scrollingElement;
    if (root.scrollWidth <= root.clientWidth) return '';
    const wide = [...document.body.querySelectorAll('*')].filter((one) => one.getBoundingClientRect().right > root.clientWidth + 1);
    return `${root.scrollWidth} > ${root.clientWidth}: ${wide.slice(-3).map((one) => `${one.tagName}.${one.className}`).join(', ')}`;
  });

const small_targets = (page) =>
  page.evaluate((least) => {
    const small = [];
    for (const one of document.querySelectorAll('button, a[href], input, textarea, select, summary, [role="button"], [role="checkbox"], [tabindex="0"]')) {
      if (!one.checkVisibility() || one.classList.contains('skip')) continue;
      const box = one.getBoundingClientRect();
      if (box.width === 0 || box.height === 0 || box.right < 0) continue;
      // A link in a sentence is excepted by 2.5.5; a scrolling region is no target.
      if (one.tagName === 'A' && getComputedStyle(one).display === 'inline') continue;
      if (one.getAttribute('tabindex') === '0' && one.getAttribute('role') === 'region') continue;
      if (box.width < least - 0.5 || box.height < least - 0.5) small.push(`${one.tagName} "${(one.getAttribute('aria-label') ?? one.textContent ?? '').trim().slice(0, 30)}" ${Math.round(box.width)}x${Math.round(box.height)}`);
    }
    return small;
  }, kLeastTarget_px);

export async function look_at(page, name, full = true) {
  await page.waitForTimeout(150);
  await shot(page, name, full);
  const found = await violations(page);
  check(`${name}: axe finds nothing serious`, found.length === 0, found.join(' || '));
  const wide = await too_wide(page);
  check(`${name}: nothing scrolls sideways`, wide === '', wide);
  const small = await small_targets(page);
  check(`${name}: targets of ${kLeastTarget_px} px and more`, small.length === 0, small.join('; '));
}
