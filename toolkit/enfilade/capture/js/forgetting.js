import { instead } from "./archived.js";
import { h } from "./dom.js";
import { act } from "./entry.js";
import { ask, folded, refused, typed } from "./ways.js";

/** A client who is to be forgotten: shown first, erased once the name of the house is typed. */
export function view(state, tools) {
  const not = instead(state, tools);
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "Forgetting"),
    not || (state.kept && !state.released ? folded("forget", "Forget the client", forgetting(state, tools), "")
      : h("p", { class: "small", key: "none" }, state.released ? "This archive holds copies for students alone; nothing is forgotten in it." : "No version of this house is kept, so the archive holds nothing of its client.")),
    tools.local.busy ? h("p", { class: "small", key: "busy", role: "status" }, tools.local.busy) : null,
  );
}

function forgetting(state, tools) {
  const told = state.told;
  const show = () => ask("Looking through all versions", { do: "tell forgetting" }, tools);
  const erase = async () => {
    const answer = await ask("Erasing", { do: "forget client", name: tools.local["house name"] ?? "" }, tools);
    if (answer.ok) tools.local["house name"] = "";
    tools.redraw();
  };
  return [
    h("p", {}, "At a client’s request their names, addresses and photographs are erased from every version in the archive and from this house’s folder. What the law asks to be kept, such as contracts, must be known first."),
    h("div", { class: "acts" }, act("Show what would be erased", show)),
    told ? h("div", { key: "told" },
      h("h3", {}, "What forgetting would do"), lines(told.erased, "Nothing."),
      h("h3", {}, "What would remain"), lines(told.remains, "Nothing."),
      typed(tools, { name: "house name", label: `To erase it for good, type the name of the house: ${state.name}`, help: "It cannot be undone.", enter: () => {} }),
      h("div", { class: "acts" }, act("Erase it for good", erase))) : null,
    state.forgotten.length ? h("div", { key: "forgotten" }, h("h3", {}, "The client is forgotten"), lines(state.done, ""), h("h3", {}, "What remains"), lines(state.forgotten, "")) : null,
    refused(tools),
  ];
}

function lines(all, none) {
  return all.length ? h("ul", {}, all.map((line, i) => h("li", { key: i }, line))) : h("p", { class: "small" }, none);
}
