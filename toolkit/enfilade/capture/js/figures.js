// Figures of the record that a line can be bound to, found by a part of their name and put in at the caret.

import { h } from "./dom.js";

const AT_ONCE = 12;

/** Return the choice of figures under a line; `id` is that of its text field. */
export function figures(one, id, tools) {
  const all = tools.local.figures || [];
  const wanted = tools.local.wanted || "";
  const way = tools.local.way || "";
  const form = tools.forms.find((each) => each.words === way);
  const parts = wanted.toLowerCase().split(/\s+/).filter(Boolean);
  const fits = (figure) => !form || !form.fits.length || form.fits.includes(figure.kind);
  const met = all.filter((figure) => fits(figure) && parts.every((part) => `${figure.label} ${figure.shown}`.toLowerCase().includes(part)));
  const find = (_, el) => {
    tools.local.wanted = el.value;
    tools.redraw();
  };
  const write = (_, el) => {
    tools.local.way = el.value;
    tools.redraw();
  };
  const put = (figure) => () => {
    putIn(document.getElementById(id), way ? `${figure.field.slice(0, -1)}, ${way}}` : figure.field);
    tools.local.figuresAt = null;
    tools.redraw();
  };
  const more = met.length > AT_ONCE ? `${AT_ONCE} of ${met.length.toLocaleString("en")} figures; type more of the name to find others.` : met.length ? "" : "The record holds no such figure here.";
  return h(
    "div",
    { id: `${id}-figures`, class: "figures form", key: "figures" },
    h("div", { class: "columns" },
      h("div", { class: "field" }, h("label", { for: `${id}-find` }, "Which figure?"), h("input", { id: `${id}-find`, type: "text", autocomplete: "off", value: wanted, "aria-describedby": `${id}-met`, on: { input: find } })),
      h("div", { class: "field" }, h("label", { for: `${id}-way` }, "Written"), h("select", { id: `${id}-way`, value: way, on: { change: write } }, h("option", { value: "", key: "" }, "as the record has it"), tools.forms.map((each) => h("option", { value: each.words, key: each.words }, each.words))))),
    h("p", { class: "help", id: `${id}-met`, role: "status" }, more || `${met.length} ${met.length === 1 ? "figure" : "figures"}.`),
    h("ul", { class: "plain" }, met.slice(0, AT_ONCE).map((figure) =>
      h("li", { key: figure.field }, h("button", { type: "button", class: "act", on: { click: put(figure) } }, figure.label), h("span", { class: "small" }, figure.shown)))),
  );
}

function putIn(area, field) {
  if (!area) return;
  const { selectionStart: from, selectionEnd: to, value } = area;
  const before = from && !/\s/.test(value[from - 1]) ? " " : "";
  const after = to < value.length && /[\p{L}\p{N}{]/u.test(value[to]) ? " " : "";
  area.focus();
  area.setRangeText(`${before}${field}${after}`, from, to, "end");
  area.dispatchEvent(new Event("input", { bubbles: true }));
}
