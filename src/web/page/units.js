// Sizes and heat in the reader's units. What is stored is what was typed; what the program answers is in mm and °C.
import { studio } from "./studio.js";
import { tr } from "./words.js";

export function shown_units() {
  const order = studio.order || {};
  const kept = order.display || order.units || {};
  return { length: kept.length || "mm", temperature: kept.temperature || "C", mass: kept.mass || "kg" };
}

export function is_inches() {
  return shown_units().length === "in";
}

// Inches as a ruler has them, to the sixteenth.
function ruler(mm) {
  const sixteenths = Math.round((Math.abs(mm) / 25.4) * 16);
  const whole = Math.floor(sixteenths / 16);
  let over = sixteenths % 16;
  let under = 16;
  while (over && over % 2 === 0) {
    over /= 2;
    under /= 2;
  }
  const fraction = over ? `${over}/${under}` : "";
  const sign = mm < 0 && sixteenths ? "−" : "";
  return sign + ([whole || (fraction ? "" : "0"), fraction].filter(Boolean).join(" ") || "0");
}

// A size as it was typed, in mm; a bare number has the order's own unit.
export function mm_of(typed) {
  const found = /([\d.,]+)(?:\s+(\d+)\/(\d+))?\s*(mm|cm|in)?/.exec(String(typed)) || [];
  const number = Number((found[1] || "0").replace(",", ".")) + (found[2] ? found[2] / found[3] : 0);
  return number * { mm: 1, cm: 10, in: 25.4 }[found[4] || ((studio.order || {}).units || {}).length || "mm"];
}

// For a field: what was typed, told in the page's unit where that is another. What is kept stays as it was typed.
export function in_page_units(typed) {
  const text = String(typed ?? "").trim();
  const is_other = is_inches() ? /(mm|cm)$/.test(text) : /in$/.test(text);
  return is_other ? length(mm_of(text)) : text;
}

export function length(mm) {
  if (mm === null || mm === undefined) return "–";
  return is_inches() ? `${ruler(mm)} in` : `${mm < 10 && mm % 1 ? mm.toFixed(1) : Math.round(mm)} mm`;
}

// A millimetre matters where things touch.
export function fine_length(mm) {
  return is_inches() ? `${(mm / 25.4).toFixed(2)} in` : `${mm.toFixed(1)} mm`;
}

export function heat(celsius) {
  if (celsius === null || celsius === undefined) return "–";
  return shown_units().temperature === "F" ? `${Math.round(celsius * 1.8 + 32)} °F` : `${Math.round(celsius)} °C`;
}

export function mass(kg) {
  return shown_units().mass === "lb" || is_inches() ? `${(kg / 0.45359237).toFixed(1)} lb` : `${kg.toFixed(1)} kg`;
}

export function hours(h) {
  if (h === null || h === undefined) return "–";
  const minutes = Math.round(h * 60);
  return tr("%s h %s", Math.floor(minutes / 60), String(minutes % 60).padStart(2, "0"));
}

// What was typed, with the page's unit behind a bare number: "26" becomes "26 mm".
export function with_unit(typed) {
  const text = String(typed).trim();
  return /^[\d.,/ -]+$/.test(text) && text ? `${text} ${shown_units().length}` : text;
}

export function money(minor, currency, digits = 2) {
  if (minor === null || minor === undefined) return "–";
  const amount = minor / 10 ** digits;
  return `${amount.toFixed(digits)} ${currency || ""}`.trim();
}
