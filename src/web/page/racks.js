// The racks: what stands where on its way, oldest first.
import { button, choice, el } from "./dom.js";
import { empty, example_banner } from "./example.js";
import { faults } from "./faults.js";
import { picture_of } from "./shapes.js";
import { copied_on } from "./copy.js";
import { change, has_ware, studio } from "./studio.js";
import { unpacked } from "./ticks.js";
import { length } from "./units.js";
import { is_in_table, member_name, members, move_to, rack_of, racks, set_all, take_off, value_of } from "./ware.js";
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

function placed_now() {
  const loads = studio.plan ? studio.plan.loads.filter((load, at) => !unpacked().has(at)) : [];
  return loads
    .flatMap((load) => load.levels)
    .reduce((sum, level) => sum + level.pieces.filter((piece) => piece.role !== "cones").length, 0);
}

// What has left the racks: in the kiln by the plan, out by the record; and how old the last copy of all this is.
function on_the_way() {
  const placed = placed_now();
  const book = studio.files.some((file) => file.name === "kilnstow.book");
  const words = tr_count(placed, "%s piece has its place in the load", "%s pieces have their places in the load");
  const copied = copied_on();
  const lines = [
    placed ? el("a", { href: "#load" }, words) : tr("Nothing is planned into the kiln yet."),
    book ? el("a", { href: "#unpacking" }, tr("What came out stands in the record.")) : tr("No firing is recorded yet."),
    copied ? tr("Last copy of this folder: %s.", copied) : tr("This folder has not been copied yet: “Copy everything”, below."),
  ];
  return el(
    "section",
    { class: "rack away" },
    el("h2", null, tr("Planned for the kiln, and out")),
    el(
      "ul",
      null,
      lines.map((line) => el("li", { class: "pile" }, line)),
    ),
  );
}

function add_member() {
  const name = document.getElementById("member-new").value.trim();
  if (!name) return null;
  return change(tr("%s fires here too", name), (order) => {
    const known = order.members || [];
    const id = known.some((one) => one.id === name) ? `${name} ${known.length + 1}` : name;
    order.members = [...known, { id, name }];
  });
}

// A studio of several has hand-in and shares besides.
function members_part() {
  return el(
    "details",
    null,
    el("summary", null, tr("Several people fire here: %s", members().length)),
    members().length
      ? el(
          "p",
          null,
          members()
            .map((one) => one.name || one.id)
            .join(", "),
        )
      : null,
    el(
      "p",
      { class: "field beside" },
      el("label", { for: "member-new" }, tr("One more, by name (for children initials will do)")),
      el("input", { type: "text", id: "member-new", autocomplete: "off" }),
      button(tr("Joins in"), add_member, { id: "member-add" }),
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
  return [
    example_banner(),
    faults(studio.faults, studio.warnings),
    el("div", { class: "racks" }, shown, on_the_way()),
    main,
    members_part(),
  ];
}
