// The load: from the side and level by level, what waits and what would let it in, who has how many in, where room is left.
import { button, el } from "./dom.js";
import {
  figure,
  initials,
  level_drawing,
  level_title,
  level_words,
  marks_of,
  name_of,
  owners_of,
  pieces_count,
  side_drawing,
} from "./drawing.js";
import { example_banner } from "./example.js";
import { answered, draft, faults } from "./faults.js";
import { missing } from "./firing.js";
import { give_part } from "./give.js";
import { plan_load, stop } from "./job.js";
import { hand_over, make_file, Refused } from "./server.js";
import { notify, studio } from "./studio.js";
import { length } from "./units.js";
import { room_of_plan, waiting } from "./waiting.js";
import { tr, tr_count } from "./words.js";

const kept = draft("load", { load: 0 });

export function chosen_load(plan) {
  return Math.min(kept.load, plan.loads.length - 1);
}

function choose_load(index) {
  kept.load = index;
  kept.keep({ load: index });
  notify("");
}

export function loads_part(plan) {
  if (plan.loads.length < 2) return null;
  return el(
    "div",
    { class: "loads", role: "group", "aria-label": tr("Which load") },
    plan.loads.map((load, index) =>
      button(tr("Load %s", index + 1) + (load.date ? ` · ${load.date}` : ""), () => choose_load(index), {
        "aria-pressed": String(index === chosen_load(plan)),
        id: `load-${index + 1}`,
      }),
    ),
  );
}

function placed_in(plan) {
  return plan.loads.reduce((sum, load) => sum + load.levels.reduce((all, level) => all + pieces_count(level), 0), 0);
}

function summary(plan) {
  const placed = placed_in(plan);
  const left = plan.left_out.reduce((sum, one) => sum + one.count, 0);
  const more =
    plan.bound_gap > 0.0005
      ? tr("No plan could place more than %s % more.", (plan.bound_gap * 100).toFixed(1))
      : tr("No plan can place more.");
  return el(
    "p",
    { class: "summary" },
    el("b", null, tr("%s of %s pieces are in", placed, placed + left)),
    ", ",
    tr_count(plan.loads.length, "%s load", "%s loads"),
    ". ",
    more,
  );
}

export function progress_part() {
  const { progress } = studio.job;
  return el(
    "section",
    { class: "progress", role: "status" },
    el(
      "p",
      null,
      el("b", null, tr("Planning.")),
      " ",
      progress
        ? tr("Round %s of %s: %s of %s pieces have a place.", progress.round, progress.rounds, progress.placed, progress.wanted)
        : tr("The first plan comes in a moment."),
    ),
    el("progress", {
      max: progress ? progress.rounds : 1,
      value: progress ? progress.round : undefined,
      "aria-label": tr("rounds of the search"),
    }),
    button(tr("That will do: keep the best so far"), stop, { id: "stop" }),
  );
}

function owners_part(plan) {
  const owners = owners_of(plan);
  if (!owners.length) return null;
  const pieces = plan.loads.flatMap((load) => load.levels.flatMap((level) => level.pieces));
  return el(
    "section",
    null,
    el("h2", null, tr("Whose pieces are in")),
    el(
      "ul",
      { class: "owners" },
      owners.map((owner) =>
        el(
          "li",
          null,
          el("b", null, initials(plan, owner)),
          " ",
          tr_count(pieces.filter((piece) => piece.owner === owner).length, "%s piece", "%s pieces"),
        ),
      ),
    ),
  );
}

function level_part(plan, load, index) {
  const level = load.levels[index];
  const marks = marks_of(load, index);
  const listed = [...level.pieces].sort((a, b) => (Number(marks.get(a)) || 1000) - (Number(marks.get(b)) || 1000));
  return el(
    "section",
    { class: "level" },
    figure(
      level_drawing(plan, load, index),
      el("b", null, level_title(level)),
      ` · ${level_words(level)} · `,
      tr("%s clear above", length(level.gap)),
      el("a", { href: `#hands/${index + 1}`, class: "tab", "aria-label": `${tr("Hands on")}: ${level_title(level)}` }, tr("Hands on")),
    ),
    el(
      "details",
      null,
      el("summary", null, tr("In words, in the order of loading")),
      el(
        "ol",
        null,
        listed.map((piece) =>
          el(
            "li",
            { value: Number(marks.get(piece)) || null },
            `${piece.role === "cones" ? tr("cone pack") : name_of(plan, piece.id)}${piece.owner ? `, ${initials(plan, piece.owner)}` : ""}, ${tr("%s high", length(piece.top))}`,
          ),
        ),
      ),
    ),
  );
}

function room_part() {
  return el(
    "section",
    null,
    el("h2", null, tr("Room left")),
    room_of_plan(
      answered((result) =>
        el(
          "ul",
          { class: "room" },
          result.loads.flatMap((load) =>
            load.levels.map((level) =>
              el(
                "li",
                null,
                el("b", null, tr("Level %s", level.level)),
                " ",
                level.widest_mm
                  ? tr("a round piece %s wide and %s tall would still go in", length(level.widest_mm), length(level.tallest_mm))
                  : tr("full"),
              ),
            ),
          ),
        ),
      ),
    ),
  );
}

async function download(args, name) {
  try {
    hand_over(await make_file("draw", [studio.plan_name, "-o", name, ...args], name), name);
  } catch (refused) {
    if (!(refused instanceof Refused)) throw refused;
    notify(refused.message);
  }
}

function paper_part(plan) {
  const chosen = (document.getElementById("paper") || {}).value || "a4";
  const args = () => (document.getElementById("paper").value === "letter" ? ["--paper", "letter"] : []);
  return el(
    "p",
    { class: "large" },
    button(tr("Print the sheets"), () => download(args(), "sheets.pdf"), { class: "do", id: "print" }),
    el(
      "label",
      { class: "paper" },
      tr("paper"),
      " ",
      el("select", { id: "paper", value: chosen }, el("option", { value: "a4" }, "A4"), el("option", { value: "letter" }, "Letter")),
    ),
    button(tr("A page for the phone"), () => download([], "phone.html"), { id: "phone" }),
    plan.loads.some((load) => load.date) ? button(tr("Into the calendar"), () => download([], "firing.ics"), { id: "ics" }) : null,
  );
}

function plan_part(plan) {
  const load = plan.loads[chosen_load(plan)];
  return [
    summary(plan),
    studio.job || !load ? null : paper_part(plan),
    loads_part(plan),
    load
      ? el(
          "div",
          { class: "load" },
          figure(side_drawing(plan, load), tr("From the side, as you stand before it")),
          el("section", { class: "wait" }, el("h2", null, tr("What waits")), waiting(plan), owners_part(plan)),
        )
      : waiting(plan),
    load ? el("div", { class: "levels" }, load.levels.map((level, index) => level_part(plan, load, index)).reverse()) : null,
  ];
}

export function show() {
  if (studio.job) return [progress_part(), studio.job.best ? plan_part(studio.job.best) : null];
  if (!studio.plan) {
    const gap = missing();
    if (gap) return gap;
    return [
      example_banner(),
      faults(studio.failed || studio.faults),
      el("p", null, tr("Nothing is planned yet.")),
      el(
        "p",
        { class: "large" },
        button(tr("Load the kiln"), () => plan_load({}), { class: "do", id: "load-the-kiln" }),
      ),
    ];
  }
  return [
    example_banner(),
    faults(studio.failed),
    plan_part(studio.plan),
    studio.plan.loads.length ? [room_part(), give_part()] : null,
    el(
      "p",
      null,
      button(tr("Plan anew"), () => plan_load({}), { id: "plan-anew" }),
    ),
  ];
}
