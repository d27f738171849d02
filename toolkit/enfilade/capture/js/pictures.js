// Drawings shown as pictures: each stands by itself, so that the many shapes of many drawings do not weigh on the page.

import { h } from "./dom.js";

const made = new Map();
const MOST = 400;

/** Return a picture of a drawing; `words` say what is seen. */
export function pictureOf(svg, words) {
  return h("img", { src: addressOf(svg), alt: words, decoding: "async" });
}

function addressOf(svg) {
  if (!made.has(svg)) {
    if (made.size > MOST) {
      const [old, address] = made.entries().next().value;
      URL.revokeObjectURL(address);
      made.delete(old);
    }
    made.set(svg, URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" })));
  }
  return made.get(svg);
}
