// Slips for hand-in, four to a page, printed by the browser before anything is handed in.
import { el } from "./dom.js";
import { studio } from "./studio.js";
import { racks } from "./ware.js";
import { tr } from "./words.js";

function line(words) {
  return el("p", { class: "to-fill" }, el("span", null, words));
}

function boxes(words, options) {
  return el(
    "p",
    { class: "to-tick" },
    el("b", null, words),
    " ",
    options.map((one) => el("span", null, "□ ", one)),
  );
}

// What is described in this studio is ticked; what isn't is written, and asked about at hand-in.
function known(words, list) {
  const names = (list || []).map((one) => one.name || one.id);
  return names.length && names.length <= 12 ? [boxes(words, names), line(tr("another"))] : line(words);
}

function slip() {
  const order = studio.order || {};
  return el(
    "section",
    { class: "slip" },
    el("h2", null, order.title || tr("Our studio")),
    line(tr("Whose")),
    line(tr("What, and how many")),
    line(tr("Width at the widest, handle too")),
    line(tr("Height, lid too")),
    boxes(
      tr("It is"),
      racks()
        .slice(1)
        .map(([, words]) => words),
    ),
    known(tr("Clay"), order.clays),
    known(tr("Glaze"), order.glazes),
    line(tr("Wanted by")),
    boxes(tr("If it finds no room:"), [tr("it may wait"), tr("tell me")]),
  );
}

export function print_slips() {
  const paper = el("div", { class: "slips-paper" }, [1, 2, 3, 4].map(slip));
  document.body.append(paper);
  document.body.classList.add("prints-slips");
  window.addEventListener(
    "afterprint",
    () => {
      paper.remove();
      document.body.classList.remove("prints-slips");
    },
    { once: true },
  );
  window.print();
}
