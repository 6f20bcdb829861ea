// The folder as the page has it in hand: its order, what the program understood of it, its plan; and what was done, to be undone.
import { Refused, ask, get_file, list_files, put_file } from "./server.js";
import { tr } from "./words.js";

export const studio = {
  files: [],
  order_name: "order.json",
  order: null,
  plan_name: "plan.json",
  plan: null,
  plan_text: "",
  hands_name: "plan.hands.json",
  hands: null,
  rows: [],
  faults: [],
  warnings: [],
  notice: "",
  job: null,
};

const tags = {};
const texts = {};
const listeners = [];
const KEY = "kilnstow-history";
const past = read_history();

function read_history() {
  try {
    return JSON.parse(sessionStorage.getItem(KEY)) || { done: [], undone: [] };
  } catch (unreadable) {
    return { done: [], undone: [] };
  }
}

// Kept over a reload as far back as the browser has room; in this tab all of it stays.
function keep_history() {
  const kept = { done: [...past.done], undone: past.undone };
  for (;;) {
    try {
      sessionStorage.setItem(KEY, JSON.stringify(kept));
      return;
    } catch (full) {
      if (kept.done.length === 0) return;
      kept.done.splice(0, Math.ceil(kept.done.length / 2));
    }
  }
}

export function on_change(listen) {
  listeners.push(listen);
}

export function changed() {
  listeners.forEach((listen) => listen());
}

export function notify(words) {
  studio.notice = words;
  changed();
}

export function file_text(name) {
  return texts[name];
}

// A file that is still as it was read is not read again.
async function take(name) {
  const there = file_named(name);
  if (there && there.etag && there.etag === tags[name]) return texts[name];
  const got = await get_file(name);
  tags[name] = got.tag;
  texts[name] = got.text;
  return got.text;
}

function of_kind(kind) {
  return studio.files.filter((file) => file.format === `kilnstow-${kind}/1`).map((file) => file.name);
}

export function order_names() {
  return of_kind("order");
}

export function plan_names() {
  return of_kind("plan");
}

function plan_name_of(order_name) {
  return order_name === "order.json" ? "plan.json" : order_name.replace(/\.json$/, "") + "-plan.json";
}

function choose_order() {
  const names = order_names();
  const kept = sessionStorage.getItem("kilnstow-order");
  studio.order_name = [kept, "order.json", names[0]].find((name) => name && names.includes(name)) || "order.json";
  studio.plan_name = plan_name_of(studio.order_name);
  studio.hands_name = studio.plan_name.replace(/\.json$/, ".hands.json");
}

function parsed(text) {
  try {
    return JSON.parse(text);
  } catch (wrong) {
    return null;
  }
}

async function take_order() {
  const is_there = order_names().includes(studio.order_name);
  studio.order = is_there ? parsed(await take(studio.order_name)) : null;
  if (!is_there) delete tags[studio.order_name];
  for (const name of (studio.order && studio.order.ware_files) || []) if (studio.files.some((file) => file.name === name)) await take(name);
}

async function take_plan() {
  const is_there = plan_names().includes(studio.plan_name);
  studio.plan_text = is_there ? await take(studio.plan_name) : "";
  studio.plan = is_there ? parsed(studio.plan_text) : null;
  if (!is_there) delete tags[studio.plan_name];
  await take_hands();
  const ticks = studio.plan_name.replace(/\.json$/, ".ticks.txt");
  if (file_named(ticks)) await take(ticks);
}

function file_named(name) {
  return studio.files.find((file) => file.name === name);
}

// The plan as hands have changed it stands beside the plan; once the plan is made anew it counts no more.
async function take_hands() {
  studio.hands = null;
  const draft = file_named(studio.hands_name);
  if (!draft) return delete tags[studio.hands_name];
  const text = await take(studio.hands_name);
  if (studio.plan && text !== studio.plan_text && draft.modified >= file_named(studio.plan_name).modified) studio.hands = parsed(text);
  return true;
}

export function has_ware() {
  const order = studio.order || {};
  return Boolean((order.ware && order.ware.length) || (order.ware_files && order.ware_files.length));
}

let understood = null;

// What the program makes of the ware; its complaints are shown where the ware stands.
async function understand() {
  const asked = has_ware()
    ? JSON.stringify([studio.order_name, texts[studio.order_name], (studio.order.ware_files || []).map((name) => texts[name])])
    : "";
  if (asked === understood) return;
  studio.rows = studio.faults = studio.warnings = [];
  understood = asked;
  if (!asked) return;
  // ware can be read before there is a kiln to fire it in
  const files = (studio.order.kilns || []).length
    ? undefined
    : { [studio.order_name]: order_text({ ...studio.order, kilns: ["round-450"] }) };
  const answer = await ask("list", ["ware", studio.order_name], files);
  studio.rows = answer.result || [];
  studio.faults = answer.errors || [];
  studio.warnings = answer.warnings || [];
}

export async function load_folder() {
  studio.files = await list_files();
  choose_order();
  await take_order();
  await take_plan();
  await understand();
  changed();
}

export async function choose(order_name) {
  sessionStorage.setItem("kilnstow-order", order_name);
  await load_folder();
}

// Another tab, or a spreadsheet, may have changed a file meanwhile.
export async function look_again() {
  const files = await list_files();
  const same = (a, b) => a && b && a.etag === b.etag;
  const found = (list, name) => list.find((file) => file.name === name);
  const of_ours = [studio.order_name, studio.plan_name, ...((studio.order && studio.order.ware_files) || [])];
  if (
    of_ours.some((name) => (found(files, name) || found(studio.files, name) ? !same(found(files, name), found(studio.files, name)) : false))
  )
    await load_folder();
}

async function write_all(files) {
  for (const [name, text] of Object.entries(files)) {
    if (text === null) continue;
    tags[name] = await put_file(name, text, tags[name] || null);
    texts[name] = text;
  }
  await load_folder();
}

function set_busy(is_busy) {
  const screen = document.getElementById("screen");
  if (is_busy) screen.setAttribute("aria-busy", "true");
  else screen.removeAttribute("aria-busy");
}

async function write_or_tell(files) {
  set_busy(true);
  try {
    await write_all(files);
    studio.notice = "";
    return true;
  } catch (refused) {
    if (!(refused instanceof Refused)) throw refused;
    if (refused.status === 412) await load_folder();
    notify(
      refused.status === 412
        ? tr("The file was changed elsewhere. It has been read again as it is now; please do that once more.")
        : refused.message,
    );
    return false;
  } finally {
    set_busy(false);
  }
}

// No file is deleted, so hands that had done nothing yet go back to the plan as it was made.
function text_before(name) {
  if (name === studio.hands_name && !studio.hands) return studio.plan_text;
  return texts[name] === undefined ? null : texts[name];
}

// Writes files of the folder; `words` say what was done, for undoing it.
export async function write(words, files) {
  const before = {};
  for (const name of Object.keys(files)) before[name] = text_before(name);
  if (!(await write_or_tell(files))) return false;
  past.done.push({ words, before, after: files });
  past.undone = [];
  keep_history();
  changed();
  return true;
}

export function new_order() {
  return {
    format: "kilnstow-order/1",
    title: tr("Our studio"),
    units: { length: "mm", mass: "kg", temperature: "C" },
    currency: "EUR",
    kilns: [],
    firings: [{ id: "glaze", cone: "6", atmosphere: "oxidation" }],
    ware: [],
  };
}

export function order_text(order) {
  return JSON.stringify(order, null, 2) + "\n";
}

// Changes the order by `edit`, which is handed a copy of it; other files may be written with it.
export function change(words, edit, files = {}) {
  const order = structuredClone(studio.order || new_order());
  edit(order);
  return write(words, { ...files, [studio.order_name]: order_text(order) });
}

// What the program has written itself can be undone like what the page writes.
export function record(words, name, before) {
  if (texts[name] === before) return;
  past.done.push({ words, before: { [name]: before === undefined ? null : before }, after: { [name]: texts[name] } });
  past.undone = [];
  keep_history();
  changed();
}

export function undo_words() {
  return past.done.length ? past.done[past.done.length - 1].words : null;
}

export function redo_words() {
  return past.undone.length ? past.undone[past.undone.length - 1].words : null;
}

async function step(from, to, side) {
  const one = from[from.length - 1];
  if (!one || !(await write_or_tell(one[side]))) return;
  from.pop();
  to.push(one);
  keep_history();
  changed();
}

export function undo() {
  return step(past.done, past.undone, "before");
}

export function redo() {
  return step(past.undone, past.done, "after");
}
