import { h } from "./dom.js";
import { fields } from "./fields.js";

/** What was asked for, who lives here, and how the house is shown. */
export function view(state, tools) {
  const own = { ...tools, lists: state.lists };
  return h(
    "div",
    {},
    h("h2", {}, "Brief and household"),
    state.sections.map((section) => h("section", { key: section.title, "aria-label": section.title }, h("h3", {}, section.title), fields(section.fields, own))),
  );
}
