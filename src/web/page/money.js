// The money: what the firing costs, what each piece and each member owes, by this studio's own rule.
import { button, choice, el, field } from "./dom.js";
import { name_of } from "./drawing.js";
import { empty } from "./example.js";
import { answered, later } from "./faults.js";
import { ask, hand_over } from "./server.js";
import { change, notify, studio } from "./studio.js";
import { member_name } from "./ware.js";
import { money } from "./units.js";
import { tr } from "./words.js";

const rules = () => [
  ["box", tr("each piece's own box")],
  ["slices", tr("who makes the level tall")],
  ["shelf", tr("room on the shelf")],
  ["mass", tr("weight")],
  ["count", tr("number of pieces")],
];

function costs() {
  return (studio.order && studio.order.costs) || null;
}

function set(path, value) {
  return change(tr("what things cost"), (order) => {
    order.costs = order.costs || {};
    let at = order.costs;
    for (const key of path.slice(0, -1)) at = at[key] = at[key] || {};
    if (value === "") delete at[path[path.length - 1]];
    else at[path[path.length - 1]] = value;
  });
}

function typed(words, path, said) {
  const now = path.reduce((at, key) => (at && typeof at === "object" ? at[key] : undefined), costs());
  return field(
    words,
    el("input", {
      type: "text",
      id: `cost-${path.join("-")}`,
      value: now === undefined || typeof now === "object" ? "" : now,
      autocomplete: "off",
      onchange: (event) => set(path, event.target.value.trim()),
    }),
    said,
  );
}

function rule_part() {
  const rule = (costs() && costs().share && costs().share.by) || "box";
  return el(
    "details",
    { open: !costs() },
    el("summary", null, tr("What things cost here")),
    el(
      "div",
      { class: "fields" },
      field(
        tr("Currency"),
        el("input", {
          type: "text",
          id: "currency",
          value: (studio.order && studio.order.currency) || "",
          maxlength: 3,
          onchange: (event) =>
            change(tr("currency"), (order) => {
              order.currency = event.target.value.trim().toUpperCase();
            }),
        }),
      ),
      typed(tr("A kWh"), ["electricity", "price"]),
      typed(tr("An hour's work"), ["labour", "per_hour"]),
      typed(tr("Loading and unloading take"), ["labour", "load"], "90 min"),
      field(
        tr("Shared by"),
        choice(rules(), rules().some(([key]) => key === rule) ? rule : "box", (value) => set(["share", "by"], value), { id: "share-by" }),
      ),
      typed(tr("Wholesale: cost times"), ["prices", "wholesale"]),
      typed(tr("Retail: wholesale times"), ["prices", "retail"]),
    ),
  );
}

function sum_of(lines, result) {
  return el(
    "ul",
    { class: "sum" },
    lines.map((line) =>
      el(
        "li",
        null,
        el("span", null, line.what, " ", el("small", null, line.how)),
        el("span", null, money(line.minor, result.currency, result.digits)),
      ),
    ),
  );
}

function bills(result) {
  return result.loads.map((load) =>
    el(
      "section",
      null,
      el("h2", null, tr("Load %s", load.load), " ", el("small", null, money(load.total_minor, result.currency, result.digits))),
      sum_of(load.lines, result),
    ),
  );
}

function shares(result) {
  const paying = result.shares.filter((share) => share.minor);
  if (!paying.length) return null;
  return el(
    "section",
    null,
    el("h2", null, tr("Who pays what")),
    paying.map((share) =>
      el(
        "details",
        null,
        el(
          "summary",
          null,
          `${share.member ? member_name(share.member) : tr("the studio")}: ${money(share.minor, result.currency, result.digits)}`,
        ),
        sum_of(share.lines, result),
      ),
    ),
  );
}

// Copies of a kind that cost the same stand in one line.
function pieces(result) {
  const lines = new Map();
  for (const piece of result.pieces) {
    const key = `${piece.id} ${piece.cost_minor} ${piece.retail_minor}`;
    lines.set(key, { ...piece, count: (lines.get(key) || { count: 0 }).count + 1 });
  }
  const amount = (minor) => el("td", { class: "right" }, money(minor, result.currency, result.digits));
  return el(
    "div",
    { class: "wide", tabindex: "0", role: "group", "aria-label": tr("What a piece costs") },
    el(
      "table",
      null,
      el("caption", null, tr("What a piece costs")),
      el(
        "thead",
        null,
        el(
          "tr",
          null,
          [tr("piece"), tr("how many"), tr("firing"), tr("cost"), tr("retail")].map((words) => el("th", { scope: "col" }, words)),
        ),
      ),
      el(
        "tbody",
        null,
        [...lines.values()].map((piece) =>
          el(
            "tr",
            null,
            el("td", null, name_of(studio.plan, piece.id)),
            el("td", { class: "right" }, String(piece.count)),
            amount(piece.firing_minor),
            amount(piece.cost_minor),
            amount(piece.retail_minor),
          ),
        ),
      ),
    ),
  );
}

// The prices asked are those of today's order; the plan keeps its own until it is planned again.
function plan_with_costs() {
  const plan = structuredClone(studio.plan);
  plan.order.costs = costs();
  plan.order.currency = studio.order.currency;
  return JSON.stringify(plan);
}

async function statements(text) {
  const answer = await ask("cost", ["plan.json", "--statement", "all"], { "plan.json": text });
  const words = answer.result && answer.result.statements;
  if (!words) return notify((answer.errors || []).join("\n"));
  hand_over(
    new Blob([words.map((one) => (typeof one === "string" ? one : one.text)).join("\n\n")], { type: "text/plain" }),
    "statements.txt",
  );
  return true;
}

export function show() {
  if (!costs())
    return [
      empty(tr("Tell what a kWh and an hour cost, and each firing is a bill, each piece has a price, each member a share.")),
      rule_part(),
    ];
  const text = plan_with_costs();
  return [
    rule_part(),
    later(
      `cost:${text}`,
      () => ask("cost", ["plan.json", "--shares"], { "plan.json": text }),
      answered((result) => [
        el("p", { class: "summary" }, el("b", null, tr("All of it: %s", money(result.total_minor, result.currency, result.digits)))),
        bills(result),
        shares(result),
        pieces(result),
        result.assumed.length ? el("p", null, el("small", null, tr("Assumed: %s.", result.assumed.join("; ")))) : null,
        el(
          "p",
          { class: "large" },
          button(tr("Print statements"), () => statements(text), { class: "do", id: "statements" }),
        ),
      ]),
    ),
  ];
}
