// A level made taller or lower by hand: other posts stand on it, and all above goes up or down with them.
import { choice, field } from "./dom.js";
import { edit, level_now, load_now } from "./hands_held.js";
import { length } from "./units.js";
import { tr } from "./words.js";

function posts_on(load, level) {
  return load.posts.filter((post) => Math.abs(post.from - level.z) < 0.5);
}

function stock_of(plan, load) {
  const entry = plan.order.kilns.find((one) => one.kiln.id === load.kiln);
  return entry ? entry.kiln.posts : [];
}

function sum(heights) {
  return heights.reduce((all, one) => all + one, 0);
}

// One post of the stock at each place, or two on top of one another, as many as stand there now.
function stacks(plan, load, level) {
  const wanted = posts_on(load, level).length;
  const heights = stock_of(plan, load)
    .filter((post) => post.count >= wanted)
    .map((post) => post.height);
  const pairs = heights.flatMap((low, at) => heights.slice(0, at + 1).map((high) => [low, high]));
  const found = new Map();
  for (const one of [...pairs, ...heights.map((height) => [height])]) found.set(sum(one), one);
  return [...found].sort(([a], [b]) => a - b).map(([, one]) => one);
}

function restack(load, index, heights) {
  const level = load.levels[index];
  const by = sum(heights) - sum(posts_on(load, level)[0].heights);
  for (const post of load.posts) {
    if (post.from < level.z - 0.5) continue;
    if (post.from < level.z + 0.5) post.heights = [...heights];
    else post.from += by;
    post.to += by;
  }
  level.gap += by;
  load.levels.slice(index + 1).forEach((one) => (one.z += by));
  load.levels[load.levels.length - 1].gap -= by;
}

// Where the shelves stand, as one text.
export function shelves_of(plan) {
  return JSON.stringify(plan.loads.map((load) => load.levels.map((level) => level.z)));
}

// In a kiln of one column; the highest level reaches to the lid, whatever its posts.
export function taller_part(plan) {
  const load = plan.loads[load_now()];
  const index = level_now();
  const level = load.levels[index];
  if (load.bays.length > 1 || index === load.levels.length - 1 || !posts_on(load, level).length) return null;
  const now = sum(posts_on(load, level)[0].heights);
  const top = load.levels[load.levels.length - 1];
  const options = stacks(plan, load, level)
    .filter((heights) => top.gap - (sum(heights) - now) > 0)
    .map((heights) => [
      heights.join("+"),
      tr("%s, on posts of %s", length(level.gap + sum(heights) - now), heights.map((one) => length(one)).join(" + ")),
    ]);
  const chosen = posts_on(load, level)[0].heights.join("+");
  const shown = options.some(([key]) => key === chosen) ? options : [[chosen, length(level.gap)], ...options];
  const change = (key) =>
    edit(tr("level %s made taller or lower", level.name), (next) => restack(next.loads[load_now()], index, key.split("+").map(Number)));
  return field(tr("Clear above this level"), choice(shown, chosen, change, { id: "level-gap" }));
}
