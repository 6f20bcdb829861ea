// The ware as it stands in the folder: pieces of the order itself, and rows of its tables, changed by the same few verbs.
import { change, file_text, studio } from "./studio.js";
import { cell, with_cell, with_copy } from "./table.js";
import { tr } from "./words.js";

export const racks = () => [
  ["making", tr("Being made")],
  ["leather-hard", tr("Drying")],
  ["dry", tr("Dry")],
  ["bisque", tr("Bisque")],
  ["glazed", tr("Glazed")],
  ["fired", tr("To be fired again")],
];

function piece_of(order, id) {
  return (order.ware || []).find((piece) => piece.id === id);
}

// Of several tables the one whose line holds the row's own id or name.
function table_of(row) {
  return ((studio.order && studio.order.ware_files) || []).find((name) => {
    const text = file_text(name);
    return (
      text !== undefined &&
      row.line &&
      ["id", "name"].some((key) => {
        const said = cell(text, row.line, key);
        return said && (said === row.id || said === row.name);
      })
    );
  });
}

export function is_in_table(row) {
  return !piece_of(studio.order, row.id);
}

// What is typed for a row under a key, true and false as such.
export function value_of(row, key) {
  const piece = piece_of(studio.order, row.id);
  if (piece) return piece[key];
  const name = table_of(row);
  const said = name ? cell(file_text(name), row.line, key.replace(/_/g, " ")) : "";
  return /^(yes|true|x|1)$/i.test(said) ? true : said || undefined;
}

function told(value) {
  return value === true ? "yes" : value === false || value === undefined ? "" : value;
}

// Several changes as one step: [{row, key, value}].
export function set_all(words, edits, besides = () => {}) {
  const tables = {};
  for (const { row, key, value } of edits.filter((edit) => is_in_table(edit.row))) {
    const name = table_of(row);
    if (name) tables[name] = with_cell(tables[name] || file_text(name), row.line, key.replace(/_/g, " "), told(value));
  }
  return change(
    words,
    (order) => {
      for (const { row, key, value } of edits) {
        const piece = piece_of(order, row.id);
        if (piece && (value === undefined || value === false)) delete piece[key];
        else if (piece) piece[key] = value;
      }
      besides(order);
    },
    tables,
  );
}

// Being made is told apart from drying by a tag, since to a firing both are wet.
export function rack_of(row) {
  const tags = value_of(row, "tags");
  return row.stage === "leather-hard" && String(tags || "").includes("making") ? "making" : row.stage;
}

export function move_to(row, rack) {
  const edits = [{ row, key: "stage", value: rack === "making" ? "leather-hard" : rack }];
  const tags = [value_of(row, "tags") || []].flat().filter((tag) => tag && tag !== "making");
  if (rack === "making") tags.push("making");
  if (!is_in_table(row)) edits.push({ row, key: "tags", value: tags.length ? tags : undefined });
  return set_all(tr("%s moved to another rack", row.name), edits);
}

export function take_off(row) {
  if (is_in_table(row)) return set_all(tr("%s taken off the rack", row.name), [{ row, key: "count", value: 0 }]);
  return change(tr("%s taken off the rack", row.name), (order) => {
    order.ware = order.ware.filter((piece) => piece.id !== row.id);
  });
}

export function free_id(order, name) {
  const taken = new Set([...(order.ware || []).map((piece) => piece.id), ...studio.rows.map((row) => row.id)]);
  for (let n = 1; ; n++) {
    const id = n === 1 ? name : `${name} ${n}`;
    if (!taken.has(id)) return id;
  }
}

export function members() {
  return (studio.order && studio.order.members) || [];
}

export function member_name(id) {
  const member = members().find((one) => one.id === id);
  return (member && member.name) || id;
}

// After a firing: all that was fired leaves its rack, or goes on to the next; what stayed behind stays.
// `fired` is {id: copies}, `to` the next rack or null.
export function ware_fired(words, fired, to) {
  const tables = {};
  const next_order = [];
  for (const row of studio.rows.filter((one) => fired[one.id] && typeof one.count === "number")) {
    const copies = Math.min(fired[row.id], row.count);
    const name = is_in_table(row) ? table_of(row) : null;
    if (name) tables[name] = table_after(tables[name] || file_text(name), row, copies, to);
    else next_order.push({ row, copies });
  }
  return change(words, (order) => next_order.forEach(({ row, copies }) => order_after(order, row, copies, to)), tables);
}

function table_after(text, row, copies, to) {
  if (to && copies === row.count) return with_cell(text, row.line, "stage", to);
  const left = with_cell(text, row.line, "count", row.count - copies);
  if (!to) return left;
  const named = cell(text, row.line, "id") ? { id: `${row.id} ${to}` } : {};
  return with_copy(left, row.line, { count: copies, stage: to, ...named });
}

function order_after(order, row, copies, to) {
  const piece = piece_of(order, row.id);
  if (!piece) return;
  const moved = { ...piece, id: copies === piece.count ? piece.id : free_id(order, row.id), count: copies, stage: to };
  for (const key of ["must_go", "wait", "keep"]) delete moved[key];
  piece.count -= copies;
  if (to) order.ware.splice(order.ware.indexOf(piece) + 1, 0, moved);
  order.ware = order.ware.filter((one) => one.count !== 0);
}
