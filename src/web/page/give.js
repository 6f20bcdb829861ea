// Give to someone: a member's page, the sheets of the levels, a statement, or the plan itself; without names and money where they are nobody's business.
import { button, choice, el, field } from "./dom.js";
import { owners_of } from "./drawing.js";
import { draft } from "./faults.js";
import { ask, hand_over, make_file, Refused } from "./server.js";
import { notify, studio } from "./studio.js";
import { member_name } from "./ware.js";
import { tr } from "./words.js";

const kept = draft("give", { what: "levels", who: "", nameless: false });
const now = { what: kept.what, who: kept.who, nameless: kept.nameless };

function letter(at) {
  return String.fromCharCode(65 + (at % 26)) + (at < 26 ? "" : Math.floor(at / 26) + 1);
}

// Wherever a member is named, in ids of ware too, its letter stands; so what belongs together stays together.
function lettered(plan) {
  const known = new Map();
  owners_of(plan).forEach((id, at) => {
    const member = (plan.order.members || []).find((one) => one.id === id) || {};
    for (const word of [id, member.name].filter(Boolean)) known.set(word.toLowerCase(), letter(at));
  });
  const words = [...known.keys()].sort((a, b) => b.length - a.length).map((word) => word.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  const any = new RegExp(`(?<![\\p{L}\\p{N}])(${words.join("|")})(?![\\p{L}\\p{N}])`, "giu");
  return (text) => (words.length ? text.replace(any, (word) => known.get(word.toLowerCase())) : text);
}

function each_text(value, edit) {
  if (typeof value === "string") return edit(value);
  if (Array.isArray(value)) return value.map((one) => each_text(one, edit));
  if (value && typeof value === "object") return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, each_text(one, edit)]));
  return value;
}

export function without_names(plan) {
  const next = each_text(plan, lettered(plan));
  delete next.order.costs;
  if (next.order.members) next.order.members = next.order.members.map(({ id }) => ({ id, name: id, initials: id }));
  for (const kind of next.order.ware) for (const key of ["price", "note"]) delete kind[key];
  return next;
}

// What has lost its names has to be a plan still: the program checks it before it leaves the house.
async function nameless_text() {
  const text = JSON.stringify(without_names(studio.plan), null, 1) + "\n";
  const answer = await ask("check", [studio.plan_name], { [studio.plan_name]: text });
  if (answer.errors) throw new Refused(0, answer.errors.join("\n"));
  if (answer.result.broken.length)
    throw new Refused(0, tr("Without names and money this plan would no longer be right, so it is not handed out: its worth is counted in prices."));
  return text;
}

const kinds = () => [
  ["levels", tr("the sheets of the levels")],
  ["phone", tr("the page for a phone")],
  ["plan", tr("the plan, for another kilnstow")],
  ...(owners_of(studio.plan).length
    ? [
        ["member", tr("a member's page")],
        ["statement", tr("a member's statement")],
      ]
    : []),
];

const is_of_one = () => ["member", "statement"].includes(now.what);

async function statement() {
  const answer = await ask("cost", [studio.plan_name, "--statement", now.who]);
  const told = answer.result && answer.result.statements;
  if (!told) throw new Refused(0, (answer.errors || []).join("\n"));
  const text = told.map((one) => (typeof one === "string" ? one : one.text)).join("\n\n");
  return [new Blob([text], { type: "text/plain" }), "statement.txt"];
}

async function made() {
  if (now.what === "statement") return statement();
  const hidden = now.nameless || now.what === "plan" ? await nameless_text() : null;
  if (now.what === "plan") return [new Blob([hidden], { type: "application/json" }), "plan-to-give.json"];
  const name = { levels: "levels.pdf", phone: "phone.html", member: "member.pdf" }[now.what];
  const args = { levels: ["--sheets", "levels"], phone: [], member: ["--member", now.who] }[now.what];
  const files = hidden && now.what !== "member" ? { [studio.plan_name]: hidden } : undefined;
  return [await make_file("draw", [studio.plan_name, "-o", name, ...args], name, files), name];
}

async function give() {
  try {
    hand_over(...(await made()));
  } catch (refused) {
    if (!(refused instanceof Refused)) throw refused;
    notify(refused.message);
  }
}

function set(key, value) {
  now[key] = value;
  kept.keep(now);
  const old = document.getElementById("give");
  const held = document.activeElement && document.activeElement.id;
  if (old) old.replaceWith(give_fields());
  const again = held && document.getElementById(held);
  if (again) again.focus();
}

function nameless_part() {
  const box = el("input", {
    type: "checkbox",
    id: "give-nameless",
    checked: now.nameless || now.what === "plan",
    disabled: now.what === "plan",
    onchange: (event) => set("nameless", event.target.checked),
  });
  return el("p", { class: "check" }, el("label", null, box, " ", tr("owners as letters, no money (for a class: no child's name)")));
}

function give_fields() {
  const owners = owners_of(studio.plan);
  if (!owners.includes(now.who)) now.who = owners[0] || "";
  if (!kinds().some(([key]) => key === now.what)) now.what = "levels";
  return el(
    "div",
    { id: "give" },
    el(
      "div",
      { class: "fields" },
      field(
        tr("What"),
        choice(kinds(), now.what, (value) => set("what", value), { id: "give-what" }),
      ),
      is_of_one()
        ? field(
            tr("Whose"),
            choice(
              owners.map((id) => [id, member_name(id)]),
              now.who,
              (value) => set("who", value),
              { id: "give-who" },
            ),
          )
        : null,
    ),
    is_of_one() ? null : nameless_part(),
    button(tr("Give it out"), give, { id: "give-out" }),
  );
}

export function give_part() {
  return el("details", null, el("summary", null, tr("Give to someone")), give_fields());
}
