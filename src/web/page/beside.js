// At the kiln: one step at a time, with what stands pinned and what is open planned again when something does not go in.
import { button, el } from "./dom.js";
import { figure, initials, level_drawing, level_title, marks_of, name_of, piece_drawing, piece_key, side_drawing } from "./drawing.js";
import { pin, placed, take_out } from "./hands_plan.js";
import { plan_around } from "./job.js";
import { chosen_load, loads_part } from "./load.js";
import { faults } from "./faults.js";
import { studio, write } from "./studio.js";
import { done_of, set_done, step_words, ticks_name, ticks_text } from "./ticks.js";
import { length } from "./units.js";
import { tr, tr_count } from "./words.js";

function load_now() {
  return studio.plan.loads[chosen_load(studio.plan)];
}

function piece_of(load, step) {
  return step.ref.id ? load.levels[step.ref.level - 1].pieces[step.ref.item - 1] : null;
}

function next_step(load, done) {
  return load.steps.findIndex((step, at) => !done.has(at));
}

function tick(at, on) {
  const done = done_of(chosen_load(studio.plan));
  if (on) done.add(at);
  else done.delete(at);
  return set_done(on ? tr("it's in") : tr("taken out again"), chosen_load(studio.plan), done);
}

// What stands is pinned, the piece that does not go in waits, and only what is open is planned again.
async function plan_again(words) {
  const at = chosen_load(studio.plan);
  const load = load_now();
  const done = done_of(at);
  const plan = structuredClone(studio.plan);
  const standing = [...done]
    .map((step) => piece_of(load, load.steps[step]))
    .filter((piece) => piece && piece.role !== "cones")
    .map(piece_key);
  const open = piece_key(piece_of(load, load.steps[next_step(load, done)]));
  const pieces = [...standing, open].map((key) => placed(plan, at, key).piece);
  pieces.slice(0, -1).forEach((piece) => pin(plan, at, piece_key(piece)));
  take_out(plan, at, piece_key(pieces[pieces.length - 1]));
  const kept = new Set(pieces.slice(0, -1).map(piece_key));
  if (await plan_around(plan.order, JSON.stringify(plan), words, { keep_shelves: true })) await carry_over(kept);
}

// Ticks follow the pieces into the new plan; shelves and posts under the last of them are in too.
async function carry_over(kept) {
  const loads = studio.plan.loads.map((load, at) => {
    if (at !== chosen_load(studio.plan)) return new Set();
    const is_in = load.steps.map((step) => Boolean(step.ref.id) && kept.has(`${step.ref.id}-${step.ref.copy}`));
    const last = is_in.lastIndexOf(true);
    return new Set(load.steps.map((step, n) => n).filter((n) => is_in[n] || (n < last && !load.steps[n].ref.id)));
  });
  await write(tr("what stands, in the new plan"), { [ticks_name()]: ticks_text(studio.plan_text, loads) });
}

function level_shown(load, done, at) {
  const index = load.steps[at].ref.level - 1;
  const step = load.steps[at];
  if (index < 0 || !step.ref.id) return figure(side_drawing(studio.plan, load), tr("From the side, as you stand before it"));
  const level = load.levels[index];
  const marks = marks_of(load, index);
  const is_in = new Set(
    load.steps.map((step, n) => (step.ref.level === index + 1 && step.ref.id && done.has(n) ? level.pieces[step.ref.item - 1] : null)),
  );
  const now = piece_of(load, load.steps[at]);
  const pieces = level.pieces.map((piece) =>
    piece_drawing(studio.plan, piece, marks.get(piece) || "", { class: piece === now ? "held" : is_in.has(piece) ? null : "to-come" }),
  );
  return figure(level_drawing(studio.plan, load, index, pieces), level_title(level));
}

function left_on_level(load, done, at) {
  const level = load.steps[at].ref.level;
  return load.steps.filter((step, n) => step.ref.level === level && step.ref.id && !done.has(n)).length;
}

function step_now(load, done, at) {
  const step = load.steps[at];
  const piece = piece_of(load, step);
  const mark = piece ? marks_of(load, step.ref.level - 1).get(piece) : "";
  const name = piece && piece.role !== "cones" ? name_of(studio.plan, piece.id) : step_words(load, step);
  return el(
    "section",
    { class: "step-now", "aria-live": "polite" },
    el("p", { class: "number" }, mark),
    el("h2", null, name),
    piece
      ? el(
          "p",
          null,
          [
            piece.owner ? initials(studio.plan, piece.owner) : null,
            tr("%s high", length(piece.top)),
            piece.pose !== "upright" ? piece.pose : null,
          ]
            .filter(Boolean)
            .join(" · "),
        )
      : null,
    piece
      ? el("p", null, tr_count(left_on_level(load, done, at), "%s piece is left on this level", "%s pieces are left on this level"))
      : null,
    el(
      "p",
      { class: "large" },
      button(piece ? tr("It's in") : tr("Done"), () => tick(at, true), { class: "do", id: "it-is-in" }),
    ),
    el(
      "p",
      { class: "large" },
      piece && piece.role !== "cones"
        ? [
            button(tr("Doesn't go in"), () => plan_again(tr("%s does not go in", name)), { id: "does-not-go-in" }),
            button(tr("Isn't here"), () => plan_again(tr("%s is not here", name)), { id: "is-not-here" }),
          ]
        : null,
      done.size ? button(tr("One back"), () => tick(Math.max(...done), false), { id: "one-back" }) : null,
    ),
  );
}

function list(load, done, at) {
  return el(
    "details",
    null,
    el("summary", null, tr("All steps: %s of %s done", done.size, load.steps.length)),
    el(
      "ol",
      { class: "ticks" },
      load.steps.map((step, n) => {
        const piece = piece_of(load, step);
        const words = piece
          ? `${marks_of(load, step.ref.level - 1).get(piece)} ${piece.role === "cones" ? tr("Cone pack") : name_of(studio.plan, piece.id)}`
          : step_words(load, step);
        return el(
          "li",
          n === at ? { "aria-current": "step" } : null,
          el(
            "label",
            null,
            el("input", { type: "checkbox", id: `tick-${n}`, checked: done.has(n), onchange: (event) => tick(n, event.target.checked) }),
            " ",
            words,
          ),
        );
      }),
    ),
  );
}

export function show() {
  if (studio.job) return el("p", { role: "status" }, tr("What stands stays; the rest is planned again…"));
  const load = load_now();
  if (!load) return el("p", null, tr("Nothing goes in by this plan."));
  const done = done_of(chosen_load(studio.plan));
  const at = next_step(load, done);
  const caution = el("p", { class: "caution-line" }, tr("Switched off at the wall, and cold? A full shelf is a load for two."));
  if (at < 0)
    return [
      loads_part(studio.plan),
      el("p", { class: "summary" }, tr("Everything is in.")),
      el("p", null, el("a", { href: "#fire", class: "do" }, tr("Fire"))),
      list(load, done, at),
    ];
  return [
    faults(studio.failed),
    loads_part(studio.plan),
    caution,
    el("div", { class: "two" }, step_now(load, done, at), level_shown(load, done, at)),
    list(load, done, at),
    el("p", null, tr("On a phone instead: “A page for the phone” on the screen The load works without this machine.")),
  ];
}
