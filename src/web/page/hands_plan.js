// What hands do to a plan before it is planned again: pins, what is taken out, what is to go in. A pin is the order's own `keep`.
import { tr } from "./words.js";

export function placed(plan, load, key) {
  for (const [index, level] of plan.loads[load].levels.entries())
    for (const piece of level.pieces) if (`${piece.id}-${piece.copy}` === key) return { level, index, piece };
  return null;
}

function kind_of(plan, id) {
  return plan.order.ware.find((kind) => kind.id === id);
}

function free_id(plan, id) {
  for (let n = 2; ; n++) if (!kind_of(plan, `${id} (${n})`)) return `${id} (${n})`;
}

function all_pieces(plan) {
  return plan.loads.flatMap((load) => load.levels.flatMap((level) => level.pieces));
}

// What names a copy follows it to its new name: the piece that it carries, and the step that puts it in.
function rename(plan, from, to) {
  const is_it = (one) => one && one.id === from.id && one.copy === from.copy;
  for (const piece of all_pieces(plan)) {
    if (is_it(piece.on)) piece.on = { ...to };
    if (is_it(piece)) Object.assign(piece, to);
  }
  for (const load of plan.loads) for (const step of load.steps) if (is_it(step.ref)) Object.assign(step.ref, to);
}

// One copy becomes a kind of its own, so that it can be told something that the others are not.
function set_apart(plan, id, copy) {
  const kind = kind_of(plan, id);
  if (!kind || kind.count === 1) return kind;
  const alone = { ...structuredClone(kind), id: free_id(plan, id), count: 1 };
  delete alone.keep;
  kind.count -= 1;
  plan.order.ware.push(alone);
  if (copy === undefined) return alone;
  rename(plan, { id, copy }, { id: alone.id, copy: 1 });
  for (let n = copy + 1; n <= kind.count + 1; n++) rename(plan, { id, copy: n }, { id, copy: n - 1 });
  return alone;
}

function kept_at(load, level, index, piece) {
  const bays = new Set(level.bay ? [level.bay] : []);
  const own = load.levels.filter((one) => bays.has(one.bay));
  return { load: 1, bay: level.bay, level: own.indexOf(level) + 1 || index + 1, x: piece.x, y: piece.y, turn: piece.turn };
}

export function is_pinned(plan, piece) {
  const kind = kind_of(plan, piece.id);
  return Boolean(kind && kind.keep && kind.keep.x !== undefined);
}

// Both answer with the piece's key, which a pin may have changed.
export function pin(plan, load, key) {
  const { level, index, piece } = placed(plan, load, key);
  const kind = set_apart(plan, piece.id, piece.copy);
  if (!kind) return key;
  kind.keep = { ...kept_at(plan.loads[load], level, index, piece), load: load + 1 };
  delete kind.wait;
  return `${piece.id}-${piece.copy}`;
}

export function unpin(plan, load, key) {
  delete kind_of(plan, placed(plan, load, key).piece.id).keep;
  return key;
}

function reordered(load, index) {
  const gone = [];
  load.steps = load.steps.filter((step) => {
    if (step.ref.level !== index + 1 || !step.ref.id) return true;
    const at = load.levels[index].pieces.findIndex((piece) => piece.id === step.ref.id && piece.copy === step.ref.copy);
    if (at < 0) gone.push(step);
    else step.ref.item = at + 1;
    return at >= 0;
  });
  return gone;
}

// Out of the kiln: it waits until it is put in again.
export function take_out(plan, load, key) {
  const { level, index, piece } = placed(plan, load, key);
  const kind = set_apart(plan, piece.id, piece.copy);
  level.pieces.splice(level.pieces.indexOf(piece), 1);
  reordered(plan.loads[load], index);
  if (!kind) return;
  delete kind.keep;
  delete kind.must_go;
  kind.wait = true;
  plan.left_out.push({ id: kind.id, count: 1, why: tr("taken out by hand"), nearest: tr("put it in again") });
}

// Into the kiln: on this level, or it waits on and says why.
export function put_in(plan, load, index, id) {
  const kind = set_apart(plan, id);
  kind.keep = { level: index + 1 };
  kind.wait = false;
  kind.must_go = true;
  const waits = plan.left_out.find((one) => one.id === id);
  if (waits.count > 1) waits.count -= 1;
  else plan.left_out.splice(plan.left_out.indexOf(waits), 1);
}
