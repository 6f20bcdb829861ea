// What is in already, as a text file beside the plan; a plan that was made anew begins with nothing in.
import { file_text, studio, write } from "./studio.js";
import { tr } from "./words.js";

export function ticks_name() {
  return studio.plan_name.replace(/\.json$/, ".ticks.txt");
}

// A plan is known by its text: a short sum of it is enough to tell two apart.
function mark_of(text) {
  let sum = 2166136261;
  for (let i = 0; i < text.length; i++) sum = Math.imul(sum ^ text.charCodeAt(i), 16777619);
  return (sum >>> 0).toString(16);
}

// Steps done of a load, as a set of their numbers from 0.
export function done_of(load) {
  const [mark, ...lines] = (file_text(ticks_name()) || "").split("\n");
  const line = mark === mark_of(studio.plan_text) ? lines.find((one) => one.startsWith(`${load + 1}:`)) : null;
  return new Set(
    line
      ? line
          .slice(line.indexOf(":") + 1)
          .trim()
          .split(/\s+/)
          .filter(Boolean)
          .map(Number)
      : [],
  );
}

// Loads that are unpacked already.
export function unpacked() {
  const lines = (file_text(ticks_name()) || "").split("\n");
  const line = lines[0] === mark_of(studio.plan_text) ? lines.find((one) => one.startsWith("out:")) : null;
  return new Set(line ? line.slice(4).trim().split(/\s+/).filter(Boolean).map(Number) : []);
}

export function ticks_text(plan_text, loads, out = new Set()) {
  const numbers = (set) => [...set].sort((a, b) => a - b).join(" ");
  return [mark_of(plan_text), ...loads.map((done, load) => `${load + 1}: ${numbers(done)}`), `out: ${numbers(out)}`].join("\n") + "\n";
}

export function set_done(words, load, done) {
  const loads = studio.plan.loads.map((one, at) => (at === load ? done : done_of(at)));
  return write(words, { [ticks_name()]: ticks_text(studio.plan_text, loads, unpacked()) });
}

export function set_unpacked(words, load) {
  const loads = studio.plan.loads.map((one, at) => done_of(at));
  return write(words, { [ticks_name()]: ticks_text(studio.plan_text, loads, new Set([...unpacked(), load])) });
}

export function step_words(load, step) {
  const level = load.levels[step.ref.level - 1];
  if (step.put === "shelf") return tr("Shelf of level %s", level ? level.name : "");
  if (step.put === "posts") return posts_words(load, level);
  return step.put === "cones" ? tr("Cone pack") : step.ref.id;
}

function posts_words(load, level) {
  const from = level ? level.z : 0;
  const heights = load.posts.filter((post) => Math.abs(post.from - from) < 1).map((post) => post.heights.join(" + "));
  const kinds = [...new Set(heights)].map((height) => tr("%s posts of %s mm", heights.filter((one) => one === height).length, height));
  return `${kinds.join(", ") || tr("posts")} ${level ? tr("on level %s", level.name) : tr("on the floor")}`;
}
