// The racks: what stands where on its way, oldest first.
import { button, choice, el } from "./dom.js";
import { empty, example_banner } from "./example.js";
import { faults } from "./faults.js";
import { picture_of } from "./shapes.js";
import { has_ware, studio } from "./studio.js";
import { length } from "./units.js";
import { is_in_table, member_name, move_to, rack_of, racks, set_all, take_off, value_of } from "./ware.js";
import { tr, tr_count } from "./words.js";

function set_count(row, count) {
  return count < 1 ? take_off(row) : set_all(tr("%s: how many", row.name), [{ row, key: "count", value: count }]);
}

function counter(row, key) {
  if (typeof row.count !== "number") return el("span", { class: "count" }, tr("as many as fit"));
  return el(
    "span",
    { class: "count" },
    button("−", () => set_count(row, row.count - 1), { "aria-label": tr("one %s fewer", row.name), id: `fewer-${key}` }),
    el("b", null, String(row.count)),
    button("+", () => set_count(row, row.count + 1), { "aria-label": tr("one more %s", row.name), id: `more-${key}` }),
  );
}

function about(row) {
  const size = `${length(row.width_mm)} × ${length(row.height_mm)}`;
  const due = value_of(row, "due");
  return [
    size,
    row.owner ? member_name(row.owner) : null,
    row.glazes.join(", ") || null,
    due ? tr("by %s", due) : null,
    is_in_table(row) ? tr("from a table") : null,
  ]
    .filter(Boolean)
    .join(" · ");
}

function pile(row) {
  const key = studio.rows.indexOf(row);
  return el(
    "li",
    { class: "pile" },
    picture_of(row),
    el("div", null, el("b", null, row.name), el("small", null, about(row))),
    el(
      "div",
      { class: "choose" },
      counter(row, key),
      choice([...racks(), ["off", tr("off the rack")]], rack_of(row), (to) => (to === "off" ? take_off(row) : move_to(row, to)), {
        "aria-label": tr("%s stands on the rack", row.name),
        id: `rack-${key}`,
      }),
    ),
  );
}

function rack([key, words]) {
  const rows = studio.rows.filter((row) => rack_of(row) === key);
  if (!rows.length) return null;
  const pieces = rows.reduce((sum, row) => sum + (typeof row.count === "number" ? row.count : 0), 0);
  return el(
    "section",
    { class: "rack", "aria-label": words },
    el("h2", null, words, " ", el("small", null, tr_count(pieces, "%s piece", "%s pieces"))),
    el("ul", null, rows.map(pile)),
  );
}

// What has left the racks: in the kiln by the plan, out by the record.
function on_the_way() {
  const placed = studio.plan
    ? studio.plan.loads.reduce(
        (sum, load) => sum + load.levels.reduce((all, level) => all + level.pieces.filter((piece) => piece.role !== "cones").length, 0),
        0,
      )
    : 0;
  const book = studio.files.some((file) => file.name === "kilnstow.book");
  return el(
    "section",
    { class: "rack away" },
    el("h2", null, tr("Planned for the kiln, and out")),
    el(
      "ul",
      null,
      el(
        "li",
        { class: "pile" },
        placed
          ? el("a", { href: "#load" }, tr_count(placed, "%s piece has its place in the load", "%s pieces have their places in the load"))
          : tr("Nothing is planned into the kiln yet."),
      ),
      el(
        "li",
        { class: "pile" },
        book ? el("a", { href: "#unpacking" }, tr("What came out stands in the record.")) : tr("No firing is recorded yet."),
      ),
    ),
  );
}

export function show() {
  const main = el("p", { class: "large" }, el("a", { href: "#add", class: "do" }, tr("Add ware")));
  if (!has_ware())
    return [
      empty(
        tr(
          "Here stands everything on its way from the wheel to the shop: being made, drying, dry, bisque, glazed. Add what you have made and the kiln can be planned.",
        ),
      ),
      main,
    ];
  const shown = racks().map(rack).filter(Boolean);
  return [example_banner(), faults(studio.faults, studio.warnings), el("div", { class: "racks" }, shown, on_the_way()), main];
}
