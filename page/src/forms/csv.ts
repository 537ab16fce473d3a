/** Tables as the journal takes them: comma-separated, a header, points for decimals. */

export interface Table {
  columns: string[];
  rows: Record<string, string>[];
}

function quoted(text: string): string {
  return /[",\n\r]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
}

export function print_csv(table: Table): string {
  const lines = table.rows.map((row) =>
    table.columns.map((column) => quoted(row[column] ?? '')).join(','),
  );
  return [table.columns.map(quoted).join(','), ...lines].join('\n') + '\n';
}

function fields_of(line: string): string[] {
  const fields: string[] = [];
  let field = '';
  let inside = false;
  for (let i = 0; i < line.length; ++i) {
    const c = line[i] ?? '';
    if (inside) {
      if (c !== '"') field += c;
      else if (line[i + 1] === '"') {
        field += '"';
        ++i;
      } else inside = false;
    } else if (c === '"') inside = true;
    else if (c === ',') {
      fields.push(field);
      field = '';
    } else field += c;
  }
  fields.push(field);
  return fields.map((one) => one.trim());
}

/** Lines that begin with # are remarks; the first other line is the header. */
export function read_csv(text: string): Table {
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '' && !line.startsWith('#'));
  const columns = fields_of(lines[0] ?? '').filter((name) => name !== '');
  const rows = lines.slice(1).map((line) => {
    const fields = fields_of(line);
    return Object.fromEntries(columns.map((name, i) => [name, fields[i] ?? '']));
  });
  return { columns, rows };
}

/** For every line of a table's text (from 1) the row that it holds (from 0), else -1. */
export function row_of_line(text: string, line: number): number {
  let row = -2;  // the header is the first
  const lines = text.split(/\r?\n/);
  for (let i = 0; i < lines.length && i < line; ++i) {
    const one = lines[i] ?? '';
    if (one.trim() === '' || one.startsWith('#')) continue;
    ++row;
  }
  return row;
}
