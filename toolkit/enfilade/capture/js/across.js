// From a page of one act to the page of another.

import { h } from "./dom.js";

/** Return words that lead to a room's page of another act; words alone where the pages have no addresses, as in a notebook. */
export function across(words, act, room, more = {}) {
  const link = document.querySelector(`body > header nav a[href$="/${act}"]`);
  if (!link) return h("span", more, words);
  const to = new URL(link.getAttribute("href"), location.href);
  // Whoever follows the link may still go in.
  to.search = location.search;
  if (room) to.searchParams.set("room", room);
  return h("a", { href: to.href, ...more }, words);
}
