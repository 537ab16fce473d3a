/** Texts of the test by a rulebook and of its papers. Beside en.ts, with the same rules. */

const n_of = (n: number, of: number): string => `${n} of ${of}`;

export const test_en = {
  title: 'Test by the rulebook',
  open_view: 'All placements of the test',
  to_form: 'To the form',
  to_papers: 'To the papers',
  /** By code of the check; the names of the rulebook in force come from the server. */
  checks: {
    zero: 'Zero',
    eccentric: 'Load over each support',
    section: 'Section test',
    rolling: 'Rolling load',
    increasing: 'Increasing load',
    decreasing: 'Decreasing load',
    repeatability: 'Repeatability',
    discrimination: 'Discrimination',
    strain: 'Strain load',
    midspan: 'Load between stands',
    tare: 'Accuracy of tare',
    indications: 'Displays and printer agree',
    zero_range: 'Range of zero setting',
    overload: 'Greatest indication',
  } as Record<string, string>,
  /** The name as the rulebook in force has it. */
  name: (_check: string, from_server: string): string => from_server,
  /** "over section 2, going to end 2", as the server says it. */
  where: (from_server: string): string => from_server,
  placement: (n: number, of: number) => `Placement ${n_of(n, of)}`,
  next: 'Next placement',
  load: 'load',
  empty: 'empty deck',
  limit: 'limit',
  within: (limit: string) => `within ${limit}`,
  no_limit: 'judged with others, not by itself',
  stands_here: 'hatched: where the load stands',
  drawing: (where: string) => `The deck from above; the load stands ${where || 'on it'}.`,
  /** What is typed, before the server judges it. */
  difference: 'shows less zero less load',
  moved_by: 'the display moved by',
  as_shown: 'as shown, before judging',
  inside: 'inside',
  outside: 'outside',
  worked_out: 'Material or small weights stand there too: what they make is worked out when the line is recorded.',
  planned: 'As planned:',
  change: 'Change',
  keep: 'Leave as planned',
  run: (n: string) => `run ${n}`,
  last: 'Read last',
  progress: (done: number, of: number) => `${n_of(done, of)} placements read`,
  failed: (n: number) => (n === 0 ? 'none beyond its limit' : `${n} beyond ${n === 1 ? 'its limit' : 'their limits'}`),
  minutes: (minutes: number) =>
    minutes < 90 ? `about ${Math.round(minutes)} min in all` : `about ${(minutes / 60).toFixed(1)} h in all`,
  list: 'Placements',
  number: 'no.',
  not_planned: 'read beside the plan',
  not_required: 'not required',
  error: 'error',
  state: { open: 'still to read', next: 'next', done: 'read' } as Record<string, string>,
  verdict: {
    pass: 'pass',
    fail: 'fail',
    not_judged: 'not judged',
    conditional_pass: 'conditional pass',
    conditional_fail: 'conditional fail',
    not_accepted: 'not accepted: within the limit, inside the guard band',
  } as Record<string, string>,
  outcome: {
    pass: 'Within the limits',
    fail: 'Not within the limits',
    incomplete: 'Incomplete',
    refused: 'Refused',
    conditional_pass: 'Conditional pass',
    conditional_fail: 'Conditional fail',
    not_accepted: 'Not accepted',
  } as Record<string, string>,
  missing: 'Still missing',
  findings: 'Found',
  no_verdict: 'Nothing was read yet.',
  sentence: 'How it is done',

  occasions: {
    new: 'Placed in service',
    after_rejection: 'Back in service after a rejection',
    overhaul: 'After a major overhaul',
    adjusted: 'Adjusted in service',
    routine: 'Routine inspection in service',
    as_found: 'As found, before anything is adjusted',
    type: 'Type examination',
  } as Record<string, string>,
  /** The factor on the limits of the rulebook's table, and its clause. */
  limits: (factor: string, clause: string) =>
    (factor === '' ? 'Limits of the table' : `Limits of the table × ${factor}`) + ` (${clause})`,
  more_choices: 'How it is judged, and other choices',
  decision: {
    simple: 'Simple: the error itself against the limit',
    guarded: 'Guard band of the uncertainty: pass, conditional pass, conditional fail, fail',
    guarded_binary: 'Guard band of the uncertainty: accepted or not accepted',
  } as Record<string, string>,
  load_over: { rolling: 'A rolling load', supports: 'A load over each support' } as Record<string, string>,

  roles: { customer: 'Customer', laboratory: 'Laboratory: your company', signatory: 'Who signs' } as Record<string, string>,
  titles: { item: 'What the plates say', report_issued: 'Give it a number', rules_confirmed: 'The rulebook, compared with print' } as Record<string, string>,

  papers: {
    title: 'Papers',
    get: 'Download',
    busy: 'Being made',
    had: (name: string, size: string) => `Handed to the browser: ${name}, ${size}`,
    record_first: 'Record what is missing, then try again.',
    blank: 'What is not on record is named so on paper.',
    list: {
      report: { name: 'Test report', says: 'PDF: what was tested, how, every line with its error, uncertainty and limit. A draft until it is issued with a number.' },
      sheet: { name: 'Job sheet', says: 'PDF, one page for the pit: what comes next, its moves in big type.' },
      plan: { name: 'Deck plan', says: 'The deck from above, to scale (SVG).' },
      chart: { name: 'Error chart', says: 'Errors and limits over the load, drawn (SVG).' },
      csv: { name: 'Results as a table', says: 'Every line of the test, for a spreadsheet.' },
      rules: { name: 'Check list of the rulebook', says: 'PDF: every number with its clause, to be compared with your own print, ticked and recorded.' },
      dcc: { name: 'Certificate as data', says: 'XML, for programs that read calibration certificates. There once a report is issued.' },
    } as Record<string, { name: string; says: string }>,
  },
};

export type TestTexts = typeof test_en;
