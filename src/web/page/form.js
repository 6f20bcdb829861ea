// The big form: does it go in on its slab. The answer stands first, in words; then what would have to change.
import { button, choice, el, field } from "./dom.js";
import { answered, draft, faults, later } from "./faults.js";
import { missing } from "./firing.js";
import { ask } from "./server.js";
import { beside_hand, shape_of } from "./shapes.js";
import { studio } from "./studio.js";
import { fine_length, in_page_units, length, with_unit } from "./units.js";
import { is_in_table, set_all, value_of } from "./ware.js";
import { tr } from "./words.js";

const kept = draft("form", { id: "" });

function candidates() {
  return [...studio.rows].sort((a, b) => Math.max(b.width_mm, b.height_mm) - Math.max(a.width_mm, a.height_mm));
}

function row_now() {
  return studio.rows.find((row) => row.id === kept.id) || candidates()[0];
}

function choose(id) {
  kept.id = id;
  kept.keep({ id });
  window.dispatchEvent(new HashChangeEvent("hashchange"));
}

function set_slab(row, change) {
  const before = value_of(row, "setter");
  const next = change === null ? undefined : { kind: "slab", ...(typeof before === "object" ? before : {}), ...change };
  return set_all(tr("%s and its slab", row.name), [{ row, key: "setter", value: next }]);
}

// A setter is an object, which a table has no cell for.
function slab_part(row) {
  if (is_in_table(row))
    return el("p", null, tr("Its row stands in a table; a slab is told in the order. Add the form as a piece of its own to give it one."));
  const setter = value_of(row, "setter");
  return el(
    "fieldset",
    { class: "checks" },
    el("legend", null, tr("What it stands on")),
    el(
      "label",
      null,
      el("input", {
        type: "checkbox",
        id: "form-slab",
        checked: Boolean(setter),
        onchange: (event) => set_slab(row, event.target.checked ? {} : null),
      }),
      " ",
      tr("a slab of its own clay, bedded in grog"),
    ),
    setter
      ? el(
          "div",
          { class: "fields" },
          field(
            tr("Slab, how thick"),
            el("input", {
              type: "text",
              id: "slab-thick",
              value: in_page_units(setter.thickness),
              placeholder: length(10),
              onchange: (event) => set_slab(row, { thickness: with_unit(event.target.value) || undefined }),
            }),
          ),
          field(
            tr("Grog under it"),
            el("input", {
              type: "text",
              id: "slab-under",
              value: in_page_units(setter.bed_under),
              placeholder: length(3),
              onchange: (event) => set_slab(row, { bed_under: with_unit(event.target.value) || undefined }),
            }),
          ),
          field(
            tr("Grog over it"),
            el("input", {
              type: "text",
              id: "slab-over",
              value: in_page_units(setter.bed_over),
              placeholder: length(3),
              onchange: (event) => set_slab(row, { bed_over: with_unit(event.target.value) || undefined }),
            }),
          ),
        )
      : null,
  );
}

function spare(piece) {
  if (piece.fits || piece.goes_in)
    return el(
      "p",
      null,
      tr("To spare: %s around, %s above.", fine_length(piece.clearance_mm.around), fine_length(piece.clearance_mm.above)),
    );
  return el("p", null, tr("Short by %s around, %s above.", fine_length(piece.short_by_mm.around), fine_length(piece.short_by_mm.above)));
}

function change_words(one) {
  return typeof one === "string" ? one : one.says || one.change || one.words || "";
}

function answer_part(piece) {
  const changes = [piece.nearest, ...(piece.changes || []).map(change_words)].filter(Boolean);
  const lifting = piece.care && piece.care.lifting;
  return [
    el("p", { class: "verdict" }, piece.says),
    el("p", null, piece.verdict),
    spare(piece),
    (piece.buts || []).length
      ? el(
          "ul",
          null,
          piece.buts.map((but) => el("li", null, typeof but === "string" ? but : but.says || but.but)),
        )
      : null,
    changes.length
      ? el(
          "section",
          null,
          el("h2", null, tr("The least change")),
          el(
            "ul",
            null,
            [...new Set(changes)].map((words) => el("li", null, words)),
          ),
        )
      : null,
    lifting && lifting.people ? el("p", null, tr("People to lift it in: %s", lifting.people)) : null,
    piece.assumed ? el("p", null, el("small", null, tr("Assumed: %s.", piece.assumed))) : null,
  ];
}

function ask_fit(row) {
  const place = document.getElementById("fit-answer");
  place.replaceChildren(
    later(
      `fit:${row.id}:${JSON.stringify(studio.order)}`,
      () => ask("fit", [studio.order_name, "--piece", row.id]),
      answered((result) => result.pieces.map(answer_part)),
    ),
  );
}

export function show() {
  const gap = missing();
  if (gap) return gap;
  const row = row_now();
  return [
    el(
      "div",
      { class: "two" },
      el(
        "div",
        null,
        field(
          tr("Which form"),
          choice(
            candidates().map((one) => [one.id, one.name]),
            row.id,
            choose,
            { id: "form-which" },
          ),
        ),
        slab_part(row),
        el(
          "p",
          { class: "large" },
          button(tr("Will it go in?"), () => ask_fit(row), { class: "do", id: "will-it" }),
        ),
        el("div", { id: "fit-answer", "aria-live": "polite" }),
      ),
      el("div", null, beside_hand(row, shape_of(row))),
    ),
    faults(studio.faults),
  ];
}
