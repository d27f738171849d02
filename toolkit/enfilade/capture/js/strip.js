// A wall and the run on it as seen from inside the room, to scale.

import { h } from "./dom.js";

const WIDE = 640;
const TALLEST = 230;
const FOOT = 22;

/** Return the drawing of a strip: openings, what stands there, the run by its numbers, what is left over. */
export function stripDrawing(strip, words, tools) {
  const past = Math.max(strip.long, ...strip.items.map((one) => one.left + one.width));
  const before = Math.min(0, ...strip.items.map((one) => one.left));
  const scale = Math.min(WIDE / (past - before), TALLEST / strip.high);
  const [wide, tall] = [(past - before) * scale + 2, strip.high * scale + FOOT + 2];
  const x = (mm) => 1 + (mm - before) * scale;
  const y = (mm) => 1 + (strip.high - mm) * scale;
  const box = (one, name) =>
    h("rect", { class: name, x: x(one.left), y: y(one.top), width: Math.max(one.width * scale, 0.5), height: Math.max((one.top - one.bottom) * scale, 0.5) });
  const hatch = tools.id("hatch");
  const part = (key, kids) => h("g", { key }, kids);
  return h(
    "svg",
    { class: "strip", viewBox: `0 0 ${wide.toFixed(1)} ${tall.toFixed(1)}`, style: `max-width:${Math.ceil(wide)}px`, role: "img", "aria-label": words },
    h("defs", { key: "defs" }, h("pattern", { id: hatch, width: 6, height: 6, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" }, h("line", { x1: 0, y1: 0, x2: 0, y2: 6, class: "hatch" }))),
    h("rect", { key: "wall", class: "wall", x: x(0), y: 1, width: strip.long * scale, height: strip.high * scale }),
    part("openings", strip.openings.map((one, i) => h("g", { key: i }, box(one, "opening"), label(one, one.name, x, y, scale)))),
    part("standing", strip.standing.map((one, i) => h("g", { key: i }, box(one, "standing")))),
    part("left", strip.left_over ? h("rect", { class: "left-over", style: `fill:url(#${hatch})`, x: x(strip.left_over[0]), y: y(strip.high / 3), width: (strip.left_over[1] - strip.left_over[0]) * scale, height: (strip.high / 3) * scale }) : []),
    part("items", strip.items.map((one, i) => h("g", { key: i }, box(one, "item"), label(one, String(one.no), x, y, scale)))),
    part("ends", ends(strip, x, tall)),
  );
}

function label(one, words, x, y, scale) {
  if (one.width * scale < words.length * 6.5 + 4) return null; // the table has it
  const middle = (Math.min(one.top, 1e5) + one.bottom) / 2;
  return h("text", { x: x(one.left + one.width / 2), y: y(middle), "text-anchor": "middle", dy: "0.35em" }, words);
}

// The stretch as a dimension line under the floor.
function ends(strip, x, tall) {
  const [from, to] = strip.stretch.map(x);
  const foot = tall - FOOT / 2;
  const tick = (at) => h("line", { class: "extent", x1: at, y1: foot - 5, x2: at, y2: foot + 5, key: at });
  return [h("line", { class: "extent", x1: from, y1: foot, x2: to, y2: foot, key: "extent" }), tick(from), tick(to)];
}
