// The piece in hand: which it is, where it would stand, what it then touches. All of it is asked of the program.
import { el } from "./dom.js";
import { name_of } from "./drawing.js";
import { one_at_a_time } from "./hands_move.js";
import { pin, placed } from "./hands_plan.js";
import { chosen_load } from "./load.js";
import { drag, Refused } from "./server.js";
import { changed, notify, studio, write } from "./studio.js";
import { fine_length } from "./units.js";
import { tr } from "./words.js";

// Its key, or null; and what the program last said of it.
export const hand = { key: null, touches: null };

// The plan in hand: as it was planned, or as hands have changed it since.
export function plan_now() {
  return studio.hands || studio.plan;
}

export function load_now() {
  return chosen_load(plan_now());
}

export function level_now() {
  const told = Number(location.hash.split("/")[1]) || 1;
  return Math.min(Math.max(told, 1), plan_now().loads[load_now()].levels.length) - 1;
}

export function text_of(plan) {
  return JSON.stringify(plan, null, 1) + "\n";
}

// A pin may give the piece in hand another name: what has the focus is found again by it. After a drag it has the focus too.
async function keep(words, plan) {
  const active = document.activeElement || document.body;
  const on_piece = !active.matches("a, button, input, select, textarea, summary");
  if (on_piece) active.blur();
  const done = await write(words, { [studio.hands_name]: text_of(plan) });
  const piece = on_piece && document.getElementById(`piece-${hand.key}`);
  if (piece) piece.focus({ preventScroll: true });
  return done;
}

export function edit(words, change) {
  const plan = structuredClone(plan_now());
  change(plan);
  return keep(words, plan);
}

export function hold(key) {
  if (hand.key === key) return;
  hand.key = key;
  hand.touches = null;
  changed();
  if (key) look({});
}

// Where the piece would stand, asked of the program; `stays` writes it down.
export async function look(where, stays = false) {
  const at = hand.key && placed(plan_now(), load_now(), hand.key);
  if (!at) return null;
  const name = studio.hands ? studio.hands_name : studio.plan_name;
  const { piece, level } = at;
  const answer = await drag({
    plan: name,
    load: load_now() + 1,
    id: piece.id,
    copy: piece.copy,
    level: where.level || level.name,
    x: where.x ?? piece.x,
    y: where.y ?? piece.y,
    turn: where.turn ?? piece.turn,
    keep: stays,
  });
  hand.touches = answer;
  tell();
  return answer;
}

// A piece that was moved holds where it was put: it is pinned.
export async function move(where) {
  const name = placed(plan_now(), load_now(), hand.key).piece;
  try {
    const answer = await look(where, true);
    if (!answer || !answer.plan) return;
    hand.key = pin(answer.plan, load_now(), hand.key);
    await keep(tr("%s moved", name_of(plan_now(), name.id)), answer.plan);
    if (where.level) location.hash = `#hands/${plan_now().loads[load_now()].levels.findIndex((level) => level.name === where.level) + 1}`;
  } catch (refused) {
    if (!(refused instanceof Refused)) throw refused;
    notify(refused.message);
  }
}

// Keys pressed while the last step is still on its way add up to the next.
let aim = null;
const settle = one_at_a_time(async () => {
  const where = aim;
  await move({ x: where.x, y: where.y, turn: (where.turn + 360) % 360 });
  if (aim === where) aim = null;
});

export function nudge([right, back, turn]) {
  const { piece } = placed(plan_now(), load_now(), hand.key);
  const from = aim || piece;
  aim = { x: from.x + right, y: from.y + back, turn: from.turn + turn };
  settle(aim);
}

const near_things = () => ({
  wall: tr("the wall"),
  post: tr("a post"),
  lid: tr("the lid"),
  shelf: tr("the shelf above"),
  "shelf edge": tr("the shelf's edge"),
  sensor: tr("the sensor"),
  peephole: tr("a peephole"),
});

function what_touches(one) {
  return one.what === "piece" ? name_of(plan_now(), one.id) : near_things()[one.what] || one.what || "";
}

// How much is missing, and how it stands: apart, or overlapping, in words and not by colour alone.
function told_touch(one) {
  const between = one.clear_mm < 0 ? tr("overlaps by %s", fine_length(-one.clear_mm)) : tr("%s between", fine_length(one.clear_mm));
  const words = tr("%s: %s too near", what_touches(one), fine_length(one.short_by_mm));
  return el("li", null, el("b", null, "✕ "), words, " ", el("small", null, between));
}

// Rules that are no distance: what stands where it may not, or would tilt, or can't be put in any more.
function told_broken(one) {
  const amount = one.short_by ? ` (${Number(one.short_by.toFixed(1))} ${one.unit || ""})` : "";
  return el("li", null, el("b", null, "✕ "), [one.rule, what_touches(one)].filter(Boolean).join(": "), amount);
}

function told_free({ nearest }) {
  const near = nearest && nearest[0];
  const words = near ? tr("Stands free. Nearest: %s, %s between.", what_touches(near), fine_length(near.clear_mm)) : tr("Stands free.");
  return el("p", { class: "fine" }, words);
}

export function touches_part() {
  const said = hand.touches;
  const lines = said ? [...said.touches.map(told_touch), ...(said.broken || []).map(told_broken)] : [];
  const told = !said ? el("p", null, tr("Choose a piece to see what it touches.")) : lines.length ? el("ul", null, lines) : told_free(said);
  return el("div", { id: "touches", role: "status", "aria-live": "polite" }, told);
}

// Said without drawing the screen anew, so that a drag goes on.
function tell() {
  const place = document.getElementById("touches");
  if (place) place.replaceWith(touches_part());
  const against = new Set(
    (hand.touches ? hand.touches.touches : []).filter((one) => one.what === "piece").map((one) => `${one.id}-${one.copy}`),
  );
  for (const group of document.querySelectorAll(".worked [data-piece]"))
    group.classList.toggle("touched", against.has(group.dataset.piece));
}
