// The parts of the page that need no browser: where the plan lies on its sheet, figures, colours,
// and that every word of the server has its translation.
//   node --test tests/drawing_test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'vite';

const page = fileURLToPath(new URL('..', import.meta.url));
// node --test tests/drawing_test.mjs, or with PROGRAM SOURCE_DIR as the other tests.
const project = process.argv[3] ?? join(page, '..');
const source = join(project, 'src');
const folder = mkdtempSync(join(tmpdir(), 'weighwright-drawing-'));
after(() => rmSync(folder, { recursive: true }));

await build({
  configFile: false,
  logLevel: 'error',
  root: page,
  build: {
    outDir: folder,
    minify: false,
    target: 'es2022',
    lib: {
      entry: ['plan/sheet', 'format', 'scale', 'spark', 'fate', 'texts/en', 'texts/es', 'texts/said_es', 'forms/taken', 'forms/typed', 'queue', 'test/shown', 'test/figures'].map(
        (name) => join(page, 'src', `${name}.ts`),
      ),
      formats: ['es'],
    },
    rollupOptions: { output: { entryFileNames: '[name].mjs', chunkFileNames: 'part-[name].mjs' } },
  },
});
const module = (name) => import(pathToFileURL(join(folder, `${name}.mjs`)).href);
const { lay_out, neighbour, outward, spread } = await module('sheet');
const format = await module('format');
const { log_scale } = await module('scale');
const { spark } = await module('spark');
const { fate_of } = await module('fate');
const { en } = await module('en');
const { es } = await module('es');
const { Queue } = await module('queue');
const { as_shown, inside } = await module('shown');
const { error_words, mass_words } = await module('figures');
const { quality_of } = await module('taken');
const { turns_typed, decimal_of } = await module('typed');
const { kRules, spanish: spoken } = await module('said_es');

// ------------------------------------------------------------------------------------- the plan

/** A deck of our invention: modules end to end, sections at the given places. */
function deck(length_m, sections_m, width_m = 3, across_m = 2.4) {
  const stands = sections_m.flatMap((x_m, i) =>
    ['L', 'R'].map((side) => ({
      stand: `${i + 1}${side}`,
      section: i + 1,
      x_m,
      y_m: ((side === 'L' ? 1 : -1) * across_m) / 2,
    })),
  );
  return { length_m, width_m, modules: [], joints: [], pairs: [], stands };
}
const kDecks = {
  'three modules': deck(21, [0.3, 7.3, 13.7, 20.7]),
  'five modules': deck(35.6, [0.3, 7.43, 13.94, 21.07, 28.19, 35.32], 3.2, 2.44),
  'one piece': deck(16, [0.5, 8, 15.5]),
  // cells on both sides of every joint: blocks must be pushed apart
  'sections in twos': deck(24, [0.4, 7.7, 8.3, 15.7, 16.3, 23.6]),
};
const kWidths = [288, 328, 360, 480, 560, 700, 768, 1000, 1280];

function every_sheet(look) {
  for (const [name, plan] of Object.entries(kDecks)) {
    for (const width of kWidths) {
      for (const em of [17, 20]) {
        for (const turned of [false, true]) {
          look(plan, lay_out(plan, { width, em, turned }), `${name}, ${width} px, ${em} px text, turned ${turned}`);
        }
      }
    }
  }
}

// Analytic geometry: a plane figure is turned, not mirrored, when the determinant of its map keeps
// its sign. x along, y left seen from above is right-handed; the screen, y down, is left-handed.
test('the plan is to one scale and never mirrored', () => {
  every_sheet((_, sheet, name) => {
    const o = sheet.at(0, 0);
    const x = sheet.at(1, 0);
    const y = sheet.at(0, 1);
    const determinant = (x.x - o.x) * (y.y - o.y) - (x.y - o.y) * (y.x - o.x);
    assert.ok(Math.abs(determinant + sheet.px_per_m ** 2) < 1e-6, name);
    assert.ok(Math.abs(Math.hypot(x.x - o.x, x.y - o.y) - sheet.px_per_m) < 1e-9, name);
    assert.ok(Math.abs(Math.hypot(y.x - o.x, y.y - o.y) - sheet.px_per_m) < 1e-9, name);
  });
});

test('standing at end 1, left lies on the left of a narrow sheet and on top of a wide one', () => {
  const narrow = lay_out(kDecks['three modules'], { width: 328, em: 17, turned: false });
  assert.equal(narrow.along, false);
  assert.ok(narrow.at(0, 0).y > narrow.at(21, 0).y);
  assert.ok(narrow.at(0, 1).x < narrow.at(0, -1).x);
  const wide = lay_out(kDecks['three modules'], { width: 1000, em: 17, turned: false });
  assert.equal(wide.along, true);
  assert.ok(wide.at(0, 0).x < wide.at(21, 0).x);
  assert.ok(wide.at(0, 1).y < wide.at(0, -1).y);
});

test('nothing leaves the sheet and no two blocks overlap', () => {
  every_sheet((_, sheet, name) => {
    for (const side of [-1, 1]) {
      const row = sheet.stands.filter((p) => p.side === side).sort((a, b) => a.block - b.block);
      for (let i = 1; i < row.length; ++i) {
        assert.ok(row[i].block - row[i - 1].block >= sheet.block - 1e-6, `${name}: ${row[i].stand.stand}`);
      }
      for (const placed of row) {
        const bar = outward(sheet, side, placed.block, 0, sheet.bar_most, 10);
        assert.ok(bar.x >= 0 && bar.x + bar.width <= sheet.width, `${name}: bar of ${placed.stand.stand}`);
        assert.ok(bar.y >= 0 && bar.y + bar.height <= sheet.height, `${name}: bar of ${placed.stand.stand}`);
      }
    }
    assert.ok(sheet.deck.x >= 0 && sheet.deck.x + sheet.deck.width <= sheet.width, name);
    assert.ok(sheet.deck.y >= 0 && sheet.deck.y + sheet.deck.height <= sheet.height, name);
  });
});

// WCAG 2.2, 2.5.8 asks for 24 px; a wet glove for 48 (common practice, no source).
test('a finger hits a stand: blocks are 48 px or more', () => {
  every_sheet((_, sheet, name) => {
    assert.ok(sheet.block >= 48, name);
    assert.ok(sheet.bar_most + 0.4 * Math.min(sheet.deck.width, sheet.deck.height) >= 48, name);
  });
});

// By the definition of the problem: least squares under "each at least `size` after the one before".
// Its answer is constant (less the place in the row) over runs of neighbours, so that trying all
// ways to cut the row into runs and keeping the best one that is allowed finds it.
function spread_by_trying(wanted, size) {
  const n = wanted.length;
  let best = null;
  let least = Infinity;
  for (let cuts = 0; cuts < 2 ** (n - 1); ++cuts) {
    const runs = [[0]];
    for (let i = 1; i < n; ++i) {
      if (cuts & (1 << (i - 1))) runs.push([i]);
      else runs[runs.length - 1].push(i);
    }
    const places = [];
    for (const run of runs) {
      const mean = run.reduce((sum, i) => sum + wanted[i] - i * size, 0) / run.length;
      for (const i of run) places[i] = mean + i * size;
    }
    if (places.some((place, i) => i > 0 && place - places[i - 1] < size - 1e-9)) continue;
    const cost = places.reduce((sum, place, i) => sum + (place - wanted[i]) ** 2, 0);
    if (cost < least) {
      least = cost;
      best = places;
    }
  }
  return best;
}

test('blocks are pushed apart as little as may be', () => {
  const kRows = [
    [10, 20, 30],
    [0, 100, 200],
    [0, 5, 8, 100, 101, 104],
    [50, 50, 50, 50],
    [0, 90, 95, 98, 180, 182],
  ];
  for (const row of kRows) {
    const found = spread(row, 40);
    const right = spread_by_trying(row, 40);
    found.forEach((place, i) => assert.ok(Math.abs(place - right[i]) < 1e-6, `${row} at ${i}`));
  }
});

test('arrow keys go to the stand that lies there', () => {
  const sheet = lay_out(kDecks['three modules'], { width: 1000, em: 17, turned: false });
  const at = (name) => sheet.stands.find((p) => p.stand.stand === name);
  assert.equal(neighbour(sheet.stands, at('2L'), { x: 1, y: 0 }).stand.stand, '3L');
  assert.equal(neighbour(sheet.stands, at('2L'), { x: 0, y: 1 }).stand.stand, '2R');
  assert.equal(neighbour(sheet.stands, at('2L'), { x: 0, y: -1 }), undefined);
});

// -------------------------------------------------------------------------------------- figures

// International yard and pound agreement of 1959: 1 lb = 0.45359237 kg, 1 in = 25.4 mm exactly.
test('pounds and inches', () => {
  assert.equal(format.kg_of_lb(1), 0.45359237);
  assert.equal(format.mm_of_in(1), 25.4);
  // 4535.9237 kg are 10 000 lb
  assert.equal(format.mass_figure(4535.9237 * 9.80665, true), '10\u202f000');
  assert.equal(format.height((25.4 * 9) / 32, true), '9/32\u202fin');
  assert.equal(format.height(25.4 * 1.5, true), '1 1/2\u202fin');
  assert.equal(format.height(-25.4 / 64, true), '\u22121/64\u202fin');
});

// SI Brochure, 9th edition, 5.4.3 and 5.4.4: a space between number and unit; digits in groups of
// three by a thin space, customarily not where there are only four.
test('figures are written as the SI brochure says', () => {
  assert.equal(format.number(43279.168, 3).split('.')[0], '43\u202f279');
  assert.equal(format.number(3279), '3279');
  assert.equal(format.mass(2540 * 9.80665, false), '2540\u202fkg');
  assert.equal(format.number(-0.001, 1), '0.0');
});

test('turns are written as they are set', () => {
  assert.equal(format.turns(2.875), '2 7/8');
  assert.equal(format.turns(-0.25), '\u22121/4');
  assert.equal(format.turns(3), '3');
  // Sixths as a server gives them, to six decimals: 3 5/6 = 3.8333...
  assert.equal(format.turns(3.833333), '3 5/6');
  assert.equal(format.turns(-0.666667), '\u22122/3');
  assert.equal(format.turns(0.3125), '0.313');
});

test('an amount in sixths is typed and recorded as it was given', () => {
  for (const given of ['3.833333', '-0.666667', '0.166667', '2.875', '-0.25', '4']) {
    assert.equal(decimal_of(turns_typed(given)), given);
  }
  assert.equal(turns_typed('3.833333'), '3 5/6');
  assert.equal(turns_typed('0.37'), '0.37');
});

// JCGM 100:2008, 4.3.7: an even spread of width a has the standard deviation a / sqrt(12).
test('of a value taken over only what the table has columns for is recorded', () => {
  const live = { resolution: 0.01, noise: 0.02, u_mean: 0.001, shown_mean: '1.0871' };
  assert.deepEqual(quality_of('readings', live, true), { resolution: null, noise: 0.001 });
  assert.deepEqual(quality_of('readings', live, false), { resolution: 0.01, noise: 0.02 });
  for (const form of ['shift', 'loads', 'zeros', 'proof']) {
    const mean = quality_of(form, live, true);
    assert.equal(mean.noise, null);
    assert.ok(Math.abs(mean.resolution / Math.sqrt(12) - live.u_mean) < 1e-12, form);
    assert.equal(quality_of(form, { ...live, u_mean: 1 }, true).resolution, live.resolution);
    assert.equal(quality_of(form, { ...live, u_mean: 0 }, true).resolution, 0.0001);
    assert.deepEqual(quality_of(form, live, false), { resolution: 0.01, noise: null });
  }
  for (const form of ['no_load', 'electrics', 'gaps', 'turns', 'trims', 'map', 'looks']) {
    assert.deepEqual(quality_of(form, live, true), { resolution: null, noise: null }, form);
  }
});

// OIML R 76-1:2006, T.5.5.1: the error is the indication less the true value; A.4.4.3: the error at
// zero is taken off. The example of 20 t, shown as 19 996 kg before rounding: E = -4 kg, is that of
// the changeover point at jzgcwx.com/zjgcs/kszl/7306.html.
test('what is typed of a placement, before it is judged', () => {
  const typed = { load_kg: '20000', zero_before: '', indication_kg: '19996' };
  assert.deepEqual(as_shown('increasing', typed), { kind: 'error', value: -4 });
  assert.deepEqual(as_shown('increasing', { ...typed, zero_before: '-4' }), { kind: 'error', value: 0 });
  assert.deepEqual(as_shown('strain', { load_lb: '1000', start: '5040', indication_lb: '6060' }), { kind: 'error', value: 20 });
  assert.equal(as_shown('strain', { load_lb: '1000', start: '', indication_lb: '6060' }), null);
  // Unknown is not zero: nothing is said where more stands there than is known.
  for (const name of ['material', 'added', 'added_kg']) {
    assert.equal(as_shown('increasing', { ...typed, [name]: '3' }), null, name);
  }
  assert.equal(as_shown('increasing', { ...typed, indication_kg: '' }), null);
  assert.equal(as_shown('increasing', { ...typed, indication_kg: '19 9x' }), null);
  const moved = { load_kg: '0', indication_kg: '0', added_kg: '28', then: '20' };
  assert.deepEqual(as_shown('discrimination', moved), { kind: 'moved', value: 20 });
});

// OIML R 76-1:2006, T.5.5.4: the limit is the greatest error that is permitted, so it is itself.
test('an error on its limit is inside it', () => {
  assert.equal(inside(20, 20), true);
  assert.equal(inside(-20, 20), true);
  assert.equal(inside(0.1 + 0.2, 0.3), true);
  assert.equal(inside(-22, 20), false);
  assert.equal(inside(5, null), null);
});

// The pound: 0.453 592 37 kg (international yard and pound agreement, 1959).
test('figures of the test are written in the unit that people read', () => {
  const plain = (text) => text.replaceAll('\u202f', ' ').replaceAll('\u2212', '-');
  assert.equal(plain(mass_words(20000, false)), '20 000 kg');
  assert.equal(plain(mass_words(0.5 * 0.45359237, true)), '0.5 lb');
  assert.equal(plain(mass_words(22679.6185, true)), '50 000 lb');
  assert.equal(plain(error_words(-12, 5.77, false, 20)), '-12 ± 5.8 kg');
  assert.equal(plain(error_words(1.25, null, false, 5)), '+1.3 kg');
  assert.equal(plain(error_words(0.2, 5.77, false, 20)), '0 ± 5.8 kg');
});

const kHere = 'a'.repeat(64);
const kElsewhere = 'b'.repeat(64);

/** A queue in memory (no store of a browser here); `send` says what becomes of each. */
async function queue_of(send) {
  globalThis.navigator ??= {};
  const seen = { items: [], recorded: [], refused: [] };
  const queue = new Queue({
    on_change: (items) => (seen.items = items),
    on_recorded: (item) => seen.recorded.push(item.label),
    on_refused: (item) => seen.refused.push(item.label),
    on_unreachable: () => undefined,
    send,
    journal: () => kHere,
  });
  await queue.open();
  const add = (label, named = { journal: kHere }) => queue.add({ ...named, job: 'site.job', asked: '', revision: '', what: 'entries', body: { token: label }, label });
  return { queue, seen, add };
}
const settled = () => new Promise((resolve) => setTimeout(resolve, 20));

test('a refused item does not hold up what was typed after it', async () => {
  const { seen, add } = await queue_of(async (item) =>
    item.label === 'bad' ? { kind: 'refused', faults: [] } : { kind: 'recorded', answer: {} },
  );
  await add('bad');
  await add('good');
  await settled();
  assert.deepEqual(seen.refused, ['bad']);
  assert.deepEqual(seen.recorded, ['good']);
  assert.deepEqual(seen.items.map((one) => [one.label, one.refused]), [['bad', true]]);
});

test('what was typed for another journal of the same name is kept, and not sent', async () => {
  const sent = [];
  const { seen, add } = await queue_of(async (item) => {
    sent.push(item.label);
    return { kind: 'recorded', answer: {} };
  });
  await add('elsewhere', { journal: kElsewhere });
  await add('here');
  await settled();
  assert.deepEqual(sent, ['here']);
  assert.deepEqual(seen.items.map((one) => [one.label, one.refused]), [['elsewhere', false]]);
});

test('what names no journal is sent on the word of the person only, and names it then', async () => {
  const sent = [];
  const { queue, seen, add } = await queue_of(async (item) => {
    sent.push([item.label, item.body.journal]);
    return { kind: 'recorded', answer: {} };
  });
  await add('of an earlier version', {});
  await settled();
  assert.deepEqual(sent, []);
  await queue.give_to(seen.items[0].seq, kHere, 'site.job');
  await settled();
  assert.deepEqual(sent, [['of an earlier version', kHere]]);
  assert.deepEqual(seen.items, []);
});

test('what the server of another journal sends back stays, and stops nothing', async () => {
  const { seen, add } = await queue_of(async (item) => (item.label === 'one' ? { kind: 'elsewhere' } : { kind: 'recorded', answer: {} }));
  await add('one', { journal: kElsewhere });
  await add('two');
  await settled();
  assert.deepEqual(seen.items.map((one) => [one.label, one.refused]), [['one', false]]);
});

test('what is done to an item while it is being sent holds', async () => {
  let answer;
  const { queue, seen, add } = await queue_of(() => new Promise((resolve) => (answer = resolve)));
  await add('one');
  await settled();
  const { seq } = seen.items[0];
  await queue.set_aside(seq, true);
  assert.equal(await queue.discard(seq), false);
  answer({ kind: 'refused', faults: [] });
  await settled();
  assert.deepEqual(seen.items.map((one) => [one.aside, one.refused]), [[true, true]]);
  assert.equal(await queue.discard(seq), true);
  assert.deepEqual(seen.items, []);
});

test('a chance is never written as none or as certainty', () => {
  const words = { over_99: 'over 99 %', under_1: 'under 1 %' };
  assert.equal(format.chance(1, words), 'over 99 %');
  assert.equal(format.chance(0, words), 'under 1 %');
  assert.equal(format.chance(0.979, words), '98\u202f%');
});

// On a logarithmic scale equal ratios are equally far apart: its definition.
test('a logarithmic scale', () => {
  const scale = log_scale([60, 150, 47, 188]);
  assert.deepEqual(scale.ticks, [20, 50, 100, 200]);
  assert.ok(Math.abs(scale.at(40) - scale.at(20) - (scale.at(200) - scale.at(100))) < 1e-9);
  assert.equal(scale.at(20), 0);
  assert.ok(Math.abs(scale.at(200) - 100) < 1e-9);
});

test('a sparkline breaks where the quality changes and where a value is missing', () => {
  const at = (at_ms, value, quality = 'stable') => ({ at_ms, value, quality });
  const drawn = spark([at(0, 1), at(1000, 1), at(2000, 2, 'moving'), at(3000, null, 'silent'), at(4000, 2)], 100, 30, 30000, 0.1);
  assert.deepEqual(drawn.pieces.map((piece) => piece.quality), ['stable', 'moving', 'stable']);
  assert.equal(drawn.end.x, 100);
  assert.deepEqual(spark([], 100, 30, 30000, 0.1).pieces, []);
});

// What src/job/entry_words.cpp writes of the fate of an entry.
test('what became of an entry', () => {
  assert.deepEqual(fate_of('undone by 9'), { kind: 'undone', other: 9 });
  assert.deepEqual(fate_of('corrected by 12'), { kind: 'corrected', other: 12 });
  assert.deepEqual(fate_of('corrects 4'), { kind: 'corrects', other: 4 });
  assert.equal(fate_of('corrects 4, which is undone').kind, 'other');
  assert.equal(fate_of('damaged, not counted: its hash does not fit').kind, 'damaged');
  assert.equal(fate_of(null).kind, 'holds');
});

// -------------------------------------------------------------------------------------- colours

// WCAG 2.2: relative luminance and contrast ratio as defined there; 1.4.3 asks for 4.5 of text,
// 1.4.6 for 7, 1.4.11 for 3 of drawings that carry meaning.
function luminance(hex) {
  const [r, g, b] = [1, 3, 5]
    .map((i) => parseInt(hex.slice(i, i + 2), 16) / 255)
    .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(a, b) {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

test('every theme can be read, the one for the sun best', () => {
  const css = readFileSync(join(page, 'src', 'theme.css'), 'utf8');
  const light = {};
  for (const name of ['light', 'dark', 'sun']) {
    const head = name === 'light' ? ':root {' : `:root[data-theme='${name}'] {`;
    const block = css.slice(css.indexOf(head), css.indexOf('}', css.indexOf(head)));
    const colours = { ...light };
    for (const [, key, value] of block.matchAll(/--([a-z-]+):\s*(#[0-9a-f]{6})/g)) colours[key] = value;
    if (name === 'light') Object.assign(light, colours);
    const least = name === 'sun' ? 7 : 4.5;
    for (const ground of ['ground', 'surface']) {
      for (const ink of ['ink', 'muted', 'accent', 'good', 'warn', 'bad']) {
        const found = contrast(colours[ink], colours[ground]);
        assert.ok(found >= least, `${name}: ${ink} on ${ground} is ${found.toFixed(2)}`);
      }
      assert.ok(contrast(colours.line, colours[ground]) >= 3, `${name}: line on ${ground}`);
      assert.ok(contrast(colours.focus, colours[ground]) >= 3, `${name}: focus on ${ground}`);
    }
    assert.ok(contrast(colours['accent-ink'], colours.accent) >= least, `${name}: accent-ink on accent`);
    assert.ok(contrast(colours.warn, colours['warn-wash']) >= least, `${name}: warn on warn-wash`);
  }
});

// ---------------------------------------------------------------------------------------- words

const read = (file) => readFileSync(join(source, file), 'utf8');
const spanish = (text) => {
  for (const [pattern, speak] of kRules) {
    const found = pattern.exec(text);
    const said = found ? speak(found.slice(1)) : '';
    if (said) return said;
  }
  return '';
};

test('every tick, step and action of the program has its texts', () => {
  const ticks = [...read('job/ticks.cpp').matchAll(/\{"([a-z_]+)", "/g)].map((found) => found[1]);
  assert.ok(ticks.length >= 19);
  for (const tick of ticks) assert.ok(en.ticks[tick] && es.ticks[tick], tick);
  const steps = [...read('job/steps.cpp').matchAll(/(?:add|tick_step)\("([a-z_]+)", "/g)].map((found) => found[1]);
  assert.ok(steps.length >= 12);
  for (const step of steps) {
    for (const table of [en.steps, es.steps, en.steps_short, es.steps_short]) assert.ok(table[step], step);
  }
  const contract = readFileSync(join(project, 'docs', 'page-api.md'), 'utf8');
  const codes = /`next\.code`: `([a-z_ ]+)`/.exec(contract)[1].split(' ');
  assert.ok(codes.length >= 20);
  for (const code of codes) assert.ok(en.actions[code] && es.actions[code], code);
});

test('why a step is open or done is said in Spanish, sentence by sentence', () => {
  const fixed = [...read('job/steps.cpp').matchAll(/(?:done|open|blocked)\(step,\s*"([^"]+)",/g)].map((found) => found[1]);
  assert.ok(fixed.length >= 20);
  for (const sentence of fixed) assert.notEqual(spanish(sentence), '', sentence);
  const names = [...read('job/steps.cpp').matchAll(/(?:add|tick_step)\("[a-z_]+", "([^"]+)"/g)].map((found) => found[1]);
  for (const name of names) assert.notEqual(spanish(`${name} comes first.`), '', name);
});

// The sentences are those of the tour in README.md and docs/worked-example.md.
test('what the server says of the test is said in Spanish', () => {
  const text = read('job/test_step.cpp');
  const fixed = [...text.matchAll(/(?:open|step\.why =)\s*\(?"([A-Z][^"]+\.)"/g)].map((found) => found[1]);
  const body = (name) => new RegExp(`${name}\\([^;{]*\\{[\\s\\S]*?\\n}`).exec(text)[0];
  fixed.push(...literals(body('std::string zero_words')), ...literals(body('TestStep failed')));
  const sentences = [...new Set(fixed.flatMap((one) => one.split(/(?<=\.) (?=[A-Z])/)))].filter((one) => /^[A-Z].* .*\.$/.test(one));
  assert.ok(sentences.length >= 8, String(sentences.length));
  const missing = sentences.filter((one) => spoken(one) === '');
  assert.deepEqual(missing, []);
  // As the program prints them (docs/page-api.md, tests of src/job).
  for (const sentence of [
    'Placement 3 of 29 is not read.',
    'WITHIN THE LIMITS, as left. Ready for the authority, whose word it is.',
    'NOT WITHIN THE LIMITS, as left: 1 of 15 lines.',
    'INCOMPLETE, as left: no verdict until what is missing is done.',
    '9 t (W*9) over 1L: within 10 kg.',
    '60 t (W*30 + S4) on the deck: read, add 28 kg gently, read again: the display must move by 20 kg or more.',
    'The same load 3 times (R 76-1:2006, A.4.10).',
    'Failed already: Eccentric load over 3R; Increasing load. Adjust first, unless this is to be read as found.',
    'Repeatability: too few weighings of 30 t.',
    'Eccentric load: not read over 2L. (R 76-1:2006, 3.6.2)',
    'results.csv: 1 test line: eccentric',
  ]) {
    const said = spoken(sentence);
    assert.notEqual(said, '', sentence);
    assert.deepEqual(said.match(/\d+/g), sentence.match(/\d+/g), said);
  }
});

test('figures pass through a translated sentence unchanged', () => {
  const sentences = [
    'All four screws at 2L, clockwise seen from above, 1/2 turn each in rotation, five rounds, then 3/8 turn each: 2 7/8 turns up in all, 7.2 mm.',
    '2L carries 2130 kg less than 2R: A or B is twisted (by pads or as built; readings can\'t tell which).',
    'Section sums fit one another (off by 0 kg, 150 kg is usual).',
    'Pads or modules are twisted out of plane (mm): A by 10.3 ±3.5 and B by 7.0 ±2.8.',
    'The trim of 1L: 2 turns clockwise.',
    'With 39992 kg it shows 39930 kg and shall show 40000 kg.',
  ];
  const digits = (text) => text.match(/\d+(?:[./]\d+)?/g);
  for (const sentence of sentences) {
    const said = spanish(sentence);
    assert.notEqual(said, '', sentence);
    assert.deepEqual(digits(said), digits(sentence), said);
  }
  assert.match(spanish(sentences[0]), /sentido horario/);
  assert.doesNotMatch(spanish(sentences[0].replace('clockwise', 'counterclockwise')), /sentido horario/);
  assert.match(spanish(sentences[0].replace(' up in all', ' down in all')), /bajar 7\.2 mm/);
});

/** Every string literal of C++ in `text`, adjacent ones joined as the compiler does. */
const literals = (text) =>
  [...text.replace(/"\s*\n\s*"/g, '').matchAll(/"((?:[^"\\]|\\.)*)"/g)].map((found) => found[1]);

test('no caution of the server stays English on a Spanish page', () => {
  const said = [];
  for (const name of ['level_case', 'steps', 'trim_view_of', 'circuit_view_of', 'placements_case', 'span_case', 'share_view_of', 'rehearse_commands', 'rehearse_load_commands', 'action_words']) {
    const text = read(`job/${name}.cpp`);
    for (const found of text.matchAll(/cautions(?: = \{|\.(?:push|emplace)_back\()[\s\S]*?;\n/g)) said.push(...literals(found[0].replace(/ \+\s*kLocal/, '')));
  }
  said.push(...literals(/kTestCaution =[\s\S]*?;/.exec(read('job/test_step.cpp'))[0]));
  const body = (name, from) => new RegExp(`${from}[\\s\\S]*?\\n}`).exec(read(`job/${name}.cpp`))[0];
  said.push(...literals(body('share_view_of', 'cautions_of\\(const')));
  said.push(...literals(body('action_words', 'jacking_caution\\(\\)')), ...literals(body('action_words', ' load_caution\\(\\)')));
  said.push(...literals(body('action_words', 'cautions_of_tick')), ...literals(body('action_words', 'kLocal =').split(';')[0]));
  said.push(...literals(body('diagnose_words', 'next_dangers')));
  said.push(...literals(read('job/rehearse_commands.h').match(/kLiftCaution =[\s\S]*?;[\s\S]*?kLoadCaution =[\s\S]*?;/)[0]));
  const sentences = [...new Set(said.map((one) => one.trim()))].filter((one) => / /.test(one) && /[.]$/.test(one));
  assert.ok(sentences.length >= 25, String(sentences.length));
  const missing = sentences.filter((one) => spoken(one) === '');
  assert.deepEqual(missing, []);
});

test('both languages warn alike: as many cautions of each action and tick', () => {
  for (const [name, action] of Object.entries(en.actions)) {
    assert.equal(es.actions[name].cautions.length, action.cautions.length, name);
    assert.equal(es.actions[name].how.length, action.how.length, name);
  }
  for (const [name, tick] of Object.entries(en.ticks)) {
    assert.equal(es.ticks[name].cautions.length, tick.cautions.length, name);
    assert.equal(es.ticks[name].how.length, tick.how.length, name);
  }
});
