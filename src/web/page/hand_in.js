// Hand-in: members bring ware; what is missing on a slip is asked at once, while they are still there.
import { button, choice, el, field } from "./dom.js";
import { draft, faults } from "./faults.js";
import { ask } from "./server.js";
import { picture_of, shape_names } from "./shapes.js";
import { print_slips } from "./slips.js";
import { change, notify, order_text, studio } from "./studio.js";
import { length, shown_units, with_unit } from "./units.js";
import { free_id, members, racks } from "./ware.js";
import { tr } from "./words.js";

const fresh = { who: "", what: "mug", count: "1", width: "", height: "", clay: "", glaze: "", stage: "glazed" };
const kept = draft("slip", fresh);
const now = Object.fromEntries(Object.keys(fresh).map((key) => [key, kept[key]]));
let failed = null;

function typed(words, key, more = {}) {
  return field(
    words,
    el("input", {
      type: "text",
      id: `slip-${key}`,
      value: now[key],
      autocomplete: "off",
      oninput: (event) => {
        now[key] = event.target.value;
        kept.keep(now);
      },
      ...more,
    }),
  );
}

function piece_on_slip(order) {
  const what = now.what;
  const piece = {
    id: free_id(order, `${now.who} ${what}`.trim()),
    name: what,
    count: Number(now.count) || 1,
    stage: now.stage,
    owner: now.who,
  };
  if (what !== "form") piece.shape = what;
  piece.diameter = with_unit(now.width);
  piece.height = with_unit(now.height);
  for (const key of ["clay", "glaze"]) if (now[key].trim()) piece[key] = now[key].trim();
  return piece;
}

// A glaze or clay that nobody has described is a risk for shelves: it is asked about before the ware is taken in.
function doubts() {
  const order = studio.order;
  const known = (list, id) => !id.trim() || (list || []).some((one) => one.id === id.trim());
  return [
    !now.who && tr("Whose is it?"),
    !now.width.trim() && tr("How wide is it?"),
    !now.height.trim() && tr("How tall is it?"),
    order.glazes && !known(order.glazes, now.glaze) && tr("The glaze “%s” is not described in this studio: does it run?", now.glaze),
    order.clays &&
      !known(order.clays, now.clay) &&
      tr("The clay “%s” is not described in this studio: to which cone does it go?", now.clay),
  ].filter(Boolean);
}

async function take_in() {
  const open = doubts().filter((words) => !words.includes("“") || !document.getElementById("slip-sure")?.checked);
  const text = order_text({ ...studio.order, ware: [piece_on_slip(studio.order)], ware_files: undefined });
  const answer = open.length ? { errors: open } : await ask("list", ["ware", "try.json"], { "try.json": text });
  failed = answer.errors || null;
  if (failed) return notify("");
  if (
    !(await change(tr("%s taken in", now.what), (order) => {
      order.ware = [...(order.ware || []), piece_on_slip(order)];
    }))
  )
    return false;
  Object.assign(now, { count: "1", width: "", height: "" });
  kept.keep(now);
  return notify(tr("Taken in."));
}

function stand_of(member) {
  const rows = studio.rows.filter((row) => row.owner === member.id);
  return el(
    "section",
    { class: "rack" },
    el("h2", null, member.name || member.id),
    el(
      "ul",
      null,
      rows.length
        ? rows.map((row) =>
            el(
              "li",
              { class: "pile" },
              picture_of(row),
              el(
                "div",
                null,
                el("b", null, `${row.count} × ${row.name}`),
                el("small", null, `${length(row.width_mm)} × ${length(row.height_mm)}`),
              ),
            ),
          )
        : el("li", null, tr("nothing handed in")),
    ),
  );
}

export function show() {
  const unit = shown_units().length;
  return [
    faults(failed),
    el(
      "div",
      { class: "fields" },
      field(
        tr("Whose"),
        choice(
          [["", tr("choose")], ...members().map((one) => [one.id, one.name || one.id])],
          now.who,
          (value) => {
            now.who = value;
            kept.keep(now);
          },
          { id: "slip-who" },
        ),
      ),
      field(
        tr("What"),
        choice(
          shape_names(),
          now.what,
          (value) => {
            now.what = value;
            kept.keep(now);
          },
          { id: "slip-what" },
        ),
      ),
      typed(tr("How many"), "count", { inputmode: "numeric" }),
      typed(tr("Width at the widest, %s", unit), "width"),
      typed(tr("Height, %s", unit), "height"),
      typed(tr("Clay (may be left out)"), "clay"),
      typed(tr("Glaze (may be left out)"), "glaze"),
      field(
        tr("Stands on the rack"),
        choice(
          racks(),
          now.stage,
          (value) => {
            now.stage = value;
            kept.keep(now);
          },
          { id: "slip-stage" },
        ),
      ),
    ),
    failed && failed.some((words) => words.includes("“"))
      ? el(
          "p",
          { class: "check" },
          el("label", null, el("input", { type: "checkbox", id: "slip-sure" }), " ", tr("I know, take it in all the same")),
        )
      : null,
    el(
      "p",
      { class: "large" },
      button(tr("Take it in"), take_in, { class: "do", id: "take-in" }),
      button(tr("Print slips, four to a page"), print_slips, { id: "slips" }),
    ),
    el("div", { class: "racks" }, members().map(stand_of)),
  ];
}
