// The frame: the way of the ware along the top, one screen below it, what holds everywhere at the foot.
import { begin_fields, button, choice, el } from "./dom.js";
import { on_reach, Refused } from "./server.js";
import {
  change,
  changed,
  choose,
  load_folder,
  look_again,
  on_change,
  order_names,
  redo,
  redo_words,
  studio,
  undo,
  undo_words,
} from "./studio.js";
import { is_inches, shown_units } from "./units.js";
import { learn_words, tr } from "./words.js";
import { copy_everything } from "./copy.js";
import { screens } from "./way.js";

let unreachable = null;

function current() {
  const name = location.hash.slice(1).split("/")[0];
  return screens().find((screen) => screen.name === name && screen.is_there()) || screens()[0];
}

function place(screen, now) {
  const props = { href: `#${screen.name}`, class: screen.after ? "side" : "main" };
  if (screen === now) props["aria-current"] = "page";
  return el("li", null, el("a", props, screen.title()));
}

// Six places of the way stand on the shelf; those that open up later hang below it.
function way(now) {
  const there = screens().filter((screen) => screen.is_there());
  const later = there.filter((screen) => screen.after);
  return el(
    "nav",
    { "aria-label": tr("The way of the ware") },
    el(
      "ul",
      { class: "shelf" },
      there.filter((screen) => !screen.after).map((screen) => place(screen, now)),
    ),
    later.length
      ? el(
          "ul",
          { class: "below" },
          later.map((screen) => place(screen, now)),
        )
      : null,
  );
}

function notices() {
  const words = unreachable || studio.notice;
  return el(
    "div",
    { id: "notice", role: "status", "aria-live": "polite" },
    words
      ? el(
          "p",
          { class: "notice" },
          words,
          unreachable
            ? button(tr("Try again"), start)
            : button(tr("Understood"), () => {
                studio.notice = "";
                changed();
              }),
        )
      : null,
  );
}

function head(now) {
  const title = (studio.order && studio.order.title) || tr("An empty folder");
  return [el("p", { class: "studio" }, el("b", null, "kilnstow"), " · ", title), way(now), notices()];
}

function set_display(key, value) {
  return change(tr("other units"), (order) => {
    order.display = { ...(order.display || order.units), [key]: value };
  });
}

function switch_of(words, key, options, value) {
  return el(
    "fieldset",
    { class: "switch" },
    el("legend", null, words),
    options.map(([to, said]) =>
      button(said, () => set_display(key, to), { "aria-pressed": String(value === to), id: `switch-${key}-${to}` }),
    ),
  );
}

function steps_back() {
  const back = undo_words();
  const forth = redo_words();
  return el(
    "div",
    { class: "steps-back" },
    button(back ? tr("Undo: %s", back) : tr("Undo"), undo, { disabled: !back, id: "undo", title: "Ctrl+Z" }),
    button(forth ? tr("Redo: %s", forth) : tr("Redo"), redo, { disabled: !forth, id: "redo", title: "Ctrl+Shift+Z" }),
  );
}

function order_shown() {
  const names = order_names();
  if (names.length < 2) return studio.order_name;
  return choice(
    names.map((name) => [name, name]),
    studio.order_name,
    choose,
    { "aria-label": tr("Order") },
  );
}

function foot() {
  const units = shown_units();
  return [
    el(
      "div",
      { class: "tools" },
      steps_back(),
      switch_of(
        tr("Sizes"),
        "length",
        [
          ["mm", "mm"],
          ["in", tr("inches")],
        ],
        is_inches() ? "in" : "mm",
      ),
      switch_of(
        tr("Heat"),
        "temperature",
        [
          ["C", "°C"],
          ["F", "°F"],
        ],
        units.temperature,
      ),
      button(tr("Copy everything"), copy_everything, { id: "copy" }),
    ),
    el("p", { class: "kept" }, order_shown(), " · ", tr("plain files in this folder; this page never leaves this machine")),
    el(
      "p",
      { class: "caution" },
      tr("A kiln burns, and stays hot for long. Wiring, gas and vents: local codes and licensed people. All else is decided by who fires."),
    ),
  ];
}

// Drawn anew, the field in hand stays in hand.
function keeping_place(draw) {
  const held = document.activeElement && document.activeElement.id;
  const from = held && document.activeElement.selectionStart;
  draw();
  const again = held && document.getElementById(held);
  if (!again) return;
  again.focus({ preventScroll: true });
  if (typeof from === "number" && again.setSelectionRange) again.setSelectionRange(from, from);
}

// While something is pressed nothing is drawn anew under the finger, or the press would be lost; a piece in hand looks after itself.
let pressed = false;
let late = false;

function press(event) {
  pressed = !event.target.closest(".worked, select, input, textarea");
}

function release() {
  pressed = false;
  if (late) setTimeout(draw, 0);
}

function draw() {
  late = pressed;
  if (pressed) return;
  const now = current();
  document.title = `${now.title()} · kilnstow`;
  keeping_place(() => {
    begin_fields();
    document.getElementById("skip").textContent = tr("To the work");
    document.getElementById("head").replaceChildren(...head(now));
    const screen = document.getElementById("screen");
    screen.className = `screen-${now.name}`;
    screen.replaceChildren(el("h1", null, now.title()), ...[now.show()].flat(Infinity).filter(Boolean));
    document.getElementById("foot").replaceChildren(...foot());
  });
}

function is_typing(target) {
  return target.matches("input:not([type=checkbox]):not([type=radio]), textarea, select");
}

function key_pressed(event) {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z" || is_typing(event.target)) return;
  event.preventDefault();
  if (event.shiftKey) redo();
  else undo();
}

async function start() {
  try {
    await load_folder();
  } catch (refused) {
    if (!(refused instanceof Refused)) throw refused;
    unreachable = refused.message;
    draw();
  }
}

on_reach((words) => {
  if (words === unreachable) return;
  unreachable = words;
  draw();
});
on_change(draw);
window.addEventListener("hashchange", () => {
  draw();
  window.scrollTo(0, 0);
  document.getElementById("screen").focus({ preventScroll: true });
});
window.addEventListener("keydown", key_pressed);
window.addEventListener("pointerdown", press, true);
for (const kind of ["pointerup", "pointercancel"]) window.addEventListener(kind, release, true);
document.addEventListener("visibilitychange", () => {
  if (!document.hidden) look_again().catch(() => {});
});
// A link inside the page never takes the place of a screen's name.
document.getElementById("skip").addEventListener("click", (event) => {
  event.preventDefault();
  document.getElementById("screen").focus();
});
await learn_words();
await start();
