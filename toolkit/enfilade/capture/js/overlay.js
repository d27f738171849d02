// What is drawn over the plan for the hand: the outline of what is chosen, and its clear widths.

import { h } from "./dom.js";
import { showSize } from "./lengths.js";

export function outline(points, closed) {
  const text = points.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(" ");
  return h(closed ? "polygon" : "polyline", { class: "chosen", points: text });
}

/** Return the clear widths as dimension lines with figures. */
export function widthsOf(widths, sheetPoint, units) {
  return widths
    .filter(({ mm }) => mm > 0.5)
    .map(({ mm, side, from, to }) => {
      const [[ax, ay], [bx, by]] = [sheetPoint(from), sheetPoint(to)];
      const [mx, my] = [(ax + bx) / 2, (ay + by) / 2];
      const words = showSize(mm, units);
      const room = words.length * 3.4 + 4;
      return h(
        "g",
        { class: "clear", "data-side": side, "data-mm": mm.toFixed(3) },
        h("line", { x1: ax, y1: ay, x2: bx, y2: by }),
        h("circle", { cx: ax, cy: ay, r: 2 }),
        h("circle", { cx: bx, cy: by, r: 2 }),
        h("rect", { x: mx - room, y: my - 8, width: 2 * room, height: 16 }),
        h("text", { x: mx, y: my, dy: "0.34em" }, words),
      );
    });
}
