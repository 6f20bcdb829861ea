// Drawings of a load: a level from above, and all of it from the side. Ink on white paper, as on the sheets.
import { el, svg } from "./dom.js";
import { box_of, shape, silhouette, text_at } from "./outline.js";
import { length } from "./units.js";
import { tr, tr_count } from "./words.js";

const FILLS = 4;

// Whose a piece is shows as a tint and a letter, the same in all drawings of a plan.
export function owners_of(plan) {
  const ids = (plan.order.members || []).map((member) => member.id);
  for (const load of plan.loads)
    for (const level of load.levels) for (const piece of level.pieces) if (piece.owner && !ids.includes(piece.owner)) ids.push(piece.owner);
  return ids;
}

export function initials(plan, owner) {
  const member = (plan.order.members || []).find((one) => one.id === owner);
  return member && member.initials ? member.initials : owner.slice(0, 2);
}

export function name_of(plan, id) {
  const piece = plan.order.ware.find((one) => one.id === id);
  return (piece && piece.name) || id;
}

export function pieces_count(level) {
  return level.pieces.filter((piece) => piece.role !== "cones").length;
}

export function fill_of(plan, piece) {
  if (piece.role === "cones") return "body cones";
  const owner = owners_of(plan).indexOf(piece.owner);
  return `body fill-${owner < 0 ? 0 : owner % FILLS}`;
}

// Pieces are numbered in the order of loading, cone packs by letters of their own.
export function marks_of(load, index) {
  const marks = new Map();
  let numbers = 0;
  let cones = 0;
  for (const step of load.steps) {
    if (step.ref.level !== index + 1 || !step.ref.id) continue;
    const piece = load.levels[index].pieces[step.ref.item - 1];
    marks.set(piece, piece.role === "cones" ? `C${++cones}` : String(++numbers));
  }
  return marks;
}

function level_ground(load, level) {
  const chamber = load.chamber.parts.map((part) => part.outline);
  return svg(
    "g",
    { class: "ground" },
    chamber.map((outline) => shape(outline, "chamber")),
    level.shelves.map((shelf) => shape(shelf.outline, "shelf")),
    load.keep_outs.filter((box) => box.from < level.z + level.gap && box.to > level.z).map((box) => shape(box.outline, "keep-out")),
    load.posts.filter((post) => Math.abs(post.from - level.z) < 1).map((post) => shape(post.outline, "post")),
  );
}

export function piece_key(piece) {
  return `${piece.id}-${piece.copy}`;
}

export function piece_drawing(plan, piece, mark, more = {}) {
  const box = box_of(piece.parts.map((part) => part.outline));
  const size = Math.max(16, Math.min(30, (box.x1 - box.x0) / 2.4));
  const who = piece.owner ? initials(plan, piece.owner) : "";
  return svg(
    "g",
    { "data-piece": piece_key(piece), ...more },
    svg("title", null, `${mark} ${name_of(plan, piece.id)}${who ? `, ${who}` : ""}`),
    silhouette(
      piece.parts.map((part) => part.outline),
      fill_of(plan, piece),
      1.6,
    ),
    text_at(piece.x, piece.y + (who ? size * 0.28 : 0), size, mark),
    who ? text_at(piece.x, piece.y - size * 0.62, size * 0.6, who, "who") : null,
  );
}

export function view_box(load, margin = 14) {
  const box = box_of(load.chamber.parts.map((part) => part.outline));
  return {
    x: box.x0 - margin,
    y: -box.y1 - margin,
    width: box.x1 - box.x0 + 2 * margin,
    height: box.y1 - box.y0 + 2 * margin + 22,
    front: -box.y0 + 18,
  };
}

export function level_words(level) {
  return tr_count(pieces_count(level), "%s piece", "%s pieces");
}

export function level_title(level) {
  return tr("Level %s", level.name);
}

// One level from above; the operator stands below the drawing.
export function level_drawing(plan, load, index, pieces) {
  const level = load.levels[index];
  const view = view_box(load);
  const marks = marks_of(load, index);
  return svg(
    "svg",
    {
      class: pieces ? "drawing level worked" : "drawing level",
      viewBox: `${view.x} ${view.y} ${view.width} ${view.height}`,
      role: pieces ? "group" : "img",
      "aria-label": tr("%s from above: %s. The list says the same in words.", level_title(level), level_words(level)),
    },
    level_ground(load, level),
    pieces || level.pieces.map((piece) => piece_drawing(plan, piece, marks.get(piece) || "")),
    svg(
      "text",
      { class: "front", x: view.x + view.width / 2, y: view.front, "font-size": 15, "text-anchor": "middle" },
      tr("you stand here"),
    ),
  );
}

function slab(kind, outline, from, to, top) {
  const box = box_of([outline]);
  return svg("rect", { class: kind, x: box.x0, y: top - to, width: box.x1 - box.x0, height: Math.max(to - from, 0.5) });
}

function side_pieces(plan, load, top) {
  return load.levels.map((level) =>
    [...level.pieces]
      .sort((a, b) => b.y - a.y)
      .map((piece) =>
        svg(
          "g",
          null,
          svg("title", null, name_of(plan, piece.id)),
          piece.parts.map((part) => slab(fill_of(plan, piece), part.outline, level.z + part.from, level.z + part.to, top)),
        ),
      ),
  );
}

// Posts at the back stand behind the ware.
function side_posts(load, top, at_back) {
  return load.posts
    .filter((post) => box_of([post.outline]).y0 > 0 === at_back)
    .map((post) => slab("post", post.outline, post.from, post.to, top));
}

function side_names(load, right, top) {
  return load.levels.map((level) =>
    svg("text", { class: "level-name", x: right + 10, y: top - level.z - level.gap / 2 + 6, "font-size": 20 }, level.name),
  );
}

// The stack seen from where the operator stands.
export function side_drawing(plan, load) {
  const top = load.chamber.height;
  const walls = load.chamber.parts.map((part) => slab("chamber", part.outline, part.from, part.to, top));
  const box = box_of(load.chamber.parts.map((part) => part.outline));
  return svg(
    "svg",
    {
      class: "drawing side",
      viewBox: `${box.x0 - 8} -8 ${box.x1 - box.x0 + 60} ${top + 16}`,
      role: "img",
      "aria-label": tr("The load from the side: %s levels in a chamber %s high", load.levels.length, length(top)),
    },
    walls,
    side_posts(load, top, true),
    side_pieces(plan, load, top),
    side_posts(load, top, false),
    load.levels.map((level) => level.shelves.map((shelf) => slab("shelf", shelf.outline, level.z - shelf.thickness, level.z, top))),
    side_names(load, box.x1, top),
  );
}

export function figure(drawing, ...words) {
  return el("figure", null, drawing, words.length ? el("figcaption", null, words) : null);
}
