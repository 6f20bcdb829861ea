// Outlines of a plan as SVG: circles, and polygons grown by a round. y runs to the back, so it is turned over for the screen.
import { svg } from "./dom.js";

export function points_of(outline) {
  return outline.circle ? [[outline.circle[0], outline.circle[1]]] : outline.polygon;
}

function round_of(outline) {
  return outline.circle ? outline.circle[2] : outline.round || 0;
}

// What an outline fills: {x0, y0, x1, y1}.
export function box_of(outlines) {
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  for (const outline of outlines) {
    const r = round_of(outline);
    for (const [x, y] of points_of(outline)) {
      box.x0 = Math.min(box.x0, x - r);
      box.x1 = Math.max(box.x1, x + r);
      box.y0 = Math.min(box.y0, y - r);
      box.y1 = Math.max(box.y1, y + r);
    }
  }
  return box;
}

function path_of(outline) {
  return `M${outline.polygon.map(([x, y]) => `${x.toFixed(2)},${(-y).toFixed(2)}`).join("L")}Z`;
}

// The round of a polygon is the stroke around it; `grow` mm more make the ink of its edge.
export function shape(outline, kind, grow = 0) {
  if (outline.circle) {
    const [x, y, r] = outline.circle;
    return svg("circle", { class: kind, cx: x, cy: -y, r: r + grow });
  }
  return svg("path", { class: kind, d: path_of(outline), "stroke-width": 2 * ((outline.round || 0) + grow), "stroke-linejoin": "round" });
}

// One silhouette of several parts: the ink of all of them first, then what they fill.
export function silhouette(outlines, kind, ink) {
  return [outlines.map((outline) => shape(outline, "ink", ink)), outlines.map((outline) => shape(outline, kind))];
}

export function text_at(x, y, size, words, kind = "number") {
  return svg(
    "text",
    { class: kind, x: x.toFixed(1), y: (-y + size * 0.36).toFixed(1), "font-size": size.toFixed(1), "text-anchor": "middle" },
    words,
  );
}
