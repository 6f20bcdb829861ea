// Hands in the kiln: one level, large. Pieces are dragged, turned, pinned, taken out and put in; the program tells what touches.
import { button, choice, el, field } from "./dom.js";
import { figure, level_drawing, level_title, marks_of, name_of, piece_drawing, piece_key } from "./drawing.js";
import { answered, faults, later } from "./faults.js";
import { edit, hand, hold, level_now, load_now, look, move, nudge, plan_now, text_of, touches_part } from "./hands_held.js";
import { shelves_of, taller_part } from "./hands_level.js";
import { follow_hand, key_step } from "./hands_move.js";
import { is_pinned, pin, placed, put_in, take_out, unpin } from "./hands_plan.js";
import { plan_around } from "./job.js";
import { loads_part, progress_part } from "./load.js";
import { ask } from "./server.js";
import { notify, studio, write } from "./studio.js";
import { fine_length, hours, is_inches, money } from "./units.js";
import { tr } from "./words.js";

function drawn_piece(plan, marks, piece) {
  const key = piece_key(piece);
  const pinned = is_pinned(plan, piece);
  const kinds = [key === hand.key ? "held" : "", pinned ? "pinned" : ""].filter(Boolean).join(" ");
  return piece_drawing(plan, piece, (marks.get(piece) || "") + (pinned ? "•" : ""), {
    tabindex: 0,
    role: "button",
    class: kinds || null,
    id: `piece-${key}`,
    "aria-pressed": String(key === hand.key),
    onfocus: () => hold(key),
    onpointerdown: (event) => {
      hold(key);
      follow_hand(event, piece, (where) => look(where).catch(() => {}), move);
    },
    onkeydown: (event) => {
      const step = key_step(event);
      if (!step) return;
      event.preventDefault();
      nudge(step);
    },
  });
}

function level_part(plan, load, index) {
  const marks = marks_of(load, index);
  const order = [...load.levels[index].pieces].sort((a, b) => (piece_key(a) === hand.key) - (piece_key(b) === hand.key));
  return figure(
    level_drawing(
      plan,
      load,
      index,
      order.map((piece) => drawn_piece(plan, marks, piece)),
    ),
    tr("Drag a piece, or choose it and use the arrow keys: 1 mm, with Shift 10 mm; [ and ] turn it. A dot is a pin."),
  );
}

function number(words, id, value, act, unit) {
  const shown = unit === "mm" && is_inches() ? (value / 25.4).toFixed(2) : value.toFixed(unit === "mm" ? 1 : 0);
  const back = (typed) => (unit === "mm" && is_inches() ? typed * 25.4 : typed);
  return field(
    `${words}, ${unit === "mm" && is_inches() ? "in" : unit}`,
    el("input", {
      id,
      type: "number",
      step: "any",
      value: shown,
      onchange: (event) => Number.isFinite(event.target.valueAsNumber) && act(back(event.target.valueAsNumber)),
    }),
  );
}

function held_part(plan, load) {
  const at = hand.key && placed(plan, load_now(), hand.key);
  if (!at) return el("section", { class: "held-part" }, el("h2", null, tr("No piece in hand")), touches_part());
  const { piece, level } = at;
  const pinned = is_pinned(plan, piece);
  const name = name_of(plan, piece.id);
  return el(
    "section",
    { class: "held-part" },
    el("h2", null, name),
    touches_part(),
    el(
      "div",
      { class: "fields" },
      number(tr("From the middle to the right"), "hand-x", piece.x, (x) => move({ x }), "mm"),
      number(tr("From the middle to the back"), "hand-y", piece.y, (y) => move({ y }), "mm"),
      number(tr("Turned"), "hand-turn", piece.turn, (turn) => move({ turn }), "°"),
      field(
        tr("Level"),
        choice(
          load.levels.map((one) => [one.name, one.name]),
          level.name,
          (to) => move({ level: to }),
          { id: "hand-level" },
        ),
      ),
    ),
    el(
      "p",
      { class: "large" },
      button(
        tr("Pin"),
        () =>
          edit(pinned ? tr("%s unpinned", name) : tr("%s pinned", name), (next) => {
            hand.key = (pinned ? unpin : pin)(next, load_now(), hand.key);
          }),
        { "aria-pressed": String(pinned), id: "pin" },
      ),
      button(
        tr("Take out"),
        () =>
          edit(tr("%s taken out", name), (next) => {
            take_out(next, load_now(), hand.key);
            hand.key = null;
          }),
        { id: "take-out" },
      ),
    ),
  );
}

function make_room(plan) {
  location.hash = `#hands/${level_now() + 1}`;
  const shelves = shelves_of(plan);
  const by_hand = shelves !== shelves_of(studio.plan);
  return plan_around(plan.order, text_of(plan), tr("room made"), by_hand ? { keep_shelves: true } : {}).then((done) => {
    if (done && by_hand && shelves_of(studio.plan) !== shelves)
      notify(tr("The shelves could not stay as hands had put them; undo brings that back."));
  });
}

function waiting_part(plan) {
  const waits = plan.left_out.filter((one) => plan.order.ware.some((kind) => kind.id === one.id));
  if (!waits.length) return null;
  return el(
    "section",
    null,
    el("h2", null, tr("What waits")),
    el(
      "ul",
      { class: "waiting" },
      waits.map((one, index) =>
        el(
          "li",
          null,
          `${one.count} × ${name_of(plan, one.id)}`,
          button(
            tr("Put in on this level"),
            () => edit(tr("%s put in", name_of(plan, one.id)), (next) => put_in(next, load_now(), level_now(), one.id)),
            { id: `put-in-${index}` },
          ),
        ),
      ),
    ),
  );
}

function broken_part(plan) {
  if (!studio.hands) return el("p", { class: "fine" }, tr("This is the plan as it was made and checked."));
  const text = text_of(plan);
  return later(
    `check:${text}`,
    () => ask("check", [studio.hands_name]),
    answered((result) => [
      result.broken.length
        ? el(
            "div",
            { class: "faults" },
            el("h2", null, tr("Not yet: %s", result.broken.length)),
            el(
              "ul",
              null,
              result.broken.map((one) => el("li", null, `${one.rule}: ${one.where}`, one.by_mm ? ` (${fine_length(one.by_mm)})` : "")),
            ),
          )
        : el("p", { class: "fine" }, tr("Every rule is kept as it stands.")),
      el(
        "p",
        { class: "large" },
        button(tr("Make room"), () => make_room(plan), { class: result.broken.length ? "do" : "", id: "make-room" }),
        result.broken.length
          ? null
          : button(
              tr("Take it as the plan"),
              () => write(tr("hands' plan taken"), { [studio.plan_name]: text, [studio.hands_name]: text }),
              { class: "do", id: "take" },
            ),
        button(tr("Back to the plan as it was"), () => write(tr("back to the plan"), { [studio.hands_name]: studio.plan_text }), {
          id: "as-it-was",
        }),
      ),
    ]),
  );
}

// Asked for, since it takes some seconds.
function cost_part() {
  const place = el("div", { id: "asked-cost" });
  const name = studio.hands ? studio.hands_name : studio.plan_name;
  const show_it = () =>
    place.replaceChildren(
      later(
        `fire:${text_of(plan_now())}`,
        () => ask("fire", [name]),
        answered((result) =>
          el(
            "ul",
            null,
            result.loads.map((load) =>
              el("li", null, `${load.says}. `, tr("%s to the end; %s kWh", hours(load.ended_h), load.energy_kwh.total.toFixed(0))),
            ),
          ),
        ),
      ),
      plan_now().order.costs
        ? later(
            `cost:${text_of(plan_now())}`,
            () => ask("cost", [name]),
            answered((result) => el("p", null, tr("All of it costs %s", money(result.total_minor, result.currency, result.digits)))),
          )
        : "",
    );
  return el("section", null, button(tr("What would it draw and cost?"), show_it, { id: "ask-cost" }), place);
}

export function show() {
  if (studio.job) return [el("p", null, tr("Making room around what is pinned…")), progress_part()];
  const plan = plan_now();
  const load = plan.loads[load_now()];
  const index = level_now();
  return [
    faults(studio.failed),
    loads_part(plan),
    el(
      "div",
      { class: "loads", role: "group", "aria-label": tr("Which level") },
      load.levels.map((level, at) =>
        el("a", { href: `#hands/${at + 1}`, class: "tab", ...(at === index ? { "aria-current": "true" } : {}) }, level_title(level)),
      ),
    ),
    el(
      "div",
      { class: "two hands" },
      level_part(plan, load, index),
      el("div", null, held_part(plan, load), taller_part(plan), broken_part(plan), waiting_part(plan), cost_part()),
    ),
  ];
}
