// This firing: what for, to which cone, by when, which racks, what must go.
import { button, choice, el, field } from "./dom.js";
import { empty, example_banner } from "./example.js";
import { draft, faults } from "./faults.js";
import { plan_load } from "./job.js";
import { change, has_ware, notify, studio } from "./studio.js";
import { rack_of, racks, set_all, value_of } from "./ware.js";
import { tr, tr_count } from "./words.js";

const cones = [
  "022",
  "020",
  "019",
  "018",
  "017",
  "016",
  "015",
  "014",
  "013",
  "012",
  "011",
  "010",
  "09",
  "08",
  "07",
  "06",
  "05",
  "04",
  "03",
  "02",
  "01",
  "1",
  "2",
  "3",
  "4",
  "5",
  "6",
  "7",
  "8",
  "9",
  "10",
  "11",
  "12",
];
const purposes = () => [
  ["glaze", tr("Glaze firing")],
  ["bisque", tr("Bisque firing")],
  ["form", tr("A big form")],
];
const kept = draft("firing", { racks: null });

function firing() {
  return (studio.order && studio.order.firings && studio.order.firings[0]) || { id: "glaze", cone: "6", atmosphere: "oxidation" };
}

function purpose() {
  return ["bisque", "form"].find((one) => firing().id === one) || "glaze";
}

function set_firing(words, edit) {
  return change(words, (order) => {
    const first = { ...firing() };
    edit(first);
    order.firings = [first, ...(order.firings || []).slice(1)];
  });
}

function usual_cone(to) {
  return to === "bisque" ? "04" : "6";
}

function set_purpose(to) {
  kept.keep({ racks: null });
  kept.racks = null;
  set_firing(tr("what is fired"), (first) => Object.assign(first, { id: to, cone: usual_cone(to) }));
}

function kiln_entry(order) {
  const one = (order.kilns || [])[0];
  return typeof one === "string" ? { kiln: one } : one || null;
}

function set_kiln(words, edit) {
  return change(words, (order) => {
    const one = kiln_entry(order);
    if (!one) return;
    edit(one);
    order.kilns = [one, ...order.kilns.slice(1)];
  });
}

// Raw ware goes to a bisque firing and glazed ware to a glaze firing unless told otherwise.
function chosen_racks() {
  if (kept.racks) return kept.racks;
  return { bisque: ["dry"], glaze: ["glazed", "fired"], form: racks().map(([key]) => key) }[purpose()];
}

function toggle_rack(key, on) {
  const now = chosen_racks().filter((one) => one !== key);
  kept.racks = on ? [...now, key] : now;
  kept.keep({ racks: kept.racks });
}

function racks_part() {
  const counts = racks().map(([key, words]) => [key, words, studio.rows.filter((row) => rack_of(row) === key)]);
  return el(
    "fieldset",
    { class: "checks" },
    el("legend", null, tr("Which racks")),
    counts
      .filter(([, , rows]) => rows.length)
      .map(([key, words, rows]) =>
        el(
          "label",
          null,
          el("input", {
            type: "checkbox",
            id: `from-${key}`,
            checked: chosen_racks().includes(key),
            onchange: (event) => toggle_rack(key, event.target.checked),
          }),
          " ",
          words,
          " ",
          el("small", null, tr_count(rows.length, "%s kind", "%s kinds")),
        ),
      ),
  );
}

function must_go_part() {
  return el(
    "details",
    { class: "checks" },
    el("summary", null, tr("What must go")),
    el("p", null, tr("If any of these can't go in, the answer is no, and says why.")),
    studio.rows.map((row, index) =>
      el(
        "label",
        null,
        el("input", {
          type: "checkbox",
          id: `must-${index}`,
          checked: value_of(row, "must_go") === true,
          onchange: (event) => set_all(tr("%s must go", row.name), [{ row, key: "must_go", value: event.target.checked }]),
        }),
        " ",
        row.name,
      ),
    ),
  );
}

// Ware on other racks is told to wait, in the order itself, so that a command plans just the same.
async function load_the_kiln() {
  if (!studio.rows.some((row) => chosen_racks().includes(rack_of(row)))) {
    notify(tr("No rack with ware on it is chosen. Tick one under “Which racks”; dry ware goes into a bisque firing first."));
    return;
  }
  const edits = studio.rows
    .map((row) => ({ row, key: "wait", value: !chosen_racks().includes(rack_of(row)) }))
    .filter(({ row, value }) => (value_of(row, "wait") === true) !== value);
  if (edits.length && !(await set_all(tr("which racks are fired"), edits))) return;
  location.hash = "#load";
  plan_load({});
}

function day_part() {
  const one = kiln_entry(studio.order);
  const day = one && one.dates ? one.dates[0] : "";
  return [
    field(
      tr("Switched on (may be left open)"),
      el("input", {
        type: "date",
        id: "firing-day",
        value: day,
        onchange: (event) =>
          set_kiln(tr("the day"), (entry) => {
            if (event.target.value) entry.dates = [event.target.value, ...(entry.dates || []).slice(1)];
            else delete entry.dates;
            if (entry.dates) delete entry.loads;
          }),
      }),
      tr("At %s, until safe to open: the screen Fire tells when.", studio.order.start || "08:00"),
    ),
    day
      ? null
      : field(
          tr("How many loads at most"),
          choice(
            [1, 2, 3, 4, 5, 6].map((n) => [String(n), String(n)]),
            String((one && one.loads) || 1),
            (value) =>
              set_kiln(tr("how many loads"), (entry) => {
                entry.loads = Number(value);
              }),
            { id: "firing-loads" },
          ),
        ),
  ];
}

// What has to be told before anything can be planned.
export function missing() {
  if (!has_ware())
    return empty(
      tr("Nothing stands on the racks yet, so there is nothing to fire."),
      el("p", null, el("a", { href: "#add" }, tr("Add ware"))),
    );
  if (!kiln_entry(studio.order))
    return empty(tr("The kiln is not described yet: four numbers do."), el("p", null, el("a", { href: "#kiln" }, tr("My kiln"))));
  return null;
}

export function show() {
  const gap = missing();
  if (gap) return gap;
  return [
    example_banner(),
    faults(studio.faults),
    el(
      "fieldset",
      { class: "purposes" },
      el("legend", null, tr("What is fired")),
      purposes().map(([key, words]) =>
        el(
          "label",
          null,
          el("input", {
            type: "radio",
            name: "purpose",
            id: `purpose-${key}`,
            checked: purpose() === key,
            onchange: () => set_purpose(key),
          }),
          " ",
          words,
        ),
      ),
    ),
    el(
      "div",
      { class: "fields" },
      field(
        tr("To cone"),
        choice(
          cones.map((cone) => [cone, cone]),
          firing().cone || "6",
          (value) =>
            set_firing(tr("the cone"), (first) => {
              first.cone = value;
              delete first.top;
            }),
          { id: "firing-cone" },
        ),
      ),
      field(
        tr("Air in the kiln"),
        choice(
          [
            ["oxidation", tr("oxidation")],
            ["reduction", tr("reduction")],
          ],
          firing().atmosphere || "oxidation",
          (value) =>
            set_firing(tr("air in the kiln"), (first) => {
              first.atmosphere = value;
            }),
          { id: "firing-air" },
        ),
      ),
      day_part(),
    ),
    racks_part(),
    must_go_part(),
    el("p", { class: "large" }, button(tr("Load the kiln"), load_the_kiln, { class: "do", id: "load-the-kiln" })),
  ];
}
