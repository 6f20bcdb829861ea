// Planning: the plan gets better while one looks. One job at a time; what it answers is the command's own.
import { end_job, Refused, run_job } from "./server.js";
import { changed, file_text, load_folder, notify, record, studio, write } from "./studio.js";
import { tr } from "./words.js";

function heard(now) {
  studio.job = { ...studio.job, ...now };
  if (now.plan) studio.job.best = now.plan;
  changed();
}

function explain(ended) {
  if (!ended.answer) return tr("Planning ended without an answer.");
  return ended.answer.errors ? ended.answer.errors.join("\n") : "";
}

async function run(what, finish) {
  studio.job = { state: "running" };
  studio.failed = null;
  changed();
  try {
    const ended = await run_job(what, heard);
    const best = studio.job.best;
    studio.job = null;
    studio.failed = ended.answer && ended.answer.errors ? ended.answer.errors : null;
    await finish(ended, best);
    if (!best && !studio.failed) notify(explain(ended));
  } catch (refused) {
    studio.job = null;
    if (!(refused instanceof Refused)) throw refused;
    notify(refused.message);
  }
}

// Plans the order; the program itself writes the plan beside it.
export function plan_load(more) {
  const before = file_text(studio.plan_name);
  const book = studio.files.some((file) => file.name === "kilnstow.book") ? { book: "kilnstow.book" } : {};
  return run({ order: studio.order_name, plan: studio.plan_name, force: true, ...book, ...more }, async () => {
    await load_folder();
    record(tr("a plan"), studio.plan_name, before);
  });
}

// Whoever stands at the kiln does not wait longer for something better.
const SECONDS = 5;

// Plans again around what is pinned: the order is the one that the plan itself carries, with the pins in it.
export async function plan_around(order, plan_text, words, more = {}) {
  let done = false;
  const files = { "pinned.json": JSON.stringify(order), "stands.json": plan_text };
  await run({ order: "pinned.json", plan: "new.json", from: "stands.json", seconds: SECONDS, files, ...more }, async (ended, best) => {
    const text = best ? JSON.stringify(best, null, 1) + "\n" : "";
    done = Boolean(best) && (await write(words, { [studio.plan_name]: text, [studio.hands_name]: text }));
    changed();
  });
  return done;
}

export function stop() {
  return studio.job && studio.job.job ? end_job(studio.job.job) : null;
}
