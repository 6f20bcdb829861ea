// A piece in hand follows the pointer, or the keys. While it moves the program is asked, one question at a time.

const STEP = 1;
const LEAP = 10;
const TURN = 5;

// mm of the drawing under the pointer; its y runs down, a plan's to the back.
function place_in(drawing, event) {
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(drawing.getScreenCTM().inverse());
  return { x: at.x, y: -at.y };
}

// Asks again only once the last answer is there, and then for where the hand is by now.
export function one_at_a_time(ask) {
  let asking = false;
  let next = null;
  return async function again(where) {
    next = where;
    if (asking) return;
    asking = true;
    while (next) {
      const now = next;
      next = null;
      await ask(now);
    }
    asking = false;
  };
}

// The piece's drawing may have been made anew when it was taken in hand: it is found by its name.
export function follow_hand(event, piece, look, drop) {
  if (event.button !== 0) return;
  event.preventDefault();
  const find = () => document.getElementById(`piece-${piece.id}-${piece.copy}`);
  const drawing = find().ownerSVGElement;
  const from = place_in(drawing, event);
  const asked = one_at_a_time(look);
  let where = null;
  const moved = (now) => {
    const to = place_in(drawing, now);
    const [dx, dy] = [to.x - from.x, to.y - from.y];
    if (!where && Math.hypot(dx, dy) < 2) return;
    where = { x: piece.x + dx, y: piece.y + dy };
    find().setAttribute("transform", `translate(${dx} ${-dy})`);
    asked(where);
  };
  const end = (act) => () => {
    for (const [kind, listener] of listeners) window.removeEventListener(kind, listener);
    if (where && act) drop({ x: Number(where.x.toFixed(1)), y: Number(where.y.toFixed(1)) });
    else if (find()) find().removeAttribute("transform");
  };
  const listeners = [
    ["pointermove", moved],
    ["pointerup", end(true)],
    ["pointercancel", end(false)],
  ];
  for (const [kind, listener] of listeners) window.addEventListener(kind, listener);
}

// What a key does to a piece: mm to the right, mm to the back, degrees; null for other keys.
export function key_step(event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return null;
  const far = event.shiftKey ? LEAP : STEP;
  return (
    {
      ArrowLeft: [-far, 0, 0],
      ArrowRight: [far, 0, 0],
      ArrowUp: [0, far, 0],
      ArrowDown: [0, -far, 0],
      "[": [0, 0, -TURN],
      "]": [0, 0, TURN],
    }[event.key] || null
  );
}
