// A table of ware, pasted or from a file: what was understood of each row, what was not and where, which column means what.
import { button, choice, el, field } from "./dom.js";
import { draft, faults } from "./faults.js";
import { picture_of } from "./shapes.js";
import { ask } from "./server.js";
import { change, file_text, new_order, notify, order_text, studio } from "./studio.js";
import { heading_of, rows_of } from "./table.js";
import { length } from "./units.js";
import { racks } from "./ware.js";
import { tr, tr_count } from "./words.js";

const kept = draft("table", { text: "", columns: {}, file: "" });
const now = { text: kept.text, columns: kept.columns, file: kept.file };
let asked = 0;

const meanings = () => [
  ["", tr("as it is called")],
  ["name", tr("name")],
  ["count", tr("how many")],
  ["size", tr("size")],
  ["diameter", tr("width of a round piece")],
  ["width", tr("width")],
  ["depth", tr("depth")],
  ["height", tr("height")],
  ["foot", tr("foot")],
  ["owner", tr("whose")],
  ["clay", tr("clay")],
  ["glaze", tr("glaze")],
  ["stage", tr("rack")],
  ["price", tr("price")],
  ["due", tr("by when")],
  ["none", tr("nothing: pass it over")],
];

function order_of_table() {
  const order = { ...(studio.order || new_order()), ware: [], ware_files: ["pasted.csv"], members: undefined };
  if (!order.kilns || !order.kilns.length) order.kilns = ["round-450"];
  const columns = { ...(order.columns || {}), ...now.columns };
  if (Object.keys(columns).length) order.columns = columns;
  return order;
}

function ask_about_table() {
  return ask("list", ["ware", "try.json"], { "try.json": order_text(order_of_table()), "pasted.csv": now.text });
}

function set_column(heading, meaning) {
  if (meaning) now.columns[heading] = meaning;
  else delete now.columns[heading];
  kept.keep(now);
  understand();
}

function columns_part() {
  const head = heading_of(rows_of(now.text));
  if (!head) return null;
  return el(
    "details",
    { class: "columns", open: true },
    el("summary", null, tr("Which column is what?")),
    el(
      "div",
      { class: "fields" },
      head.cells
        .filter((heading) => heading.trim())
        .map((heading) =>
          field(
            heading,
            choice(meanings(), now.columns[heading] || "", (to) => set_column(heading, to)),
          ),
        ),
    ),
  );
}

// A cell that is not clear is marked in the table as it was pasted.
function unclear(errors) {
  const lines = new Set(errors.map((line) => Number((/\.csv:(\d+)/.exec(line) || [])[1])));
  const table = rows_of(now.text);
  const marked = table.rows.filter((row) => lines.has(row.line));
  const head = heading_of(table);
  if (!marked.length) return null;
  return el(
    "div",
    { class: "wide", tabindex: "0", role: "group", "aria-label": tr("Rows that are not clear") },
    el(
      "table",
      null,
      head
        ? el(
            "thead",
            null,
            el(
              "tr",
              null,
              el("th", null, tr("line")),
              head.cells.map((words) => el("th", null, words)),
            ),
          )
        : null,
      el(
        "tbody",
        null,
        marked.map((row) =>
          el(
            "tr",
            { class: "unclear" },
            el("td", null, String(row.line)),
            row.cells.map((words) => el("td", null, words)),
          ),
        ),
      ),
    ),
  );
}

function understood_row(row) {
  const rack = racks().find(([key]) => key === row.stage);
  return el(
    "tr",
    null,
    el("td", null, picture_of(row)),
    el("td", null, row.name),
    el("td", { class: "right" }, String(row.count)),
    el("td", { class: "right" }, length(row.width_mm)),
    el("td", { class: "right" }, length(row.height_mm)),
    el("td", null, row.owner),
    el("td", null, rack ? rack[1] : row.stage),
  );
}

function understood(rows) {
  return el(
    "div",
    { class: "wide", tabindex: "0", role: "group", "aria-label": tr("What was understood") },
    el(
      "table",
      null,
      el("caption", null, tr_count(rows.length, "%s kind of ware was understood", "%s kinds of ware were understood")),
      el(
        "thead",
        null,
        el(
          "tr",
          null,
          el("th", null, el("span", { class: "unseen" }, tr("picture"))),
          [tr("name"), tr("how many"), tr("width"), tr("height"), tr("whose"), tr("rack")].map((words) => el("th", null, words)),
        ),
      ),
      el("tbody", null, rows.map(understood_row)),
    ),
  );
}

// Where no heading is known, the lists below ask what each column is; the command line's way does not help here.
function headings_asked(errors) {
  return errors.map((line) => (line.includes("--columns") ? tr("No heading was understood. Say below what each column is: one line for each kind of piece.") : line));
}

async function understand() {
  if (!document.getElementById("table-said")) return;
  const mine = ++asked;
  const answer = now.text.trim() ? await ask_about_table().catch((refused) => ({ errors: [refused.message] })) : null;
  const place = document.getElementById("table-said");
  if (mine !== asked || !place) return;
  const shown =
    answer === null
      ? []
      : answer.result
        ? [understood(answer.result), faults([], answer.warnings), answer.warnings.length ? columns_part() : null]
        : [faults(headings_asked(answer.errors), answer.warnings), unclear(answer.errors), columns_part()];
  place.replaceChildren(...shown.flat(Infinity).filter(Boolean));
  document.getElementById("table-put").disabled = !(answer && answer.result);
}

function free_name() {
  for (let n = 1; ; n++) {
    const name = n === 1 ? "ware.csv" : `ware-${n}.csv`;
    if (!studio.files.some((file) => file.name === name)) return name;
  }
}

// A table that stands in the folder already is written back to where it came from.
async function put() {
  const name = now.file || free_name();
  const words = now.file ? tr("the table %s", name) : tr("a table put on the rack");
  const columns = now.columns;
  const done = await change(
    words,
    (order) => {
      if (!now.file) order.ware_files = [...(order.ware_files || []), name];
      if (Object.keys(columns).length) order.columns = { ...(order.columns || {}), ...columns };
    },
    { [name]: now.text },
  );
  if (!done) return;
  Object.assign(now, { text: "", columns: {}, file: "" });
  kept.keep(now);
  notify(tr("The table stands on the racks, and in the folder as %s.", name));
}

function set_text(text) {
  now.text = text;
  kept.keep(now);
  clearTimeout(set_text.timer);
  set_text.timer = setTimeout(understand, 300);
}

async function take_file(event) {
  const file = event.target.files[0];
  if (!file) return;
  now.file = "";
  set_text(await file.text());
  document.getElementById("table-text").value = now.text;
}

function edit(name) {
  Object.assign(now, { text: file_text(name) || "", file: name, columns: {} });
  kept.keep(now);
  notify("");
}

function tables_there() {
  const names = (studio.order && studio.order.ware_files) || [];
  return names.length
    ? el(
        "p",
        null,
        tr("In the folder:"),
        " ",
        names.map((name) => [button(tr("Edit %s", name), () => edit(name)), " "]),
      )
    : null;
}

export function table_part() {
  setTimeout(understand, 0);
  return el(
    "section",
    { class: "table-part" },
    el("h2", null, now.file ? tr("The table %s", now.file) : tr("Or a whole table")),
    el(
      "p",
      null,
      tr(
        "Copy rows from a spreadsheet, with their headings, and paste them here: name, count, width, height. Other columns may stand between.",
      ),
    ),
    tables_there(),
    field(
      tr("Rows"),
      el("textarea", { id: "table-text", rows: 6, spellcheck: "false", value: now.text, oninput: (event) => set_text(event.target.value) }),
    ),
    field(tr("Or a file"), el("input", { type: "file", id: "table-file", accept: ".csv,.tsv,.txt", onchange: take_file })),
    el("div", { id: "table-said", "aria-live": "polite" }),
    el(
      "p",
      null,
      button(now.file ? tr("Write the table back") : tr("Put the table on the racks"), put, {
        id: "table-put",
        class: "do",
        disabled: true,
      }),
    ),
  );
}
