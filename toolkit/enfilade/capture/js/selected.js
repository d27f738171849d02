import { h } from "./dom.js";
import { fields } from "./fields.js";

/** The form of what is selected on the plan. */
export function view(state, tools) {
  if (state.nothing) return h("div", {}, h("h2", { tabindex: "-1" }, "Selected"), h("p", { class: "small" }, state.nothing));
  const own = { ...tools, lists: state.lists };
  const act = (words, message) => {
    const click = async (_, el) => {
      const part = el.closest(".selected");
      const answer = await tools.send(message);
      // What was pressed has gone with what was selected.
      const head = answer.ok && part ? part.querySelector("h2") : null;
      if (head) head.focus();
    };
    return h("button", { type: "button", class: "act", on: { click } }, words);
  };
  return h(
    "div",
    { key: state.key },
    h("h2", { tabindex: "-1" }, state.title),
    state.what ? h("p", { class: "small" }, state.what) : null,
    fields(state.first, own),
    state.rest.length ? h("details", { key: "rest", open: state.open || null }, h("summary", {}, "More about it"), fields(state.rest, own)) : null,
    state.copy || state.remove
      ? h("div", { class: "acts" }, state.copy ? act("Make a copy", { do: "copy selected" }) : null, state.remove ? act("Take it out", { do: "remove selected" }) : null)
      : null,
  );
}
