// Elements of the page, made without markup in strings, so that no text can become an element.

const SVG = "http://www.w3.org/2000/svg";

function put(element, props, children) {
  for (const [name, value] of Object.entries(props || {})) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value" && value !== undefined) element.value = value;
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, value);
  }
  element.append(...children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false));
  // a choice can be shown only once its options are there
  if (props && "value" in props && element.localName === "select") element.value = props.value;
  return element;
}

export function el(tag, props, ...children) {
  return put(document.createElement(tag), props, children);
}

export function svg(tag, props, ...children) {
  return put(document.createElementNS(SVG, tag), props, children);
}

// What a person can do: a button with its words.
export function button(words, act, props = {}) {
  return el("button", { type: "button", onclick: act, ...props }, words);
}

let fields = 0;

// A field under its name; `said` stands below it: a unit, a remedy.
export function field(words, input, said) {
  input.id = input.id || `field-${++fields}`;
  const note = said ? el("small", { id: `${input.id}-said` }, said) : null;
  if (note) input.setAttribute("aria-describedby", note.id);
  return el("p", { class: "field" }, el("label", { for: input.id }, words), input, note);
}

export function choice(options, value, change, props = {}) {
  return el(
    "select",
    { ...props, value, onchange: (event) => change(event.target.value) },
    options.map(([key, words]) => el("option", { value: key }, words)),
  );
}

// Numbers of fields begin anew on each screen, so that a field keeps its name when it is drawn again.
export function begin_fields() {
  fields = 0;
}
