import { h } from "./dom.js";
import { act } from "./entry.js";

/** The earlier states of the house, the newest first, and the way back to each. */
export function view(state, tools) {
  const kept = state.states.length - 1;
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "Earlier states"),
    h(
      "p",
      {},
      kept
        ? "Each saving keeps the state before it; of older days fewer are kept. Going back is a change like any other: it can be undone, and the state of now is kept too."
        : "Nothing has been changed yet. Each saving keeps the state before it, and shows it here.",
    ),
    kept
      ? h(
          "table",
          {},
          h("caption", { class: "unseen" }, "Earlier states of the house"),
          h("thead", {}, h("tr", {}, ["The house", "What it holds", "What changed since the state before", "Back"].map((word) => h("th", { scope: "col", key: word }, word)))),
          h("tbody", {}, state.states.map((one) => row(one, tools))),
        )
      : null,
  );
}

function row(one, tools) {
  const more = one.more ? h("p", { class: "small" }, `and ${one.more} more`) : null;
  return h(
    "tr",
    { key: one.key || "now" },
    h("th", { scope: "row" }, one.when[0].toUpperCase() + one.when.slice(1)),
    h("td", {}, one.counts),
    h("td", {}, one.note ? h("p", { class: "small" }, one.note) : null, one.changed.length ? h("ul", { class: "plain" }, one.changed.map((line, i) => h("li", { key: i }, line))) : null, more),
    h("td", {}, one.key && one.counts ? act("Go back to this state", () => tools.send({ do: "go back", key: one.key }), { "aria-label": `Go back to this state: the house ${one.when}` }) : null),
  );
}
