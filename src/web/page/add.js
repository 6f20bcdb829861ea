// Add ware: a shape, how many, two sizes; or a whole table.
import { button, choice, el, field } from "./dom.js";
import { draft, faults } from "./faults.js";
import { ask } from "./server.js";
import { beside_hand, picture, shape_names } from "./shapes.js";
import { change, new_order, notify, order_text, studio } from "./studio.js";
import { shown_units, with_unit } from "./units.js";
import { free_id, members, racks } from "./ware.js";
import { table_part } from "./add_table.js";
import { tr } from "./words.js";

const fresh = {
  shape: "mug",
  name: "",
  count: "1",
  fill: false,
  width: "",
  height: "",
  depth: "",
  owner: "",
  clay: "",
  shrinkage: "",
  glaze: "",
  stage: "glazed",
};
const kept = draft("ware", fresh);
const now = Object.fromEntries(Object.keys(fresh).map((key) => [key, kept[key]]));
let waiting = 0;

function has_depth() {
  return now.shape === "tile" || now.shape === "form";
}

// The piece as the order has it: what was not typed is left out, and the program assumes it.
function piece_typed(order) {
  const name = now.name.trim() || now.shape;
  const piece = {
    id: free_id(order, name),
    name,
    count: now.fill ? "fill" : Number(now.count) || 1,
    stage: now.stage === "making" ? "leather-hard" : now.stage,
  };
  if (now.stage === "making") piece.tags = ["making"];
  if (now.shape !== "form") piece.shape = now.shape;
  const across = has_depth() ? "width" : "diameter";
  if (now.width.trim()) piece[across] = with_unit(now.width);
  if (has_depth()) piece.depth = with_unit(now.depth.trim() || now.width);
  if (now.height.trim()) piece.height = with_unit(now.height);
  for (const key of ["owner", "clay", "glaze"]) if (now[key].trim()) piece[key] = now[key].trim();
  return piece;
}

function is_new(key) {
  const word = now[key].trim();
  return word !== "" && !((studio.order || {})[`${key}s`] || []).some((one) => one.id === word);
}

// What is no number goes to the program as it was typed, which says what is wrong with it.
function shrinkage_typed() {
  const words = now.shrinkage.trim();
  const percent = Number(words.replace("%", "").replace(",", "."));
  return words ? { shrinkage: Number.isFinite(percent) ? percent / 100 : words } : {};
}

// A clay or glaze named for the first time is described by that: without it the order would not be read.
function describe_new(order) {
  if (is_new("clay")) order.clays = [...(order.clays || []), { id: now.clay.trim(), ...shrinkage_typed() }];
  if (is_new("glaze")) order.glazes = [...(order.glazes || []), { id: now.glaze.trim() }];
}

function order_of_one() {
  const order = { ...(studio.order || new_order()), ware_files: undefined, ware: [], kilns: ["round-450"] };
  order.ware = [{ ...piece_typed(order), owner: undefined, count: 1 }];
  describe_new(order);
  return order;
}

// The program says what it understood; the picture is drawn from that.
async function understand() {
  const place = document.getElementById("understood");
  if (!place) return;
  if (!now.width.trim() && !now.height.trim()) {
    place.replaceChildren(el("p", null, tr("Type a width or a height and the piece stands here beside a hand.")));
    return;
  }
  const mine = ++waiting;
  const answer = await ask("list", ["ware", "try.json"], { "try.json": order_text(order_of_one()) }).catch((refused) => ({
    errors: [refused.message],
  }));
  if (mine !== waiting || !document.getElementById("understood")) return;
  const row = answer.result && answer.result[0];
  document
    .getElementById("understood")
    .replaceChildren(
      ...(row
        ? [
            beside_hand(row, now.shape),
            el(
              "p",
              null,
              tr("Understood: %s.", row.as_entered || row.name),
              " ",
              row.assumed.length ? tr("Assumed: %s.", row.assumed.join(", ")) : "",
            ),
          ]
        : faults(answer.errors).filter(Boolean)),
    );
}

function set(key, value) {
  now[key] = value;
  kept.keep(now);
  const shrinks = document.getElementById("clay-shrinks");
  if (shrinks) shrinks.hidden = !is_new("clay");
  clearTimeout(set.timer);
  set.timer = setTimeout(understand, 250);
}

function typed(key, more = {}) {
  return el("input", {
    type: "text",
    value: now[key],
    autocomplete: "off",
    id: `ware-${key}`,
    oninput: (event) => set(key, event.target.value),
    ...more,
  });
}

function shapes_part() {
  return el(
    "fieldset",
    { class: "shapes" },
    el("legend", null, tr("Which shape")),
    shape_names().map(([shape, words]) =>
      el(
        "label",
        { class: "shape" },
        el("input", {
          type: "radio",
          name: "shape",
          value: shape,
          id: `shape-${shape}`,
          checked: shape === now.shape,
          onchange: () => {
            set("shape", shape);
            redraw();
          },
        }),
        picture(shape),
        el("span", null, words),
      ),
    ),
  );
}

function redraw() {
  const old = document.getElementById("add-form");
  const held = document.activeElement && document.activeElement.id;
  if (old) old.replaceWith(form_part());
  const again = held && document.getElementById(held);
  if (again) again.focus();
}

function suggestions(id, words) {
  return words.length
    ? el(
        "datalist",
        { id },
        words.map((value) => el("option", { value })),
      )
    : null;
}

function known(key) {
  const order = studio.order || {};
  const listed = (order[`${key}s`] || []).map((one) => one.id);
  return [...new Set([...listed, ...studio.rows.flatMap((row) => (key === "glaze" ? row.glazes : [row[key]]))].filter(Boolean))];
}

function who_part() {
  if (!members().length) return field(tr("Whose (may be left out)"), typed("owner"));
  return field(
    tr("Whose"),
    choice([["", tr("the studio's")], ...members().map((one) => [one.id, one.name || one.id])], now.owner, (value) => set("owner", value), {
      id: "ware-owner",
    }),
  );
}

// A piece without sizes is asked for them where they are typed.
function lacks_sizes() {
  if (now.width.trim() || now.height.trim()) return false;
  clearTimeout(set.timer);
  document
    .getElementById("understood")
    .replaceChildren(el("p", { class: "faults", role: "alert" }, tr("How wide and how high is it? Measured by eye will do.")));
  document.getElementById("ware-width").focus();
  return true;
}

async function put_on_rack() {
  if (lacks_sizes()) return;
  const problem = await ask("list", ["ware", "try.json"], { "try.json": order_text(order_of_one()) });
  if (!problem.result) {
    document.getElementById("understood").replaceChildren(...faults(problem.errors).filter(Boolean));
    return;
  }
  const name = now.name.trim() || now.shape;
  const words = now.fill ? tr("as many %s as fit", name) : tr("%s × %s", Number(now.count) || 1, name);
  const done = await change(tr("%s put on the rack", words), (order) => {
    order.ware = [...(order.ware || []), piece_typed(order)];
    describe_new(order);
  });
  if (!done) return;
  Object.assign(now, { name: "", count: "1", width: "", height: "", depth: "", shrinkage: "" });
  kept.keep(now);
  notify(tr("On the rack: %s.", words));
}

function fill_part() {
  const take = (event) => {
    set("fill", event.target.checked);
    redraw();
  };
  const box = el("input", { type: "checkbox", id: "ware-fill", checked: now.fill, onchange: take });
  return el("p", { class: "check" }, el("label", null, box, " ", tr("as many as fit")));
}

function form_part() {
  const unit = shown_units().length;
  return el(
    "form",
    {
      id: "add-form",
      onsubmit: (event) => {
        event.preventDefault();
        put_on_rack();
      },
    },
    shapes_part(),
    el(
      "div",
      { class: "two" },
      el(
        "div",
        { class: "fields" },
        field(tr("Name"), typed("name", { placeholder: now.shape })),
        el("div", null, field(tr("How many"), typed("count", { inputmode: "numeric", disabled: now.fill })), fill_part()),
        field(
          has_depth() ? tr("Width, %s", unit) : tr("Width at the widest, %s", unit),
          typed("width"),
          tr("With a unit of its own if you like: 10 1/2 in, 26 cm"),
        ),
        has_depth() ? field(tr("Depth, %s", unit), typed("depth")) : null,
        field(tr("Height, %s", unit), typed("height")),
        field(
          tr("Stands on the rack"),
          choice(racks(), now.stage, (value) => set("stage", value), { id: "ware-stage" }),
        ),
        who_part(),
        field(tr("Clay (may be left out)"), typed("clay", { list: "clays" })),
        suggestions("clays", known("clay")),
        el(
          "div",
          { id: "clay-shrinks", hidden: !is_new("clay") },
          field(tr("This clay shrinks, wet to fired, % (may be left out)"), typed("shrinkage", { inputmode: "decimal" })),
        ),
        field(tr("Glaze (may be left out)"), typed("glaze", { list: "glazes" })),
        suggestions("glazes", known("glaze")),
      ),
      el("div", { id: "understood", "aria-live": "polite" }),
    ),
    el("p", { class: "large" }, el("button", { class: "do", id: "put-on-rack" }, tr("Put on the rack"))),
  );
}

export function show() {
  setTimeout(understand, 0);
  return [form_part(), table_part()];
}
