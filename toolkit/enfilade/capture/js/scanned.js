// A picture on which points are marked, by hand or with a cross that the arrow keys move.

import { h } from "./dom.js";

const KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * Return the picture with what is marked on it.
 *
 * `marks` are points in pixels of the whole picture; `mark` hears of a new one; `line` joins them; `outline` is the room
 * as it will be drawn; `words` say what the picture is.
 */
export function scannedPlan(state, tools, { marks, mark, line, outline, words }) {
  const { width, height } = state.plan;
  const local = tools.local;
  local.cross ??= [Math.round(width / 2), Math.round(height / 2)];
  const [cx, cy] = local.cross;
  const unit = Math.max(width, height) / 100;
  const clicked = (event, el) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(el.getScreenCTM().inverse());
    if (at.x < 0 || at.y < 0 || at.x > width || at.y > height) return; // beside the picture
    local.cross = [at.x, at.y].map((one) => Math.round(one * 10) / 10);
    mark(local.cross);
  };
  const put = ([x, y]) => {
    local.cross = [Math.min(Math.max(x, 0), width), Math.min(Math.max(y, 0), height)];
    tools.redraw();
    tools.say(`${Math.round(local.cross[0])} across, ${Math.round(local.cross[1])} down`);
  };
  const pressed = (event) => {
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      return mark([...local.cross]);
    }
    if (!(event.key in KEYS)) return undefined;
    event.preventDefault();
    const step = event.shiftKey ? 1 : Math.max(1, Math.round(unit));
    const [dx, dy] = KEYS[event.key];
    return put([cx + dx * step, cy + dy * step]);
  };
  const source = local.picture && local.picture.plan === state.plan.id ? local.picture.source : "";
  const path = (points, closed) => points.map(([x, y], i) => `${i ? "L" : "M"}${x} ${y}`).join("") + (closed ? "Z" : "");
  return h(
    "div",
    { key: "plan" },
    h(
      "svg",
      {
        id: tools.id("cross"),
        class: "scanned",
        viewBox: `0 0 ${width} ${height}`,
        tabindex: "0",
        role: "application",
        "aria-roledescription": "plan",
        "aria-label": `${words}. ${marks.length} marked.`,
        "aria-describedby": tools.id("cross-help"),
        on: { click: clicked, keydown: pressed },
      },
      source ? h("image", { key: "picture", href: source, width, height }) : h("text", { key: "waiting", x: width / 2, y: height / 2, "text-anchor": "middle", "font-size": unit * 4 }, "The picture is on its way"),
      (state.drawn || []).map((room, i) => h("path", { key: `drawn ${i}`, d: path(room, true), class: "drawn" })),
      outline ? h("path", { key: "floor", d: path(outline, true), class: "floor" }) : null,
      line || marks.length === 2 ? h("path", { key: "walls", d: path(marks, false), class: "walls" }) : null,
      marks.map(([x, y], i) => h("g", { key: `mark ${i}`, class: "mark" }, h("circle", { cx: x, cy: y, r: unit * 0.7 }), h("text", { x: x + unit * 1.2, y: y - unit * 1.2, "font-size": unit * 2 }, String(i + 1)))),
      h("path", { key: "cross", class: "cross", d: `M${cx - unit * 2} ${cy}H${cx + unit * 2}M${cx} ${cy - unit * 2}V${cy + unit * 2}` }),
    ),
    h("p", { class: "help", id: tools.id("cross-help") }, "Click, or move the cross with the arrow keys, one pixel at a time with Shift, and mark with Enter."),
    h(
      "fieldset",
      { class: "pixels" },
      h("legend", { class: "unseen" }, "Where the cross stands, in pixels"),
      pixel(tools, "across", cx, width, (value) => put([value, local.cross[1]])),
      pixel(tools, "down", cy, height, (value) => put([local.cross[0], value])),
      h("button", { type: "button", class: "act", on: { click: () => mark([...local.cross]) } }, "Mark it here"),
    ),
  );
}

function pixel(tools, name, value, most, put) {
  const id = tools.id(`pixel-${name}`);
  const change = (_, el) => Number.isFinite(el.valueAsNumber) && put(el.valueAsNumber);
  return h("label", { for: id, key: name }, `Pixels ${name} `, h("input", { id, type: "number", min: 0, max: most, step: "any", value: String(Math.round(value * 10) / 10), on: { change } }));
}
