// Ways to hand something on or to let go of it: folded away, with their own fields, and what was refused at them.

import { busily } from "./busy.js";
import { h } from "./dom.js";
import { entry, wrongAt } from "./entry.js";

/** A way under its name, and what was done that way on this page. */
export function folded(key, words, inside, said) {
  return h("details", { key, class: "way" }, h("summary", {}, words), h("div", { class: "folded" }, inside), said ? h("p", { class: "done", key: "done" }, said) : null);
}

/** A field of its own name; what was refused of it stands under it. */
export function typed(tools, { name, label, help, begins = "", enter }) {
  const local = tools.local;
  const on = {
    input: (_, el) => { local[name] = el.value; },
    change: (_, el) => { local[name] = el.value; },
    keydown: (event) => event.key === "Enter" && !event.isComposing && enter(),
  };
  return entry(tools, { name, label, help, value: local[name] ?? begins, wrong: wrongAt(local.errors, name), on });
}

/** Ask for something that takes a while; the first field at which it was refused gets the focus. */
export async function ask(doing, message, tools) {
  tools.local.errors = [];
  const answer = await busily(doing, doing, message, tools);
  tools.local.errors = answer.errors;
  const first = (answer.errors || []).find((one) => one.place);
  tools.redraw();
  if (first) document.getElementById(tools.id(first.place))?.focus();
  return answer;
}

/** What was refused and belongs to no field. */
export function refused(tools) {
  const local = tools.local;
  const about = (local.errors || []).filter((one) => !one.place);
  return about.length ? h("p", { class: "trouble", role: "alert", key: "refused" }, local.said) : null;
}
