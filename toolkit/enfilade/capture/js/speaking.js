import { h } from "./dom.js";
import { choice } from "./entry.js";
import { field, fields } from "./fields.js";

/** How the house is told: folded once it is set. */
export function view(state, tools) {
  const own = { ...tools, lists: state.lists };
  const rate = state.told.find((one) => one.name === "rate_wpm");
  const rest = state.told.filter((one) => one !== rate);
  const parts = rest.filter((one) => one.kind === "records");
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "How it is told"),
    h("p", {}, `${state.words}.`),
    h(
      "details",
      { open: !state.set || state.wrong || null },
      h("summary", {}, state.set ? "Change how it is told" : "Set how it is told"),
      h("div", { class: "columns" },
        field(rate, null, own),
        h("div", { key: "published" }, published(state, tools)),
        rest.filter((one) => !parts.includes(one)).map((one) => field(one, null, own))),
      parts.map((one) => field(one, null, own)),
      h("h3", {}, "What it is filmed with"),
      fields(state.filmed, own),
    ),
  );
}

function published(state, tools) {
  const take = (_, el) => el.value && tools.send({ do: "take rate", rate: el.value });
  const options = [["", "a rate of your own"], ...state.rates.map((one) => [one.value, one.label])];
  return [
    choice(tools, { name: "published", label: "As published", value: state.rate, options, on: { change: take } }),
    state.source ? h("p", { class: "help", key: "source" }, state.source) : null,
  ];
}
