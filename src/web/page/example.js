// An invented studio, so that every screen can be tried before anything is typed. It is thrown away in one touch.
import { button, el } from "./dom.js";
import { change, has_ware, studio } from "./studio.js";
import { tr } from "./words.js";

const NOTE = "An invented example: the studio, its people and their ware are made up.";

// A week's ware of three people who do not exist.
const ware = [
  {
    id: "mug",
    name: "mug",
    count: 10,
    shape: "mug",
    diameter: "85 mm",
    height: "95 mm",
    handle: true,
    owner: "ada",
    stage: "glazed",
    price: 28,
  },
  {
    id: "tumbler",
    name: "tumbler",
    count: 6,
    shape: "tumbler",
    diameter: "80 mm",
    height: "108 mm",
    owner: "ada",
    stage: "glazed",
    price: 22,
  },
  {
    id: "bowl",
    name: "cereal bowl",
    count: 6,
    shape: "bowl",
    diameter: "150 mm",
    height: "66 mm",
    owner: "ben",
    stage: "glazed",
    price: 32,
  },
  {
    id: "side plate",
    name: "side plate",
    count: 4,
    shape: "plate",
    diameter: "165 mm",
    height: "22 mm",
    owner: "ben",
    stage: "glazed",
    price: 26,
  },
  {
    id: "vase",
    name: "vase",
    count: 1,
    shape: "vase",
    diameter: "130 mm",
    height: "215 mm",
    owner: "cleo",
    stage: "glazed",
    must_go: true,
    price: 70,
  },
  { id: "jar", name: "small jar", count: 3, shape: "jar", diameter: "110 mm", height: "120 mm", owner: "cleo", stage: "glazed", price: 40 },
  {
    id: "raw bowl",
    name: "raw bowl",
    count: 5,
    shape: "bowl",
    diameter: "160 mm",
    height: "70 mm",
    owner: "ada",
    stage: "dry",
    wait: true,
  },
];

const costs = {
  electricity: { price: "0.32" },
  labour: { per_hour: 18, load: "90 min", steps: "20 min" },
  shelf: { price: 45, firings: 150 },
  losses: 0.04,
  share: { by: "box" },
  prices: { wholesale: 2, retail: 2, round_to: 1 },
};

function invent(order) {
  Object.assign(order, {
    title: tr("An invented studio"),
    note: NOTE,
    ware,
    costs,
    kilns: [
      {
        kiln: "invented",
        width: "450 mm",
        depth: "460 mm",
        sides: 8,
        shelves: 5,
        posts: { "25 mm": 12, "51 mm": 6, "76 mm": 12, "102 mm": 12, "127 mm": 9, "152 mm": 6 },
      },
    ],
    firings: [{ id: "glaze", cone: "6", atmosphere: "oxidation" }],
    members: [
      { id: "ada", name: "Ada", initials: "A" },
      { id: "ben", name: "Ben", initials: "B" },
      { id: "cleo", name: "Cleo", initials: "C" },
    ],
  });
  delete order.ware_files;
}

export function is_example() {
  return Boolean(studio.order && studio.order.note === NOTE);
}

export function use_example() {
  return change(tr("the invented example"), invent);
}

function throw_away() {
  return change(tr("the example thrown away"), (order) => {
    for (const key of Object.keys(order)) if (!["format", "units", "display", "currency"].includes(key)) delete order[key];
    Object.assign(order, { title: tr("Our studio"), kilns: [], ware: [], firings: [{ id: "glaze", cone: "6", atmosphere: "oxidation" }] });
  });
}

// What stands on a screen with nothing on it: what it is for, and the example.
export function empty(words, ...more) {
  return el(
    "section",
    { class: "empty" },
    el("p", null, words),
    more,
    el("p", null, button(tr("Try it with an invented example"), use_example, { class: "quiet", id: "use-example" })),
  );
}

export function example_banner() {
  return is_example() && has_ware()
    ? el(
        "p",
        { class: "example" },
        el("b", null, tr("Invented example.")),
        " ",
        tr("Nobody here exists. Try everything, nothing can break."),
        " ",
        button(tr("Throw it away"), throw_away, { class: "quiet", id: "throw-away" }),
      )
    : null;
}
