// What the program could not use, and what it made of the rest: in place, all at once, in its own words.
import { el } from "./dom.js";
import { tr } from "./words.js";

// Whoever typed into the page knows no file of a try: of where it is found, the line of a pasted table is all that helps.
function in_place(line) {
  return line.replace(/^(\.\/)?try\.json:\d+: /, "").replace(/^(\.\/)?pasted\.csv:(\d+)(:\d+)?: /, (all, here, row) => tr("Line %s: ", row));
}

export function faults(errors, warnings = []) {
  return [
    errors && errors.length
      ? el(
          "section",
          { class: "faults", role: "alert" },
          el("h2", null, tr("This can't be used yet")),
          el(
            "ul",
            null,
            errors.map((line) => el("li", null, in_place(line))),
          ),
        )
      : null,
    warnings && warnings.length
      ? el(
          "details",
          { class: "warnings" },
          el("summary", null, tr("Worth a look: %s", warnings.length)),
          el(
            "ul",
            null,
            warnings.map((line) => el("li", null, in_place(line))),
          ),
        )
      : null,
  ];
}

// Asks for something that takes a while: says so at once, and shows the answer when it is there.
// Answers are kept under their key as long as the page is open.
const answers = new Map();

export function later(key, ask, draw) {
  const place = el("div", { class: "later", "aria-busy": "true" }, el("p", { role: "status" }, tr("One moment…")));
  const fill = (answer) => {
    place.removeAttribute("aria-busy");
    place.replaceChildren(...[draw(answer)].flat(Infinity).filter(Boolean));
  };
  if (!answers.has(key)) {
    const asked = ask().catch((refused) => {
      answers.delete(key);
      return { errors: [refused.message], warnings: [], result: null };
    });
    answers.set(key, asked);
    asked.then((answer) => answers.get(key) === asked && answers.set(key, answer));
  }
  const known = answers.get(key);
  if (known instanceof Promise) known.then(fill);
  else fill(known);
  return place;
}

// The answer of a command, or what it found wrong.
export function answered(draw) {
  return (answer) => (answer.result ? [draw(answer.result, answer), faults([], answer.warnings)] : faults(answer.errors, answer.warnings));
}

// What is half filled in outlives a reload.
export function draft(name, fresh) {
  const key = `kilnstow-draft-${name}`;
  let kept = fresh;
  try {
    kept = { ...fresh, ...JSON.parse(sessionStorage.getItem(key)) };
  } catch (unreadable) {
    sessionStorage.removeItem(key);
  }
  return {
    ...kept,
    keep(now) {
      sessionStorage.setItem(key, JSON.stringify(now));
    },
    drop() {
      sessionStorage.removeItem(key);
    },
  };
}
