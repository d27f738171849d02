import { h } from "./dom.js";

/** The lines to speak in the room: plain text that is kept while it is typed. */
export function view(state, tools) {
  if (state.nothing) return h("div", {}, h("h2", {}, "Lines to speak"), h("p", { class: "small" }, state.nothing));
  const id = tools.id(`lines ${state.room}`);
  const path = ["lines", state.room];
  const take = (now) => (_, el) => tools.set(path, el.value, now);
  const described = [`${id}-help`, state.error ? `${id}-error` : null].filter(Boolean).join(" ");
  return h(
    "div",
    { key: state.room },
    h("h2", {}, "Lines to speak"),
    h("label", { for: id, class: "unseen" }, `Lines to speak in ${state.name}`),
    h("textarea", { id, class: "spoken", rows: 4, value: state.typed ?? state.text, "aria-describedby": described, "aria-invalid": state.error ? "true" : null, on: { input: take(false) } }),
    h("p", { class: "help", id: `${id}-help` }, `What is said while one stands here, a paragraph a line.${state.words ? ` ${state.words}.` : ""}`),
    state.error ? h("p", { class: "error", id: `${id}-error` }, state.error) : null,
  );
}
