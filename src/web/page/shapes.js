// Pictures of the shapes that ware tables know, seen from the side, and a pot to scale beside a hand.
import { svg } from "./dom.js";
import { tr } from "./words.js";

// Each in a box of 60 x 50, standing on y = 46: the body, then strokes such as handles.
const pictures = {
  mug: ["M14 12h24v34H14z", "M38 18c14-2 14 20 0 18"],
  cup: ["M14 20h28l-4 26H18z", "M41 25c11-1 9 14-2 13"],
  tumbler: ["M17 8h26l-4 38H21z"],
  bowl: ["M8 20h44c-1 14-8 22-16 23v3H24v-3C16 42 9 34 8 20z"],
  plate: ["M4 34h52l-12 9h-6v3H22v-3h-6z"],
  saucer: ["M12 36h36l-8 7h-4v3H24v-3h-4z"],
  vase: ["M24 4h12l-2 10c14 6 13 24 4 32H22C13 38 12 20 26 14z"],
  jar: ["M16 18h28c5 9 4 20-2 28H18c-6-8-7-19-2-28z", "M20 18c0-6 20-6 20 0M28 10h4"],
  teapot: ["M16 22h26c7 9 5 18-3 24H19c-8-6-10-15-3-24z", "M44 32l11-10M14 27C2 26 4 40 16 38M22 22c1-6 13-6 14 0"],
  casserole: ["M10 24h40v18l-4 4H14l-4-4z", "M12 24c2-10 34-10 36 0M26 13h8M10 30H3M50 30h7"],
  tile: ["M6 40h48v6H6z"],
  form: ["M20 46c-8-14 2-18 2-26 0-6 4-12 10-12s9 7 6 13c-4 8 8 13 2 25z"],
};

export const shape_names = () => [
  ["mug", tr("mug")],
  ["cup", tr("cup")],
  ["tumbler", tr("tumbler")],
  ["bowl", tr("bowl")],
  ["plate", tr("plate")],
  ["saucer", tr("saucer")],
  ["vase", tr("vase")],
  ["jar", tr("jar")],
  ["teapot", tr("teapot")],
  ["casserole", tr("casserole")],
  ["tile", tr("tile")],
  ["form", tr("a form")],
];

export function picture(shape) {
  const [body, strokes] = pictures[shape] || pictures.form;
  return svg(
    "svg",
    { class: "picture", viewBox: "0 0 60 50", "aria-hidden": "true" },
    strokes ? svg("path", { class: "stroke", d: strokes }) : null,
    svg("path", { class: "clay", d: body }),
  );
}

// Which picture a row of the ware stands for: by its words, else by how wide and tall it is.
export function shape_of(row) {
  const words = `${row.shape || ""} ${row.family || ""} ${row.name || ""} ${row.id || ""}`.toLowerCase();
  const found = Object.keys(pictures).find((name) => words.includes(name));
  if (found) return found;
  if (row.height_mm < row.width_mm / 4) return "plate";
  return row.height_mm < row.width_mm * 0.7 ? "bowl" : row.height_mm > 250 ? "form" : "tumbler";
}

export function picture_of(row) {
  return picture(shape_of(row));
}

// A flat hand 185 mm long, wrist to fingertip: an adult's, common practice, no source.
const HAND = 185;
const hand_path =
  "M30 185C18 150 10 135 4 112c-3-10 6-14 11-5l12 22-2-90c0-11 13-11 14 0l3 50 4-72c1-11 14-10 14 1v72l8-62c2-10 14-8 13 2l-5 68 12-36c4-9 15-5 12 5-9 38-13 60-18 78l-2 40z";

// The sizes are those that the program understood; the picture is stretched to them.
export function beside_hand(row, shape) {
  const [body, strokes] = pictures[shape] || pictures.form;
  const [x0, y0, width, height] = extents[shape] || extents.form;
  const tall = Math.max(HAND, row.height_mm) + 20;
  const across = row.width_mm + 170;
  const to_scale = `translate(8 ${tall - 8}) scale(${row.width_mm / width} ${row.height_mm / height}) translate(${-x0} ${-(y0 + height)})`;
  return svg(
    "svg",
    { class: "drawing hand", viewBox: `0 0 ${across} ${tall}`, role: "img", "aria-label": tr("the piece to scale beside a hand") },
    svg("path", { class: "skin", d: hand_path, transform: `translate(${row.width_mm + 44} ${tall - 8 - HAND})` }),
    svg(
      "g",
      { transform: to_scale },
      strokes ? svg("path", { class: "stroke scaled", d: strokes }) : null,
      svg("path", { class: "clay scaled", d: body }),
    ),
    svg("path", { class: "ground-line", d: `M0 ${tall - 8}H${across}` }),
  );
}

// Where the bodies of the pictures begin and how large they are: the size typed is that of the body.
const extents = {
  mug: [14, 12, 24, 34],
  cup: [14, 20, 28, 26],
  tumbler: [17, 8, 26, 38],
  bowl: [8, 20, 44, 26],
  plate: [4, 34, 52, 12],
  saucer: [12, 36, 36, 10],
  vase: [15, 4, 30, 42],
  jar: [13, 18, 34, 28],
  teapot: [13, 22, 33, 24],
  casserole: [10, 24, 40, 22],
  tile: [6, 40, 48, 6],
  form: [17, 8, 25, 38],
};
