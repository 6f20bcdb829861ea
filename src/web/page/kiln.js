// My kiln: its section drawn from its numbers, its shelves and posts as heaps counted up and down.
import { button, choice, el, field } from "./dom.js";
import { example_banner } from "./example.js";
import { draft, faults, later } from "./faults.js";
import { heaps } from "./kiln_heaps.js";
import { heaps_drawing, kiln_drawing } from "./kiln_drawing.js";
import { ask } from "./server.js";
import { change, new_order, notify, order_text, studio } from "./studio.js";
import { in_page_units, mm_of, with_unit } from "./units.js";
import { tr } from "./words.js";

const fresh = {
  width: "450 mm",
  depth: "460 mm",
  sides: 8,
  shelves: 4,
  loading: "top",
  deep: "",
  posts: { "25 mm": 12, "76 mm": 9, "102 mm": 9, "152 mm": 6 },
};
const kept = draft("kiln", { now: null, of: "" });
let now = kept.now;
let of = kept.of;

function entry() {
  return studio.order && studio.order.kilns && studio.order.kilns[0];
}

// The order's kiln in one line, if it is that; a kiln named otherwise is shown and can be made one's own.
function typed_kiln() {
  const one = entry();
  if (!one || typeof one !== "object" || !one.width) return null;
  const { loads, dates, firings, slots, kiln, ...numbers } = one;
  return {
    ...fresh,
    posts: {},
    ...numbers,
    depth: numbers.height || numbers.depth,
    deep: numbers.height ? numbers.depth : "",
    shelves: numbers.shelves || 0,
  };
}

function named_kiln() {
  const one = entry();
  if (!one || typed_kiln()) return null;
  return typeof one === "string" ? one : typeof one.kiln === "string" ? one.kiln : one.kiln && one.kiln.id;
}

// Another order, or one changed by undo, puts its own kiln in the place of what is half typed.
function take_up() {
  const mark = JSON.stringify([studio.order_name, entry() || null]);
  if (now && of === mark) return;
  now = typed_kiln() || { ...fresh };
  of = mark;
}

function keep() {
  kept.keep({ now, of });
  redraw();
}

// The kiln as the order has it. A box has a height besides: its depth then runs to the back.
function kiln_line() {
  const line = { kiln: (typed_kiln() && entry().kiln) || "ours", width: with_unit(now.width) };
  const is_box = now.loading === "front" || (String(now.sides) === "4" && now.deep);
  line.depth = is_box ? with_unit(now.deep || now.width) : with_unit(now.depth);
  if (is_box) line.height = with_unit(now.depth);
  else if (Number(now.sides) > 2) line.sides = Number(now.sides);
  if (now.loading === "front") line.loading = "front";
  if (now.shelves > 0) line.shelves = now.shelves;
  const posts = Object.fromEntries(Object.entries(now.posts).filter(([, count]) => count > 0));
  if (Object.keys(posts).length) line.posts = posts;
  return line;
}

function number_field(words, key, said) {
  return field(
    words,
    el("input", {
      type: "text",
      id: `kiln-${key}`,
      value: in_page_units(now[key]),
      autocomplete: "off",
      oninput: (event) => {
        now[key] = event.target.value;
        keep();
      },
    }),
    said,
  );
}

// What is drawn is told by the program: it reads the numbers and answers with the kiln's volume or what is wrong.
function understood() {
  const order = { ...new_order(), kilns: [kiln_line()], ware: [{ id: "cup", size: "40 x 40 mm" }] };
  const text = order_text(order);
  return later(
    `kiln:${text}`,
    () => ask("list", ["ware", "try.json"], { "try.json": text }),
    (answer) => (answer.errors ? faults(answer.errors) : el("p", { class: "fine" }, tr("These numbers make a kiln."))),
  );
}

function drawing_part() {
  const sizes = {
    width: mm_of(now.width),
    height: mm_of(now.depth),
    deep: mm_of(now.deep) || mm_of(now.width),
    sides: Number(now.sides) || 0,
    loading: now.loading,
  };
  const posts = Object.entries(now.posts)
    .map(([height, count]) => ({ height: mm_of(height), count }))
    .filter((one) => one.count > 0);
  return el("div", { id: "kiln-drawn", class: "drawn" }, kiln_drawing(sizes), heaps_drawing(now.shelves, sizes.width, posts), understood());
}

function heaps_part() {
  return el("div", { id: "kiln-heaps" }, heaps(now, keep));
}

function redraw() {
  const held = document.activeElement && document.activeElement.id;
  for (const [id, part] of [
    ["kiln-drawn", drawing_part],
    ["kiln-heaps", heaps_part],
  ]) {
    const old = document.getElementById(id);
    if (old) old.replaceWith(part());
  }
  const again = held && document.getElementById(held);
  if (again) again.focus();
}

async function save() {
  const done = await change(tr("my kiln"), (order) => {
    const { loads, dates, firings, slots } = typeof entry() === "object" ? entry() : {};
    const kept_keys = JSON.parse(JSON.stringify({ loads, dates, firings, slots }));
    order.kilns = [{ ...kiln_line(), ...kept_keys }, ...(order.kilns || []).slice(1)];
  });
  if (done) notify(tr("Your kiln is kept. What is fired next is told on the screen “This firing”."));
}

function use_built_in(file) {
  if (!file) return;
  change(tr("a kiln that comes along"), (order) => {
    const before = typeof entry() === "object" ? entry() : {};
    order.kilns = [
      {
        kiln: file.replace(/\.json$/, ""),
        ...(before.loads ? { loads: before.loads } : {}),
        ...(before.dates ? { dates: before.dates } : {}),
      },
      ...(order.kilns || []).slice(1),
    ];
  });
}

function built_in() {
  return later(
    "kilns",
    () => ask("list", ["kilns"]),
    (answer) =>
      field(
        tr("Or take one that comes along"),
        choice([["", tr("choose by size")], ...(answer.result || []).map((one) => [one.file, one.name])], "", use_built_in, {
          id: "kiln-built-in",
        }),
        tr("With its sensor, peepholes, half shelves and lining: they make a plan truer."),
      ),
  );
}

function named_part(name) {
  return el(
    "section",
    { class: "named" },
    el("h2", null, tr("This order uses the kiln “%s”", name)),
    el(
      "p",
      null,
      tr(
        "It is described in a file of its own, with everything that a drawing of four numbers leaves out. Type your own numbers below to use those instead.",
      ),
    ),
  );
}

export function show() {
  take_up();
  const name = named_kiln();
  const is_front = now.loading === "front";
  return [
    example_banner(),
    name ? named_part(name) : null,
    el(
      "div",
      { class: "two" },
      el(
        "div",
        { class: "fields" },
        field(
          tr("Loaded from"),
          choice(
            [
              ["top", tr("above")],
              ["front", tr("the front")],
            ],
            now.loading,
            (value) => {
              now.loading = value;
              kept.keep({ now, of });
              show_again();
            },
            { id: "kiln-loading" },
          ),
        ),
        is_front
          ? null
          : field(
              tr("Sides"),
              choice(
                [
                  ["0", tr("round")],
                  ["4", tr("square")],
                  ["6", "6"],
                  ["7", "7"],
                  ["8", "8"],
                  ["9", "9"],
                  ["10", "10"],
                  ["12", "12"],
                ],
                String(now.sides || 0),
                (value) => {
                  now.sides = Number(value);
                  keep();
                },
                { id: "kiln-sides" },
              ),
            ),
        number_field(tr("Width inside, wall to wall"), "width"),
        is_front ? number_field(tr("Depth inside, door to back wall"), "deep") : null,
        number_field(is_front ? tr("Height inside") : tr("Height inside, floor to lid"), "depth"),
        built_in(),
      ),
      drawing_part(),
    ),
    el("h2", null, tr("Shelves and posts at hand")),
    el("p", null, tr("Only what is whole counts: what is cracked or broken is counted out.")),
    heaps_part(),
    el("p", { class: "large" }, button(tr("This is my kiln"), save, { class: "do", id: "my-kiln" })),
  ];
}

function show_again() {
  window.dispatchEvent(new HashChangeEvent("hashchange"));
}
