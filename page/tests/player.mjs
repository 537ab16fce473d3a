// Plays a job through the HTTP API alone: what is asked is done on the practice site and recorded,
// until the job stands where a test wants it.

async function ask(url, path, body) {
  const options = body && { method: 'POST', headers: { 'Content-Type': 'application/json', Origin: url.slice(0, -1) }, body: JSON.stringify(body) };
  const answer = await fetch(url + path, options);
  const said = await answer.json();
  if (!answer.ok) throw new Error(`${path} ${JSON.stringify(body)}: ${JSON.stringify(said)}`);
  return said;
}

let tokens = 0;
const journal_of = async (url) => (await ask(url, 'api/site')).journal;
/** Gives the site after it. */
export const record = async (url, what) =>
  (await ask(url, 'api/entries', { journal: await journal_of(url), token: `player-${String((tokens += 1)).padStart(8, '0')}`, ...what })).site;
export const practice = async (url, lines) => (await ask(url, 'api/practice', { journal: await journal_of(url), lines })).answers;
export const site_of = (url) => ask(url, 'api/site');

/** Amounts as they are given in the asked table, where the practice site only does and does not measure. */
function given_table(asked) {
  const columns = [...new Set(asked.rows.flatMap((row) => Object.keys(row.given)))];
  const lines = asked.rows.map((row) => [row.key, ...columns.map((one) => row.given[one] ?? '')].join(','));
  return [[asked.key, ...columns].join(','), ...lines].join('\n') + '\n';
}

async function table_of(url, asked) {
  const answers = await practice(url, asked.practice);
  if (['turns', 'trims'].includes(asked.form)) return given_table(asked);
  // Not every reading has every column; what was only done beside it is no row of this table.
  const rows = answers.flatMap((one) => one.rows).filter((row) => asked.key === '' || asked.key in row);
  if (rows.length === 0) throw new Error(`the practice site measured nothing: ${asked.practice.join('; ')}`);
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return [columns.join(','), ...rows.map((row) => columns.map((one) => row[one] ?? '').join(','))].join('\n') + '\n';
}

/** Does the first thing that is asked. */
async function act(url, asks) {
  const ticks = asks.filter((one) => one.kind === 'tick');
  const tables = asks.filter((one) => one.kind === 'table');
  const entry = asks.find((one) => one.kind === 'entry');
  if (tables.length > 0) {
    const texts = [];
    for (const one of tables) texts.push({ name: one.name, text: await table_of(url, one) });
    return record(url, { tables: texts });
  }
  if (ticks.length > 0) {
    for (const one of ticks) if (one.practice.length > 0) await practice(url, one.practice);
    const one_of_them = ticks.some((one) => one.remark);
    return record(url, one_of_them ? { ticks: [ticks[0].name], remark: 'Looked at and put right' } : { ticks: ticks.map((one) => one.name) });
  }
  if (!entry) throw new Error('nothing is asked');
  if (entry.practice.length > 0) await practice(url, entry.practice);
  const fields = Object.fromEntries(entry.fields.filter((one) => one.given !== '').map((one) => [one.name, one.given]));
  return record(url, { entry: { kind: entry.name, fields } });
}

/** @param wanted  (site) => true when the job stands where it should */
export async function play_until(url, wanted, most = 80) {
  let site = await site_of(url);
  const walked = [];
  for (let i = 0; i < most; ++i) {
    if (wanted(site)) return { site, walked };
    walked.push(site.next.code);
    try {
      site = await act(url, site.next.asks);
    } catch (error) {
      throw new Error(`${walked.join(' ')}: ${error.message}`);
    }
  }
  throw new Error(`not reached in ${most} actions: ${walked.join(' ')}`);
}
