// Unpacking: all is taken as good, exceptions are marked; cones and the meter go into the studio's record.
import { button, choice, el, field } from "./dom.js";
import { level_title, level_words, name_of } from "./drawing.js";
import { empty, example_banner } from "./example.js";
import { answered, draft, faults, later } from "./faults.js";
import { chosen_load, loads_part } from "./load.js";
import { ask } from "./server.js";
import { set_unpacked, unpacked } from "./ticks.js";
import { changed, load_folder, notify, studio } from "./studio.js";
import { ware_fired } from "./ware.js";
import { tr, tr_count } from "./words.js";

const fresh = { lost: [], cones: {}, kwh: "", from: "", to: "", start: "", note: "", loaded: "", plan: "" };
const kept = draft("unpacking", fresh);
let now = Object.fromEntries(Object.keys(fresh).map((key) => [key, kept[key]]));
let failed = null;

function set(key, value) {
  now[key] = value;
  kept.keep(now);
}

function load_now() {
  return studio.plan.loads[chosen_load(studio.plan)];
}

function kinds_on(level) {
  const kinds = new Map();
  for (const piece of level.pieces) if (piece.role !== "cones") kinds.set(piece.id, (kinds.get(piece.id) || 0) + 1);
  return kinds;
}

function lost_of(level, id) {
  return now.lost.find((one) => one.level === level.name && one.id === id);
}

function set_lost(level, id, change) {
  const one = lost_of(level, id) || { level: level.name, id, count: 0, why: "" };
  const next = { ...one, ...change };
  set("lost", [...now.lost.filter((other) => other !== lost_of(level, id)), ...(next.count > 0 ? [next] : [])]);
}

function kind_line(level, index, id, count) {
  const one = lost_of(level, id);
  const key = `${index}-${studio.plan.order.ware.findIndex((kind) => kind.id === id)}`;
  return el(
    "li",
    null,
    el("span", null, `${count} × ${name_of(studio.plan, id)}`),
    el(
      "label",
      null,
      tr("lost"),
      " ",
      choice(
        Array.from({ length: count + 1 }, (none, n) => [String(n), String(n)]),
        String(one ? one.count : 0),
        (value) => {
          set_lost(level, id, { count: Number(value) });
          changed();
        },
        { id: `lost-${key}` },
      ),
    ),
    one
      ? el(
          "label",
          null,
          tr("why"),
          " ",
          el("input", {
            type: "text",
            id: `why-${key}`,
            value: one.why,
            placeholder: tr("cracked, stuck, run …"),
            onchange: (event) => set_lost(level, id, { why: event.target.value }),
          }),
        )
      : null,
  );
}

function level_part(level, index) {
  const losses = now.lost.filter((one) => one.level === level.name).length;
  return el(
    "details",
    { open: losses > 0 },
    el("summary", null, `${level_title(level)} · ${level_words(level)} · ${losses ? tr("not all good") : tr("all good")}`),
    el(
      "ul",
      { class: "unpacked" },
      [...kinds_on(level)].map(([id, count]) => kind_line(level, index, id, count)),
    ),
    field(
      tr("Cone seen on this level (may be left out)"),
      el("input", {
        type: "text",
        id: `cone-${index}`,
        value: now.cones[level.name] || "",
        placeholder: "6",
        onchange: (event) => set("cones", { ...now.cones, [level.name]: event.target.value }),
      }),
    ),
  );
}

function typed(words, key, more = {}, said) {
  return field(
    words,
    el("input", {
      type: "text",
      id: `out-${key}`,
      value: now[key],
      autocomplete: "off",
      oninput: (event) => set(key, event.target.value),
      ...more,
    }),
    said,
  );
}

function log_args() {
  const args = ["add", studio.plan_name, "--load", String(chosen_load(studio.plan) + 1)];
  if (now.kwh.trim()) args.push("--kwh", now.kwh.trim());
  else if (now.from.trim() || now.to.trim()) args.push("--meter", now.from.trim(), now.to.trim());
  if (now.start.trim()) args.push("--start", now.start.trim().replace("T", " "));
  for (const [level, cone] of Object.entries(now.cones)) if (cone.trim()) args.push("--cone", `${level}=${cone.trim()}`);
  for (const one of now.lost) args.push("--lost", `${one.id} x ${one.count} on ${one.level}: ${one.why.trim() || tr("not told")}`);
  if (now.loaded.trim()) args.push("--loaded", now.loaded.trim());
  if (now.note.trim()) args.push("--note", now.note.trim());
  return args;
}

function is_bisque(load) {
  return /^0[4-9]|^0[12]\d/.test(load.firing.cone || "");
}

const own_id = (id) => id.replace(/ \(\d+\)$/, "");

// What was in, by kinds: the plan's pieces, corrected by what the record has just been told was otherwise.
async function fired_by(load) {
  const fired = {};
  for (const level of load.levels) for (const [id, count] of kinds_on(level)) fired[own_id(id)] = (fired[own_id(id)] || 0) + count;
  const { result } = await ask("log", ["list"]);
  const corrections = (result && result.entries.length && result.entries[result.entries.length - 1].corrections) || [];
  for (const { id, copies } of corrections) if (own_id(id) in fired) fired[own_id(id)] = Math.max(0, fired[own_id(id)] + copies);
  return fired;
}

// What was lost is gone; the rest of a bisque firing goes on to the rack of bisque, all else is finished.
async function into_record() {
  const load = load_now();
  const answer = await ask("log", log_args());
  failed = answer.errors || null;
  if (failed) return changed();
  const fired = await fired_by(load);
  now = structuredClone(fresh);
  kept.keep(now);
  await load_folder();
  await set_unpacked(tr("unpacked"), chosen_load(studio.plan));
  await ware_fired(tr("fired ware off its rack"), fired, is_bisque(load) ? "bisque" : null);
  notify([tr("It stands in the record."), ...(answer.warnings || []).filter((words) => !words.includes("--"))].join("\n"));
  return true;
}

function record_part() {
  const book = studio.files.find((file) => file.name === "kilnstow.book");
  if (!book) return null;
  return el(
    "section",
    null,
    el("h2", null, tr("The record")),
    later(
      `log:${book.etag || book.modified}`,
      () => ask("log", ["list"]),
      answered((result) =>
        el(
          "ul",
          { class: "room" },
          result.entries.map((one) =>
            el(
              "li",
              null,
              el("b", null, String(one.n)),
              ` · ${one.start} · ${one.kiln} · ${one.kwh === null ? tr("meter not read") : `${one.kwh} kWh`} · `,
              one.lost && one.lost.length ? tr_count(one.lost.length, "%s loss", "%s losses") : tr("nothing lost"),
            ),
          ),
        ),
      ),
    ),
  );
}

export function show() {
  if (!studio.plan || !studio.plan.loads.length)
    return [
      empty(
        tr(
          "When a load has been fired it is unpacked here: what came out well, what did not and why, the cones, the meter. From that the program learns your kiln.",
        ),
      ),
      record_part(),
    ];
  if (unpacked().has(chosen_load(studio.plan)))
    return [example_banner(), loads_part(studio.plan), el("p", { class: "summary" }, tr("This load is unpacked.")), record_part()];
  const load = load_now();
  const losses = now.lost.length;
  return [
    example_banner(),
    faults(failed),
    loads_part(studio.plan),
    el("p", null, tr("All is taken as good. Mark only what is not; from the top level down, as it comes out.")),
    load.levels.map((level, index) => level_part(level, index)).reverse(),
    el("h2", null, tr("The meter")),
    el(
      "div",
      { class: "fields" },
      typed(tr("Before"), "from", { inputmode: "decimal" }),
      typed(tr("After"), "to", { inputmode: "decimal" }),
      typed(tr("Or kWh"), "kwh", { inputmode: "decimal" }),
      typed(tr("Switched on"), "start", { type: "datetime-local" }),
      typed(tr("A note"), "note"),
      typed(tr("What the phone told (may be left out)"), "loaded", { placeholder: "1545269b 1: not 2.3" }),
    ),
    el(
      "p",
      { class: "large" },
      button(losses ? tr("The rest is good") : tr("All is good"), into_record, { class: "do", id: "rest-is-good" }),
    ),
    el("p", { class: "caution-line" }, tr("Not hot? What is over 50 to 60 °C is not for hands. Glaze drips are as sharp as glass.")),
    record_part(),
  ];
}
