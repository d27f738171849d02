// The walls of a survey as they are walked so far.

import { h } from "./dom.js";

const WIDE = 480;
const MARGIN = 46;
const TALLEST = 420;

/** Return a drawing of the walk: its walls with their lengths, its corners by number, the gap as a broken line. */
export function walkDrawing(walk, words, tools) {
  const points = walk.points;
  if (points.length < 2) return null;
  const xs = points.map((point) => point[0]);
  const ys = points.map((point) => point[1]);
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = Math.min((WIDE - 2 * MARGIN) / Math.max(right - left, 1), (TALLEST - 2 * MARGIN) / Math.max(high - low, 1));
  const tall = (high - low) * scale + 2 * MARGIN;
  const shift = (WIDE - (right - left) * scale) / 2;
  const at = ([x, y]) => [shift + (x - left) * scale, MARGIN + (high - y) * scale];
  const drawn = points.map(at);
  const path = drawn.map(([x, y], i) => `${i ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`).join("") + (walk.closes ? "Z" : "");
  const ends = walk.closes ? [...drawn, drawn[0]] : drawn;
  const middle = drawn.reduce(([a, b], [x, y]) => [a + x / drawn.length, b + y / drawn.length], [0, 0]);
  const [from, to] = walk.gap.map(at);
  return h(
    "svg",
    { class: "walk", viewBox: `0 0 ${WIDE} ${Math.ceil(tall)}`, role: "img", "aria-label": words, id: tools.id("walk") },
    h("path", { d: path, class: walk.closes ? "floor" : "walls" }),
    from ? h("path", { d: `M${from.join(" ")}L${to.join(" ")}`, class: "gap" }) : null,
    walk.walls.map((wall, i) => (ends[i + 1] ? label(ends[i], ends[i + 1], middle, wall.drawn || wall.reads) : null)),
    drawn.slice(0, walk.walls.length).map((point, i) => corner(point, ends[i - 1] || (walk.closes ? drawn[drawn.length - 1] : null), ends[i + 1], i + 1)),
  );
}

function label([ax, ay], [bx, by], [mx, my], words) {
  const [x, y] = [(ax + bx) / 2, (ay + by) / 2];
  const long = Math.hypot(bx - ax, by - ay);
  if (long < 26) return null; // too short to carry its length; the table has it
  let [nx, ny] = [(by - ay) / long, (ax - bx) / long];
  if ((x - mx) * nx + (y - my) * ny < 0) [nx, ny] = [-nx, -ny];
  let turn = (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;
  if (turn > 89) turn -= 180;
  if (turn < -91) turn += 180; // upright lengths are read from the right
  const [tx, ty] = [x + nx * 14, y + ny * 14];
  const place = { transform: `translate(${tx.toFixed(1)} ${ty.toFixed(1)}) rotate(${turn.toFixed(1)})`, class: "length" };
  return h("text", { ...place, "text-anchor": "middle", dy: "0.35em" }, words);
}

// A corner's number stands between its two walls, where neither of them runs.
function corner([x, y], before, after, number) {
  const way = (to) => {
    const long = to ? Math.hypot(to[0] - x, to[1] - y) : 0;
    return long ? [(to[0] - x) / long, (to[1] - y) / long] : [0, 0];
  };
  const [ax, ay] = way(before);
  const [bx, by] = way(after);
  let [dx, dy] = [ax + bx, ay + by];
  if (!before || Math.hypot(dx, dy) < 0.2) [dx, dy] = [-by, bx];
  const long = Math.hypot(dx, dy) || 1;
  return h("text", { x: (x + (dx / long) * 15).toFixed(1), y: (y + (dy / long) * 15).toFixed(1), class: "corner", "text-anchor": "middle", dy: "0.35em" }, String(number));
}
