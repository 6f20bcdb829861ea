// Fire: the curve as the program simulates it, with clock times; segments for the controller, or when to turn the switches.
import { button, el, field, svg } from "./dom.js";
import { answered, faults, later } from "./faults.js";
import { plan_load } from "./job.js";
import { chosen_load, loads_part } from "./load.js";
import { ask, make_file } from "./server.js";
import { change, studio } from "./studio.js";
import { heat, hours, shown_units } from "./units.js";
import { spoken, tr } from "./words.js";

const WIDE = 900;
const TALL = 340;
const EDGE = 70;

function line(points, value, most_h, most_c, kind) {
  const x = (h) => EDGE + (h / most_h) * (WIDE - EDGE - 10);
  const y = (c) => TALL - 40 - (c / most_c) * (TALL - 60);
  return svg("polyline", {
    class: kind,
    points: points.map((point) => `${x(point.time_h).toFixed(1)},${y(value(point)).toFixed(1)}`).join(" "),
  });
}

function grid(most_h, most_c) {
  const parts = [];
  const step_h = most_h > 40 ? 8 : most_h > 16 ? 4 : 2;
  for (let h = 0; h <= most_h; h += step_h) {
    const x = EDGE + (h / most_h) * (WIDE - EDGE - 10);
    parts.push(
      svg("path", { class: "grid", d: `M${x} 20V${TALL - 40}` }),
      svg("text", { x, y: TALL - 16, "font-size": 17, "text-anchor": "middle" }, `${h} h`),
    );
  }
  const step_c = shown_units().temperature === "F" ? 5000 / 18 : 200;
  for (let c = 0; c <= most_c; c += step_c) {
    const y = TALL - 40 - (c / most_c) * (TALL - 60);
    parts.push(
      svg("path", { class: "grid", d: `M${EDGE} ${y}H${WIDE - 10}` }),
      svg("text", { x: EDGE - 6, y: y + 6, "font-size": 15, "text-anchor": "end" }, heat(c)),
    );
  }
  return parts;
}

function curve_drawing(points) {
  const most_h = Math.max(...points.map((point) => point.time_h));
  const most_c = Math.max(...points.map((point) => Math.max(point.set_c || 0, point.chamber_c))) * 1.04;
  return svg(
    "svg",
    {
      class: "drawing curve",
      viewBox: `0 0 ${WIDE} ${TALL}`,
      role: "img",
      "aria-label": tr("Heat in the chamber over the hours of the firing; the table says the same in words."),
    },
    grid(most_h, most_c),
    line(
      points.filter((point) => point.set_c > 0),
      (point) => point.set_c,
      most_h,
      most_c,
      "set",
    ),
    line(points, (point) => point.chamber_c, most_h, most_c, "chamber-heat"),
  );
}

// One load of a plan without its date is drawn just as well; the program tells the points.
function curve_part(load) {
  return later(
    `curve:${load}:${studio.plan_text}`,
    async () =>
      JSON.parse(await (await make_file("fire", [studio.plan_name, "--load", String(load + 1), "-o", "curve.json"], "curve.json")).text()),
    (curve) =>
      curve.points
        ? el(
            "figure",
            null,
            curve_drawing(curve.points),
            el("figcaption", null, tr("Simulated for this very load: the chamber drawn out, what the programme asks dashed.")),
          )
        : faults(curve.errors),
  );
}

function row(...cells) {
  return el(
    "tr",
    null,
    cells.map((cell, at) => el(at ? "td" : "th", at ? { class: "right" } : { scope: "row" }, cell)),
  );
}

function heading(...cells) {
  return el(
    "thead",
    null,
    el(
      "tr",
      null,
      cells.map((cell) => el("th", { scope: "col" }, cell)),
    ),
  );
}

function rate(c_per_h) {
  if (!c_per_h) return tr("as fast as it can");
  return shown_units().temperature === "F" ? `${Math.round(c_per_h * 1.8)} °F/h` : `${Math.round(c_per_h)} °C/h`;
}

function segments(one) {
  return el(
    "div",
    { class: "wide", tabindex: "0", role: "group", "aria-label": tr("Segments") },
    el(
      "table",
      null,
      el("caption", null, tr("For the controller")),
      heading(tr("segment"), tr("rate"), tr("to"), tr("hold, min"), tr("begins after")),
      el(
        "tbody",
        null,
        one.segments.map((segment, at) =>
          row(String(at + 1), rate(segment.rate_c_h), heat(segment.to_c), String(segment.hold_min || "–"), hours(segment.from_h)),
        ),
      ),
    ),
  );
}

function verdict(one) {
  return el("p", { class: "summary" }, el("b", null, one.says), one.change ? ` ${one.change}` : "");
}

// Segments for a controller, turns of the switches where there is none; and the cautions.
function programme(one) {
  return [
    one.switches && one.switches.length
      ? el(
          "ul",
          null,
          one.switches.map((turn) => el("li", null, turn.words || `${hours(turn.time_h)}: ${turn.setting}`)),
        )
      : null,
    segments(one),
    el(
      "ul",
      { class: "cautions" },
      (one.cautions || []).map((words) => el("li", null, words)),
    ),
  ];
}

function times_part(load) {
  return later(
    `calendar:${studio.plan_text}`,
    () => ask("calendar", [studio.plan_name]),
    answered((result) => {
      const one = result.loads[load];
      if (!one) return null;
      const clashes = result.clashes.map((clash) => el("li", null, tr("The kiln is taken then; free from %s.", clash.free)));
      return el(
        "div",
        { class: "wide", tabindex: "0", role: "group", "aria-label": tr("Clock times") },
        el(
          "table",
          null,
          el("caption", null, one.proposed ? tr("Clock times, proposed: no day is set yet") : tr("Clock times")),
          el(
            "tbody",
            null,
            row(tr("loading"), one.loading),
            row(tr("switched on"), one.on),
            row(tr("cone down: somebody there"), one.cone_down),
            row(tr("programme ended"), one.ended),
            row(tr("not open before"), one.open),
            row(tr("empty"), one.empty),
          ),
        ),
        clashes.length ? el("ul", null, clashes) : null,
      );
    }),
  );
}

// The order's kiln carries the day of each of its loads; planning again keeps what stands where it stands.
async function set_day(load) {
  const day = document.getElementById("fire-day").value;
  const clock = document.getElementById("fire-clock").value;
  if (!day) return document.getElementById("fire-day").focus();
  const done = await change(tr("the day"), (order) => {
    const first = typeof order.kilns[0] === "string" ? { kiln: order.kilns[0] } : order.kilns[0];
    const dates = [...(first.dates || [])];
    dates[load] = day;
    order.kilns = [{ ...first, dates: dates.filter(Boolean) }, ...order.kilns.slice(1)];
    delete order.kilns[0].loads;
    order.start = clock || "08:00";
  });
  return done && plan_load({ from: studio.plan_name });
}

function day_part(load) {
  const date = studio.plan.loads[load].date || "";
  return [
    el(
      "div",
      { class: "fields" },
      field(tr("Day"), el("input", { type: "date", id: "fire-day", value: date })),
      field(tr("Switched on at"), el("input", { type: "time", id: "fire-clock", value: (studio.order && studio.order.start) || "08:00" })),
    ),
    el(
      "p",
      { class: "large" },
      button(tr("Set the day"), () => set_day(load), { class: "do", id: "set-day" }),
    ),
  ];
}

export function show() {
  if (studio.job) return el("p", { role: "status" }, tr("Planning with the new day…"));
  const load = chosen_load(studio.plan);
  if (!studio.plan.loads[load]) return el("p", null, tr("Nothing goes in by this plan."));
  const book = studio.files.some((file) => file.name === "kilnstow.book") ? ["--book", "kilnstow.book"] : [];
  const told = (draw_it) =>
    later(
      `fire:${spoken()}:${book.length}:${studio.plan_text}`,
      () => ask("fire", [studio.plan_name, ...book]),
      answered((result) => draw_it(result.loads[load])),
    );
  return [
    faults(studio.failed),
    loads_part(studio.plan),
    told(verdict),
    el("div", { class: "two" }, curve_part(load), el("div", null, times_part(load), day_part(load))),
    told(programme),
  ];
}
