import { h } from "./dom.js";

/** The rooms in the order in which they are told, with the walk to each; and the order with less walking back. */
export function view(state, tools) {
  if (state.nothing) return h("div", {}, h("h2", { tabindex: "-1" }, "The order"), h("p", { class: "small" }, state.nothing));
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "The order"),
    state.begin ? h("p", { key: "begin" }, state.begin) : null,
    state.words ? h("p", { key: "words" }, state.words) : null,
    state.proposal ? proposal(state.proposal, tools) : null,
    state.notes.map((words, i) => h("p", { class: "small", key: `n${i}` }, words)),
    state.stops.length ? h("ol", { class: "plain stops", key: "stops" }, state.stops.map((one, at) => stop(one, at, state, tools))) : null,
    state.untold.length && state.stops.length ? h("p", { class: "small", key: "untold" }, `Nothing is said yet in ${state.untold.join(", ")}.`) : null,
  );
}

function proposal(one, tools) {
  const take = async (_, el) => {
    const part = el.closest(".part");
    const answer = await tools.send({ do: "take route" });
    if (answer.ok && part) part.querySelector("h2").focus();
  };
  return h(
    "div",
    { class: "proposal", key: "proposal" },
    h("p", {}, one.words),
    h("p", { class: "small" }, `Then ${one.then} ${one.within ? "Each room stays in its part." : ""}`.trim()),
    h("div", { class: "acts" }, h("button", { type: "button", class: "act main", on: { click: take } }, "Take this order")),
  );
}

function stop(one, at, state, tools) {
  const move = (words, by, off) => {
    const click = async (_, el) => {
      if (off) return;
      await tools.send({ do: "move stop", stop: one.id, by });
      if (el.isConnected) el.focus();
    };
    // It stays where the focus is when the room stands first or last.
    return h("button", { type: "button", class: "act", key: words, "aria-label": `Move ${one.name} ${words.toLowerCase()}`, "aria-disabled": off ? "true" : null, on: { click } }, words);
  };
  const id = tools.id(`part ${one.id}`);
  const put = (_, el) => tools.send({ do: "stop in part", stop: one.id, part: el.value });
  return h(
    "li",
    { key: one.id, "data-stop": one.id },
    h("span", { class: "place" }, `${at + 1}`),
    h("div", { class: "name" }, h("strong", {}, one.name), h("p", { class: "small" }, [one.way, one.walk].filter(Boolean).join(" "))),
    h("span", { class: "number time" }, one.time),
    state.parts.length > 1
      ? h("div", { class: "field", key: "part" }, h("label", { class: "unseen", for: id }, `Part in which ${one.name} is told`),
          h("select", { id, value: one.part, on: { change: put } }, state.parts.map((part) => h("option", { value: part.value, key: part.value }, part.label))))
      : null,
    h("div", { class: "acts", key: "acts" }, move("Up", -1, one.first), move("Down", 1, one.last)),
  );
}
