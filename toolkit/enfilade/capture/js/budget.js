import { h } from "./dom.js";

const COLUMNS = [
  ["allowance", "Allowance"],
  ["quoted", "Quoted"],
  ["ordered", "Ordered"],
  ["expected", "Expected"],
];

/** The budget by room against its allowances, and the days to order by. */
export function view(state, tools) {
  if (state.nothing) return h("div", {}, h("h2", {}, "Budget"), h("p", {}, state.nothing));
  return h(
    "div",
    {},
    h("h2", { id: tools.id("title") }, "Budget"),
    h("p", { class: "effect" }, state.effect.join(" ")),
    h("p", { class: "small" }, "Expected is what is ordered, else quoted, else allowed. What is for several rooms is counted once, under a line of its own. Against the allowance stand only those that have one; outlined: the allowance; filled: what is expected; hatched: what goes beyond."),
    h("svg", { width: 0, height: 0, "aria-hidden": "true", class: "unseen" },
      h("defs", {}, h("pattern", { id: tools.id("beyond"), width: 4, height: 4, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
        h("rect", { width: 4, height: 4, fill: "#fff" }), h("rect", { width: 2, height: 4, fill: "currentColor" })))),
    h(
      "table",
      { "aria-labelledby": tools.id("title") },
      h("thead", {}, h("tr", {},
        h("th", { scope: "col" }, "Room"),
        COLUMNS.map(([key, words]) => h("th", { scope: "col", class: "number", key }, words)),
        h("th", { scope: "col" }, "Against the allowance"))),
      h("tbody", {}, state.lines.map((line) => row(line, tools)), row({ ...state.total, key: "whole house" }, tools)),
    ),
    orders(state),
    more("Without any price or allowance", state.unpriced.map((name) => [name, ""])),
    more("Without a lead time or a day it is needed", state.undated.map((name) => [name, ""])),
    more("Not counted", state.left_out),
    more("Costs written in decisions, which may be the same money and are not added", state.decided),
  );
}

function row(line, tools) {
  return h(
    "tr",
    { key: line.key, class: line.key === "whole house" ? "total" : null },
    h("th", { scope: "row" }, line.name, line.unpriced ? h("span", { class: "small" }, ` ${line.unpriced} without a price`) : null),
    COLUMNS.map(([key, words]) => h("td", { class: "number", key, "data-label": words }, line[key])),
    h("td", { "data-label": "Against the allowance" }, line.over ? h("span", { class: line.is_over ? "over" : null }, line.over) : null, line.bar ? bar(line.bar, tools) : null),
  );
}

function bar({ allowance, against }, tools) {
  const room = 240;
  const width = (share) => Math.round(share * room * 10) / 10;
  const within = width(Math.min(allowance, against));
  return h(
    "svg",
    { class: "bar", viewBox: `-1 -1 ${room + 2} 14`, width: room + 2, height: 14, "aria-hidden": "true" },
    h("rect", { x: 0, y: 3, width: within, height: 6, fill: "currentColor" }),
    against > allowance ? h("rect", { x: within, y: 3, width: width(against - allowance), height: 6, fill: `url(#${tools.id("beyond")})`, stroke: "currentColor", "stroke-width": 0.75 }) : null,
    h("rect", { x: 0, y: 0, width: width(allowance), height: 12, fill: "none", stroke: "currentColor", "stroke-width": 1 }),
  );
}

function orders(state) {
  const done = state.ordered ? `${state.ordered} ${state.ordered === 1 ? "is" : "are"} ordered.` : "Nothing is ordered yet.";
  return [
    h("h3", { key: "orders title" }, "To order"),
    h("p", { class: "small", key: "orders done" }, done),
    state.orders.length
      ? h("table", { key: "orders" },
          h("thead", {}, h("tr", {}, ["Order by", "What", "For", "Needed on site", "Expected"].map((words) => h("th", { scope: "col", key: words, class: words === "Expected" ? "number" : null }, words)))),
          h("tbody", {}, state.orders.map((one) =>
            h("tr", { key: one.key },
              h("td", { "data-label": "Order by" }, one.by, one.late ? h("span", { class: "verdict falls-short late" }, one.late) : null),
              h("th", { scope: "row" }, one.name),
              h("td", { "data-label": "For" }, one.rooms),
              h("td", { "data-label": "Needed on site" }, one.needed),
              h("td", { "data-label": "Expected", class: "number" }, one.expected)))))
      : null,
  ];
}

function more(title, lines) {
  if (!lines.length) return null;
  return h("details", { key: title }, h("summary", {}, `${title} (${lines.length})`), h("ul", {}, lines.map(([name, why], i) => h("li", { key: i }, why ? `${name}: ${why}` : name))));
}
