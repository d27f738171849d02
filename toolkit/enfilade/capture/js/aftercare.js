import { h } from "./dom.js";
import { field, fields } from "./fields.js";

/** What is handed over: what is left to put right, room by room; what is done again and again; who built it. */
export function view(state, tools) {
  const own = { ...tools, lists: state.lists };
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "What is handed over"),
    h("h3", {}, "Left to put right"),
    list(state.points, own),
    h("h3", {}, "Care and service"),
    list(state.care.filter((one) => one.noted || one.open), own),
    folded(state.care.filter((one) => !one.noted && !one.open), own),
    field(state.trades, null, own),
  );
}

function list(ones, tools) {
  if (!ones.length) return h("p", { class: "small" }, "Nothing is recorded yet.");
  return h("ul", { class: "plain handed" }, ones.map((one) => entry(one, tools)));
}

function folded(ones, tools) {
  return ones.length ? h("details", { key: "not noted" }, h("summary", {}, `Nothing noted yet (${ones.length})`), list(ones, tools)) : null;
}

function entry(one, tools) {
  const id = tools.id(one.key);
  const toggle = () => tools.send({ do: "open care", key: one.key, open: !one.open }, [], true);
  return h(
    "li",
    { key: one.key },
    h("button", { type: "button", class: "act", "aria-expanded": String(one.open), "aria-controls": one.open ? id : null, on: { click: toggle } }, one.name),
    h("span", { class: "small" }, one.words),
    one.open ? h("div", { id, class: "form", key: "form" }, fields(one.fields, tools)) : null,
  );
}
