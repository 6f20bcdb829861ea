// A kiln from its numbers: in section, from above, and its shelves and posts heaped beside it.
import { svg } from "./dom.js";
import { length } from "./units.js";
import { tr } from "./words.js";

const WALL = 64;

function rect(kind, x, y, width, height) {
  return svg("rect", { class: kind, x, y, width: Math.max(width, 0.1), height: Math.max(height, 0.1) });
}

function words_at(x, y, words, more = {}) {
  return svg("text", { class: "size", x, y, "font-size": 34, "text-anchor": "middle", ...more }, words);
}

// Cut through the middle: walls, floor, lid or door, and the sizes that were typed.
function section({ width, height, loading }) {
  const lid = loading === "top" ? rect("lid", 0, 0, width + 2 * WALL, WALL - 6) : rect("wall", 0, 0, width + 2 * WALL, WALL);
  return svg(
    "g",
    null,
    lid,
    rect("wall", 0, WALL, WALL, height + WALL),
    rect("wall", WALL + width, WALL, WALL, height + WALL),
    rect("wall", 0, WALL + height, width + 2 * WALL, WALL),
    rect("chamber", WALL, WALL, width, height),
    svg("path", {
      class: "size-line",
      d: `M${WALL} ${WALL + height * 0.5}H${WALL + width}M${WALL + width * 0.5} ${WALL}V${WALL + height}`,
    }),
    words_at(WALL + width * 0.74, WALL + height * 0.5 - 12, length(width)),
    words_at(WALL + width * 0.5 + 12, WALL + height * 0.22, length(height), { "text-anchor": "start" }),
  );
}

// A regular chamber is drawn with a flat at the front, as wide over the flats as was typed.
function from_above({ width, deep, sides, loading }) {
  if (loading === "front" || sides === 4) return rect("chamber", -width / 2, -deep / 2, width, loading === "front" || deep ? deep : width);
  if (!sides) return svg("circle", { class: "chamber", r: width / 2 });
  const radius = width / 2 / Math.cos(Math.PI / sides);
  const corner = (n) => Math.PI / 2 + (Math.PI * (2 * n + 1)) / sides;
  const points = Array.from(
    { length: sides },
    (none, n) => `${(radius * Math.cos(corner(n))).toFixed(1)},${(radius * Math.sin(corner(n))).toFixed(1)}`,
  );
  return svg("polygon", { class: "chamber", points: points.join(" ") });
}

export function kiln_drawing(sizes) {
  const width = sizes.width || 1;
  const height = sizes.height || 1;
  const deep = Math.max(sizes.deep || width, width * 1.1);
  const across = (width + 2 * WALL) * 2 + 60;
  const tall = Math.max(height + 3 * WALL, deep + 80);
  return svg(
    "svg",
    {
      class: "drawing kiln",
      viewBox: `-10 -10 ${across + 20} ${tall + 20}`,
      role: "img",
      "aria-label": tr("The kiln in section and from above: %s wide, %s high inside", length(width), length(height)),
    },
    section({ ...sizes, width, height }),
    svg(
      "g",
      { transform: `translate(${(width + 2 * WALL) * 1.5 + 60} ${Math.max(height / 2 + WALL, deep / 2 + 10)})` },
      from_above({ ...sizes, width }),
      words_at(0, (sizes.loading === "front" ? deep : width) / 2 + 44, tr("you stand here")),
    ),
  );
}

// Shelves lie in one heap; posts of a height stand side by side.
export function heaps_drawing(shelves, width, posts) {
  const tallest = Math.max(60, shelves * 20, ...posts.map((post) => post.height));
  const parts = [];
  let x = 0;
  for (let n = 0; n < shelves; n++) parts.push(rect("shelf", 0, tallest - 18 * (n + 1), width * 0.9, 15));
  x = width * 0.9 + 30;
  for (const post of posts) {
    const shown = Math.min(post.count, 12);
    for (let n = 0; n < shown; n++) parts.push(rect("post-heap", x + n * 14, tallest - post.height, 11, post.height));
    parts.push(words_at(x, tallest + 34, `${post.count} × ${length(post.height)}`, { "font-size": 28, "text-anchor": "start" }));
    x += Math.max(shown * 14, 190) + 24;
  }
  parts.push(words_at(0, tallest + 34, `${shelves} ×`, { "font-size": 28, "text-anchor": "start" }));
  return svg(
    "svg",
    {
      class: "drawing heaps-drawn",
      viewBox: `-10 -10 ${x + 20} ${tallest + 60}`,
      role: "img",
      "aria-label": tr(
        "%s shelves and %s posts",
        shelves,
        posts.reduce((sum, post) => sum + post.count, 0),
      ),
    },
    parts,
  );
}
