// A ware table's cells (RFC 4180), so that one can be changed and all others stay as they were typed.

const SEPARATORS = [",", ";", "\t"];

function separator_of(text) {
  const told = /^\ufeff?sep=(.)/.exec(text);
  const first = text.split(/\r?\n/).find((line) => SEPARATORS.some((sign) => line.includes(sign))) || "";
  return told ? told[1] : SEPARATORS.reduce((best, sign) => (first.split(sign).length > first.split(best).length ? sign : best));
}

// A quote opens a cell only at its beginning: elsewhere it is an inch mark.
function cell_end(text, at, separator) {
  if (text[at] !== '"') {
    while (at < text.length && text[at] !== separator && text[at] !== "\n" && text[at] !== "\r") at++;
    return at;
  }
  for (at++; at < text.length; at++) {
    if (text[at] !== '"') continue;
    if (text[at + 1] === '"') at++;
    else return at + 1;
  }
  return at;
}

function unquoted(cell) {
  return cell.startsWith('"') && cell.endsWith('"') && cell.length > 1 ? cell.slice(1, -1).replace(/""/g, '"') : cell;
}

// Rows as {line, from, to, cells}; lines count from 1, from and to are places in the text.
export function rows_of(text) {
  const separator = separator_of(text);
  const rows = [];
  let line = 1;
  for (let at = text.startsWith("\ufeff") ? 1 : 0; at < text.length;) {
    const row = { line, from: at, cells: [] };
    for (;;) {
      const end = cell_end(text, at, separator);
      row.cells.push(unquoted(text.slice(at, end)));
      at = end;
      if (text[at] !== separator) break;
      at++;
    }
    row.to = at;
    while (at < text.length && text[at] !== "\n" && text[at] !== "\r") at++;
    at += text.startsWith("\r\n", at) ? 2 : 1;
    line += text.slice(row.from, row.to).split("\n").length;
    rows.push(row);
  }
  return { separator, rows };
}

const KNOWN = /^(id|name|count|qty|quantity|piece|pieces|size|shape|diameter|width|height|depth|stage|owner|member)\b/;

export function plain(heading) {
  return heading
    .toLowerCase()
    .replace(/\(.*\)/, "")
    .replace(/[_\s]+/g, " ")
    .trim();
}

// The row of headings: the first in which a column is known, else the first that fills two cells.
export function heading_of(table) {
  const full = table.rows.filter((row) => row.cells.filter((cell) => cell.trim()).length > 1);
  return full.find((row) => row.cells.some((cell) => KNOWN.test(plain(cell)))) || full[0];
}

function quoted(cell, separator) {
  return cell.includes(separator) || /^"|[\r\n]/.test(cell) ? `"${cell.replace(/"/g, '""')}"` : cell;
}

function row_text(cells, separator) {
  return cells.map((cell) => quoted(cell, separator)).join(separator);
}

export function cell(text, line, key) {
  const table = rows_of(text);
  const head = heading_of(table);
  const row = table.rows.find((one) => one.line === line);
  const column = head ? head.cells.findIndex((heading) => plain(heading) === key) : -1;
  return row && column >= 0 ? (row.cells[column] || "").trim() : "";
}

// The text with one cell changed; a column that is not there yet comes in as the last.
export function with_cell(text, line, key, value) {
  const table = rows_of(text);
  const head = heading_of(table);
  const changed = new Map();
  let column = head.cells.findIndex((heading) => plain(heading) === key);
  if (column < 0) {
    column = head.cells.length;
    changed.set(head, [...head.cells, key]);
  }
  const row = table.rows.find((one) => one.line === line);
  const cells = [...row.cells];
  while (cells.length <= column) cells.push("");
  cells[column] = String(value);
  changed.set(row, cells);
  return [...changed]
    .sort((a, b) => b[0].from - a[0].from)
    .reduce((all, [one, its]) => all.slice(0, one.from) + row_text(its, table.separator) + all.slice(one.to), text);
}

// The text with a row copied below itself, some of its cells changed.
export function with_copy(text, line, changes) {
  const table = rows_of(text);
  const row = table.rows.find((one) => one.line === line);
  const end = text.startsWith("\r\n", row.to) ? "\r\n" : "\n";
  let next = text.slice(0, row.to) + end + text.slice(row.from, row.to) + text.slice(row.to);
  const below = line + text.slice(row.from, row.to).split("\n").length;
  for (const [key, value] of Object.entries(changes)) next = with_cell(next, below, key, value);
  return next;
}
