// One typed value with its label, its help and what is wrong with it.

import { h } from "./dom.js";

/** What was refused at a place, out of the errors of an answer. */
export const wrongAt = (errors, place) => (errors || []).find((one) => one.place === place) || null;

/** What was refused, in one sentence. */
export const wrongWords = (one) => (one.expected ? `${one.what}; expected ${one.expected}` : one.what);

/**
 * Return a labelled input. `on` holds its handlers, `wrong` what was refused ({what, expected}), `help` a sentence under
 * it; with `unseen` the label is heard and not seen, as in a table whose head says it.
 */
export function entry(tools, { name, label, value, help, wrong, on, unseen, ...more }) {
  const id = tools.id(name);
  const told = [wrong && `${id}-error`, help && `${id}-help`].filter(Boolean).join(" ");
  return h(
    "div",
    { class: "field", key: name },
    h("label", { for: id, class: unseen ? "unseen" : null }, label),
    h("input", { id, type: "text", autocomplete: "off", spellcheck: "false", value, "aria-invalid": wrong ? "true" : null, "aria-describedby": told || null, on, ...more }),
    wrong ? h("p", { id: `${id}-error`, class: "error" }, wrongWords(wrong)) : null,
    help ? h("p", { id: `${id}-help`, class: "help" }, help) : null,
  );
}

/** Return a labelled choice; `options` are words, or pairs of a value and its words. */
export function choice(tools, { name, label, value, options, on, unseen }) {
  const id = tools.id(name);
  const pairs = options.map((one) => (Array.isArray(one) ? one : [one, one]));
  return h(
    "div",
    { class: "field", key: name },
    h("label", { for: id, class: unseen ? "unseen" : null }, label),
    h("select", { id, value, on }, pairs.map(([word, words]) => h("option", { key: word, value: word }, words))),
  );
}

/** Return a box to tick. */
export function tick(tools, { name, label, checked, change }) {
  const id = tools.id(name);
  return h(
    "label",
    { class: "tick", for: id, key: name },
    h("input", { type: "checkbox", id, checked: !!checked, on: { change } }),
    label,
  );
}

/** Return a button of words. */
export function act(words, click, more = {}) {
  return h("button", { type: "button", class: "act", on: { click }, ...more }, words);
}

/** Put the focus where it is wanted once the page stands. */
export function focusOn(id) {
  setTimeout(() => document.getElementById(id)?.focus(), 0);
}
