// From one part of a page to a place in another.

import { h } from "./dom.js";

/** Bring what a selector finds on this page into view, and put the focus there; false when it is not there. */
export function jump(from, selector) {
  const found = from.closest(".enfilade")?.querySelector(selector);
  if (!found) return false;
  found.scrollIntoView({ block: "center" });
  found.focus({ preventScroll: true });
  return true;
}

/** Return words that lead to a place on this page. */
export function leading(words, selector, more = {}) {
  return h("button", { type: "button", class: "act", on: { click: (_, el) => jump(el, selector) }, ...more }, words);
}

/** The selector of a line's text in the script, by the steps to it. */
export const lineAt = (at) => `[data-line="${CSS.escape(at.join("/"))}"] textarea`;
