// What waits: the reason, what would let it in, and one button that does it where the page can.
import { button, el } from "./dom.js";
import { name_of } from "./drawing.js";
import { answered, later } from "./faults.js";
import { plan_load } from "./job.js";
import { ask } from "./server.js";
import { change, studio } from "./studio.js";
import { set_all } from "./ware.js";
import { spoken, tr } from "./words.js";

function one_load_more() {
  return change(tr("one more load"), (order) => {
    const first = typeof order.kilns[0] === "string" ? { kiln: order.kilns[0] } : order.kilns[0];
    order.kilns = [{ ...first, loads: (first.loads || 1) + 1 }, ...order.kilns.slice(1)];
  });
}

function told(row, ...edits) {
  return set_all(
    tr("%s: told otherwise", row.name),
    edits.map(([key, value]) => ({ row, key, value })),
  );
}

function lifting(more) {
  return change(tr("who lifts"), (order) => {
    order.rules = { ...order.rules, lifting: { ...(order.rules || {}).lifting, ...more } };
  });
}

// The plan's own records of what would let a piece in (docs/files.md), as far as a page can do it: by the record's name.
const remedies = {
  "one-load-more": () => ({ words: tr("Plan one more load"), act: one_load_more }),
  "wait-no-more": (row) => ({ words: tr("Let it wait no more"), act: () => told(row, ["wait", false]) }),
  "keep-off": (row) => ({ words: tr("Let it stand anywhere"), act: () => told(row, ["keep", undefined]) }),
  "keep-elsewhere": (row) => ({ words: tr("Let it stand anywhere"), act: () => told(row, ["keep", undefined]) }),
  "turn-freely": (row) => ({ words: tr("Let it be turned"), act: () => told(row, ["turn", undefined]) }),
  "without-slab": (row) => ({ words: tr("Without its slab"), act: () => told(row, ["setter", undefined]) }),
  people: (row, record) => ({ words: tr("%s people lift it", record.people), act: () => lifting({ people: record.people }) }),
};
const room = ["no-room", "levels-low", "ended-early"];

function remedy(one) {
  const row = studio.rows.find((piece) => piece.id === one.id);
  const known = one.change && remedies[one.change.name];
  if (known && (row || one.change.name === "one-load-more")) return known(row, one.change);
  if (!row || !room.includes(one.rule && one.rule.name)) return null;
  return { words: tr("It must go: plan again"), act: () => told(row, ["must_go", true]) };
}

function remedy_button(one, index) {
  const found = remedy(one);
  const act = async () => {
    if (await found.act()) plan_load({});
  };
  return found ? button(found.words, act, { id: `remedy-${index}` }) : null;
}

// A plan's file tells why in English; in other languages the program is asked, once there is a plan to ask about.
function told_here(plan) {
  if (spoken() === "en") return list(plan, plan.left_out);
  if (plan !== studio.plan) return list(plan, plan.left_out.map((one) => ({ ...one, why: "", detail: "", nearest: "" })));
  const words = (said, at) => ({ ...plan.left_out[at], why: said.why, detail: "", nearest: said.nearest });
  return room_of_plan(answered((result) => list(plan, result.waiting.map(words))));
}

export function room_of_plan(draw) {
  return later(`room:${studio.plan_text}`, () => ask("list", ["room", studio.plan_name]), draw);
}

export function waiting(plan) {
  return plan.left_out.length ? told_here(plan) : el("p", { class: "fine" }, tr("Nothing waits."));
}

function list(plan, left_out) {
  const line = (one, index) =>
    el(
      "li",
      null,
      el("b", null, `${one.count} × ${name_of(plan, one.id)}`),
      el("span", null, [one.why, one.detail].filter(Boolean).join(": ")),
      one.nearest ? el("small", null, tr("What would let it in: %s", one.nearest)) : null,
      remedy_button(one, index),
    );
  return el("ul", { class: "waiting" }, left_out.map(line));
}
