// What every part about the archive shows before it was looked at, and when it cannot be.

import { h } from "./dom.js";

const asked = new WeakMap();

/** Have the archive looked at, once for each time that it has changed; several parts of a page ask for one look. */
export function lookOnce(state, tools) {
  if (state.looked || asked.get(tools.model) === state.turn) return;
  asked.set(tools.model, state.turn);
  tools.send({ do: "look at archive" }, [], true);
}

/** Return what stands in place of a part while the archive is not known; null when it can be used. */
export function instead(state, tools) {
  lookOnce(state, tools);
  if (!state.looked) return h("p", { class: "small", key: "instead" }, "Looking into the archive.");
  if (state.closed) return h("p", { class: "small", key: "instead" }, "The archive cannot be used now; see above why.");
  return null;
}

/** A whole number and its fraction stay on one line. */
const together = (words) => words.replace(/(\d) (?=\d+\/\d)/g, "$1\u00a0");

/** Return sentences as a list; the later ones are folded. */
export function sentences(first, more, words) {
  return [
    first.length ? h("ul", { class: "plain", key: "first" }, first.map((line, i) => h("li", { key: i }, together(line)))) : null,
    more.length ? h("details", { key: "more" }, h("summary", {}, words), h("ul", { class: "plain" }, more.map((line, i) => h("li", { key: i }, together(line))))) : null,
  ];
}
