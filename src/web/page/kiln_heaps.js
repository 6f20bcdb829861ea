// Shelves and posts at hand as heaps, counted up and down.
import { button, el } from "./dom.js";
import { in_page_units, length, mm_of, shown_units, with_unit } from "./units.js";
import { tr } from "./words.js";

const usual = ["13 mm", "25 mm", "38 mm", "51 mm", "76 mm", "102 mm", "127 mm", "152 mm", "203 mm"];

function heap(words, id, count, set, keep) {
  return el(
    "li",
    { class: "heap" },
    el("span", null, words),
    el(
      "span",
      { class: "count" },
      button(
        "−",
        () => {
          set(Math.max(0, count - 1));
          keep();
        },
        { "aria-label": tr("one fewer: %s", words), id: `fewer-${id}` },
      ),
      el("b", null, String(count)),
      button(
        "+",
        () => {
          set(count + 1);
          keep();
        },
        { "aria-label": tr("one more: %s", words), id: `more-${id}` },
      ),
    ),
  );
}

// `now` is the kiln as it is typed; `keep` is told after each change.
export function heaps(now, keep) {
  const heights = [...new Set([...Object.keys(now.posts), ...usual])].sort((a, b) => mm_of(a) - mm_of(b));
  const has = heights.filter((height) => now.posts[height] !== undefined);
  const others = heights.filter((height) => now.posts[height] === undefined);
  return [
    el(
      "ul",
      { class: "heaps" },
      heap(
        tr("shelves"),
        "shelf",
        now.shelves,
        (count) => {
          now.shelves = count;
        },
        keep,
      ),
      has.map((height) =>
        heap(
          tr("posts of %s", length(mm_of(height))),
          `post-${Math.round(mm_of(height))}`,
          now.posts[height],
          (count) => {
            now.posts[height] = count;
          },
          keep,
        ),
      ),
    ),
    el(
      "p",
      { class: "field beside" },
      el("label", { for: "post-new" }, tr("Posts of another height")),
      el("input", { type: "text", id: "post-new", list: "post-heights", placeholder: shown_units().length, autocomplete: "off" }),
      el(
        "datalist",
        { id: "post-heights" },
        others.map((value) => el("option", { value: in_page_units(value) })),
      ),
      button(
        tr("Lay them out"),
        () => {
          const height = document.getElementById("post-new").value;
          if (height.trim()) {
            now.posts[with_unit(height)] = 3;
            keep();
          }
        },
        { id: "post-add" },
      ),
    ),
  ];
}
