// Stands in for `weighwright serve` while the page is worked on: answers as docs/page-api.md says,
// for the deck examples/three-modules.toml, by asking the program's other verbs. No security, no
// other deck.  node mock/server.mjs PROGRAM SOURCE_DIR [PORT] [PAGE_DIR]
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join, normalize } from 'node:path';

const [program, source, port = '8722', page = new URL('../dist', import.meta.url).pathname] = process.argv.slice(2);
const deck = join(source, 'examples/three-modules.toml');
const folder = process.env.MOCK_FOLDER ?? mkdtempSync(join(tmpdir(), 'page-mock-'));
const job = join(folder, 'practice.job');
const seed = process.env.MOCK_SEED ?? '2';
const site_file = join(folder, 'practice.site');
const live_on = process.env.MOCK_LIVE !== '0';

class Fault extends Error {
  constructor(faults) {
    super('refused');
    this.faults = faults;
  }
}

function run(args, input) {
  try {
    return execFileSync(program, args, { input, encoding: 'utf8', stdio: ['pipe', 'pipe', 'pipe'], env: { ...process.env, XDG_DATA_HOME: folder } });
  } catch (error) {
    if (error.status === 1) return error.stdout;
    const lines = `${error.stdout}\n${error.stderr}`.split('\n').filter(Boolean);
    throw new Fault(
      lines.map((line) => {
        const m = /^(?:(.*?):(?:(\d+):(?:(\d+):)?)? )?(.*?)(?:; (.*))?$/.exec(line);
        return { file: m?.[1] ?? '', line: m?.[2] ? Number(m[2]) : null, column: m?.[3] ? Number(m[3]) : null, what: m?.[4] ?? line, expected: m?.[5] ?? '' };
      }),
    );
  }
}

if (!existsSync(job)) run(['job', 'new', job, deck, '--author', 'T. Brook']);

const kStands = [1, 2, 3, 4].flatMap((n) => ['L', 'R'].map((side) => `${n}${side}`));
const kOrder = ['1L', '2L', '3L', '4L', '4R', '3R', '2R', '1R'];
const kX = [0.3, 7.3, 13.7, 20.7];
const column = (name, unit, required, live = '', number = true) => ({ name, unit, number, required, live });
const rows = (keys, given = () => ({})) => keys.map((key) => ({ key, where: kStands.includes(key) ? [key] : [], given: given(key) }));
const table = (name, form, key, columns, rows, practice, open_rows = false) => ({ kind: 'table', name, form, key, columns, rows, open_rows, practice });

const kShift = [
  column('load_kg', 'kg', true), column('indication_kg', 'kg', true, 'indication'),
  column('zero_before', 'kg', false, 'indication'), column('zero_after', 'kg', false, 'indication'),
  column('going', '', false, '', false), column('resolution', 'kg', false), column('note', '', false, '', false),
];
const kTicks = [
  ['locked_out', 0], ['received', 0], ['set_down', 0], ['wired', 0], ['panels_on', 1], ['rods_slack', 1], ['nothing_touches', 1],
  ['nobody_on_deck', 1], ['warm', 1], ['same_meter', 1], ['grouted', 0], ['cured', 0], ['anchors_tight', 0], ['exercised', 0],
  ['restraints_set', 0], ['mended', 0], ['balance_accepted', 0], ['tested', 0], ['handed_over', 0],
];
const kTickPractice = { cured: ['grout'], exercised: ['pass 1-2 20 t', 'pass 2-1 20 t'] };

function ask_of(next, show) {
  const then = next.then;
  const ticks = [...then.matchAll(/--tick (\w+)/g)].map((m) => m[1]);
  if (ticks.length > 0) {
    const asks = ticks.map((name) => ({ kind: 'tick', name, sentence: name, remark: name === 'mended' || name === 'balance_accepted', practice: kTickPractice[name] ?? [] }));
    return { code: ticks.length > 1 ? 'conditions' : 'tick', asks };
  }
  if (then.endsWith('no-load.csv')) return { code: 'no_load', asks: [table('no-load.csv', 'no_load', 'stand', [column('zero_mV', 'mV', true, 'stand'), column('excitation_V', 'V', false)], rows(kStands), ['meter all'])] };
  if (then.endsWith('map.csv')) return { code: /own terminals/.test(next.headline) ? 'exchanged' : 'map', asks: [table('map.csv', 'map', 'loaded', [column('moved', '', true, '', false)], rows(kStands), ['map'])] };
  if (then.endsWith('cells.csv')) return { code: 'read_cells', asks: [table('cells.csv', 'readings', 'stand', [column('mV', 'mV', true, 'stand'), column('excitation_V', 'V', false)], rows(kOrder), ['cells'])] };
  if (next.table && then.endsWith('turns.csv')) {
    const moved = next.table.trim().split('\n').slice(1).map((line) => line.split(','));
    return { code: 'move_stands', asks: [table('turns.csv', 'turns', 'stand', [column('turns', 'turn', true)], moved.map(([key, turns]) => ({ key, where: [key], given: { turns } })), [`turn ${moved.map((one) => one.join(' ')).join(' ')}`])] };
  }
  if (next.table && then.endsWith('trims.csv')) {
    const moved = next.table.trim().split('\n').slice(1).map((line) => line.split(','));
    return { code: moved.length === 1 && show.trim?.learn ? 'learn_trim' : 'trims', asks: [table('trims.csv', 'trims', 'trim', [column('turns', 'turn', true)], moved.map(([key, turns]) => ({ key, where: [key], given: { turns } })), moved.map(([key, turns]) => `trim ${key} ${turns}`))] };
  }
  if (then.endsWith('corners.csv')) {
    const one = /load over (\d[LR])/.exec(next.headline)?.[1];
    const keys = one ? [one] : kOrder;
    return { code: 'read_corners', asks: [table('corners.csv', 'shift', 'at', kShift, rows(keys, () => ({ load_kg: '10000' })), [one ? `place ${one} 10 t fine` : 'corners 10 t fine'], true)] };
  }
  if (then.endsWith('more-places.csv')) {
    const far = /(\d[LR]), which is furthest/.exec(next.how.join(' '))?.[1] ?? '2R';
    return { code: 'more_places', asks: [table('more-places.csv', 'shift', 'at', kShift, rows([far, far, far, '2-3']), [`steps ${far} 10 t 16 t fine`, 'place 2-3 16 t fine'], true)] };
  }
  if (then.endsWith('loads.csv')) return { code: 'loads', asks: [table('loads.csv', 'loads', '', kShift.slice(0, 5), rows(['', '', '', '']), ['loads 5 t 20 t 40 t fine'], true)] };
  if (then.endsWith('supply.csv')) return { code: 'supply', asks: [table('supply.csv', 'looks', 'look', [column('where', '', false, '', false), column('found', '', true, '', false)], rows(['sense_loose']), ['look sense_loose'])] };
  if (then.includes('setting')) return { code: 'span', asks: [{ kind: 'entry', name: 'setting', fields: [{ name: 'name', says: 'which', one_of: '', given: 'span' }, { name: 'value', says: 'what it is', one_of: '', given: show.span?.correction ? show.span.correction.toFixed(6) : '' }, { name: 'when', says: 'before or after', one_of: 'found|left', given: 'left' }], practice: [`span ${show.span?.correction ?? 1}`] }] };
  return { code: then === '' ? 'nothing' : 'no_move', asks: [] };
}

function plan_of(next) {
  const share = next.share;
  return {
    length_m: 21, width_m: 3,
    modules: ['A', 'B', 'C'].map((mark, i) => ({ mark, start_m: 7 * i, end_m: 7 * i + 7, width_m: 3, construction: 'cells' })),
    joints: [{ at_m: 7, kind: 'hinge', across_m: 2.4, left: 'rests', right: 'rests', rests: 'A on B' }, { at_m: 14, kind: 'hinge', across_m: 2.4, left: 'rests', right: 'hangs', rests: 'C on B' }],
    stands: kStands.map((stand) => {
      const one = share?.stands.find((s) => s.stand === stand);
      const then = share?.then.find((s) => s.stand === stand);
      return {
        stand, section: Number(stand[0]), x_m: kX[Number(stand[0]) - 1], y_m: stand[1] === 'L' ? 1.2 : -1.2, tag: null, adjust: 'screws',
        load_N: one?.load_N ?? null, u_load_N: one?.standard_uncertainty_N ?? null, expected_N: one?.expected_N ?? (stand[0] === '1' || stand[0] === '4' ? 13319 : 24926),
        shown: one ? `${one.signal_mV.toFixed(2)} mV` : '', chance_free: one?.chance_free ?? null, no_load: one?.net_mV != null,
        then_shown: then ? then.signal_mV.toFixed(2) : '', then_load_N: then?.load_N ?? null,
      };
    }),
    pairs: (share?.pairs ?? []).map((pair) => ({ ...pair, at_m: kX[pair.section - 1] })),
  };
}

let cached = { key: '', body: null };
const revision = () => createHash('sha1').update(existsSync(job) ? run(['job', 'verify', job, '--json']) : '').digest('hex').slice(0, 16);

function site() {
  const key = revision();
  if (cached.key === key) return cached.body;
  const next = JSON.parse(run(['job', 'next', job, '--json']));
  const show = JSON.parse(run(['job', 'show', job, '--json']));
  const { entries, ...rest } = show;
  const on = new Set();
  for (const entry of entries) {
    const tick = /^tick: (\w+)/.exec(entry.says)?.[1] ?? kTicks.map(([name]) => name).find((name) => entry.kind === 'tick' && entry.says.includes(name));
    if (tick && !entry.fate) on.add(tick);
  }
  const body = {
    revision: key, job: 'practice.job', practice: true, us: false, reading_unit: 'mV', step_kg: 20, max_kg: 60000,
    ...rest, ...next, next: { ...next.next, ...ask_of(next.next, next) }, plan: plan_of(next),
    belief: {
      sentence: next.share?.because ?? '',
      bodies: ['A', 'B', 'C'].map((name, i) => ({ name, twisting_MNm2: { low: 12 + i, middle: 20 + i, high: 33 + i, before_low: 8, before_high: 50 } })),
      open: [{ place: 'bearing2R', chance: 0.8, air_mm: 1.9 }],
      judgements: next.share?.judgements ?? [], assumed: next.share?.assumed ?? [],
    },
    order: kOrder,
    ticks: kTicks.map(([name, condition]) => ({ name, says: name, todo: name, condition: condition === 1, on: on.has(name) })),
  };
  cached = { key, body };
  return body;
}

const tokens = new Map();

function record(body) {
  const known = tokens.get(body.token);
  if (known) return { recorded: known, site: site() };
  const args = ['job', 'add', job, '--json'];
  for (const [i, one] of (body.tables ?? []).entries()) {
    const dir = mkdtempSync(join(folder, `t${i}-`));
    writeFileSync(join(dir, one.name), one.text);
    args.push(join(dir, one.name));
  }
  for (const one of body.photos ?? []) {
    const dir = mkdtempSync(join(folder, 'p-'));
    writeFileSync(join(dir, one.name), Buffer.from(one.base64, 'base64'));
    args.push(join(dir, one.name));
  }
  for (const tick of body.ticks ?? []) args.push('--tick', tick);
  for (const tick of body.unticks ?? []) args.push('--untick', tick);
  for (const note of body.notes ?? []) args.push('--note', note);
  if (body.entry) args.push('--entry', body.entry.kind, ...Object.entries(body.entry.fields).map(([k, v]) => `${k}=${v}`));
  if (body.corrects) args.push('--corrects', body.corrects);
  if (body.remark) args.push('--remark', body.remark);
  args.push('--author', body.author || 'T. Brook');
  const recorded = JSON.parse(run(args));
  tokens.set(body.token, recorded);
  return { recorded, site: site() };
}

function undo(body) {
  const known = tokens.get(body.token);
  if (known) return { recorded: known, site: site() };
  const recorded = JSON.parse(run(['job', 'undo', job, ...(body.entry ? [body.entry] : []), '--json']));
  tokens.set(body.token, recorded);
  return { recorded, site: site() };
}

function practice(lines) {
  const answers = lines.map((line) => {
    const words = line.split(' ');
    const base = ['rehearse', deck, '--site', site_file, ...(existsSync(site_file) ? [] : ['--seed', seed])];
    // Once to do it and see the table as it is typed; the JSON form would do it a second time.
    const text = run([...base, ...words]);
    const body = text.split('\n').filter((one) => one !== '' && !/^(# |CAUTION)/.test(one));
    const is_table = body.length > 1 && /^[A-Za-z_]+(,[A-Za-z_]+)*$/.test(body[0]);
    const columns = is_table ? body[0].split(',') : [];
    return {
      command: line, kind: columns[0] ?? null, table: is_table ? body.join('\n') + '\n' : null,
      rows: is_table ? body.slice(1).map((row) => Object.fromEntries(row.split(',').map((cell, i) => [columns[i], cell]))) : [],
      sentences: is_table ? [] : body, cautions: text.split('\n').filter((one) => one.includes('CAUTION: ')).map((one) => one.replace(/^.*CAUTION: /, '')),
    };
  });
  return { answers };
}

const kStart = Date.now();
function live() {
  const t = (Date.now() - kStart) / 1000;
  const wave = (i) => 1 + 0.3 * i + (Math.floor(t / 7) % kStands.length === i ? 0.3 * Math.sin(t * 3) : 0.0005 * Math.sin(t * 11 + i));
  const values = kStands.map((place, i) => {
    const moving = Math.floor(t / 7) % kStands.length === i;
    const value = Number(wave(i).toFixed(3));
    const quality = place === '4R' ? 'silent' : place === '4L' ? 'stale' : moving ? 'moving' : 'stable';
    const none = quality === 'silent';
    return { place, unit: 'mV', value: none ? null : value, shown: none ? '' : value.toFixed(3), resolution: 0.001, quality, says: none ? 'no answer from unit 8' : '', age_ms: quality === 'stale' ? 14000 : 120, mean: quality === 'stable' ? value : null, noise: quality === 'stable' ? 0.002 : null, u_mean: quality === 'stable' ? 0.0006 : null, samples: 14, shown_mean: value.toFixed(4) };
  });
  values.push({ place: 'indication', unit: 'kg', value: 0, shown: '0', resolution: 2, quality: 'stable', says: '', age_ms: 90, mean: 0, noise: 0.8, u_mean: 0.2, samples: 16, shown_mean: '0' });
  return { instruments: [{ name: 'cells', address: 'modbus-tcp 127.0.0.1:1502, unit 1', state: 'connected', says: '', next_try_ms: 0 }], values };
}

const kTypes = { '.html': 'text/html; charset=utf-8', '.js': 'text/javascript', '.css': 'text/css', '.svg': 'image/svg+xml', '.webmanifest': 'application/manifest+json' };
const kPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; manifest-src 'self'; media-src 'self' data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
const listeners = new Set();

function tell_site() {
  for (const response of listeners) response.write(`event: site\ndata: ${JSON.stringify({ revision: revision() })}\n\n`);
}

async function body_of(request) {
  let text = '';
  for await (const part of request) text += part;
  return JSON.parse(text);
}

async function api(request, response, path) {
  const give = (body, status = 200, headers = {}) => {
    response.writeHead(status, { 'Content-Type': 'application/json', ...headers });
    response.end(JSON.stringify(body));
  };
  if (path === '/api/session') return give({ let_in: true, lan: false, practice: true, version: 'mock' });
  if (path === '/api/site') {
    const body = site();
    const etag = `"${body.revision}"`;
    if (request.headers['if-none-match'] === etag) return response.writeHead(304).end();
    return give(body, 200, { ETag: etag });
  }
  if (path === '/api/entries' && request.method === 'GET') return give({ entries: JSON.parse(run(['job', 'show', job, '--json', '--all'])).entries });
  if (path === '/api/export') {
    run(['job', 'export', job, join(folder, 'e.jsonl')]);
    return response.writeHead(200, { 'Content-Type': 'application/jsonl' }).end(readFileSync(join(folder, 'e.jsonl')));
  }
  if (path === '/api/events') {
    response.writeHead(200, { 'Content-Type': 'text/event-stream' });
    listeners.add(response);
    response.write(`event: site\ndata: ${JSON.stringify({ revision: revision() })}\n\n`);
    const timer = live_on ? setInterval(() => response.write(`event: live\ndata: ${JSON.stringify(live())}\n\n`), 500) : undefined;
    request.on('close', () => { clearInterval(timer); listeners.delete(response); });
    return;
  }
  if (path === '/api/questions') return give({ questions: [{ number: 1, of: 1, name: 'rulebook', text: 'Which rulebook and class?', help: 'R76 III for most.', default: 'R76 III', example: 'R76 III' }] });
  const body = await body_of(request);
  if (path === '/api/entries') { const answer = record(body); tell_site(); return give(answer); }
  if (path === '/api/undo') { const answer = undo(body); tell_site(); return give(answer); }
  if (path === '/api/practice') return give(practice(body.lines));
  if (path === '/api/draft') return give({ file: 'deck.toml', text: readFileSync(deck, 'utf8') });
  give({ faults: [{ file: '', line: null, column: null, what: `there is nothing at ${path}`, expected: '' }] }, 404);
}

createServer((request, response) => {
  const path = new URL(request.url, 'http://localhost').pathname;
  if (path.startsWith('/api/')) {
    api(request, response, path).catch((error) => {
      response.writeHead(error instanceof Fault ? 400 : 503, { 'Content-Type': 'application/json' });
      response.end(JSON.stringify({ faults: error.faults ?? [{ file: '', line: null, column: null, what: String(error), expected: '' }] }));
    });
    return;
  }
  const file = join(page, normalize(path === '/' ? '/index.html' : path));
  if (!file.startsWith(page) || !existsSync(file)) return response.writeHead(404).end();
  response.writeHead(200, { 'Content-Type': kTypes[extname(file)] ?? 'application/octet-stream', 'Content-Security-Policy': kPolicy, 'Cache-Control': 'no-cache' });
  response.end(readFileSync(file));
}).listen(Number(port), '127.0.0.1', () => console.log(`mock: http://127.0.0.1:${port}/  journal in ${folder}`));
