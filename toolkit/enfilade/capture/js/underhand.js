// The words under the plan: what is chosen, its clear widths, and what changes while it is moved.

import { h, morph } from "./dom.js";
import { showSize } from "./lengths.js";

const SIDES = { front: "in front", back: "behind", left: "to its left", right: "to its right" };

/** Write what is under the hand: `{body, widths}` from here, `{live}` from Python; null when nothing is. */
export function underHand(place, news, tools) {
  if (!place) return;
  const local = tools.local;
  if (!news) Object.assign(local, { held: null, live: null });
  else if (news.body) {
    if (!local.held || local.held.body.id !== news.body.id) local.live = null;
    local.held = news;
  } else local.live = news.live;
  const { held, live } = local;
  const fresh = h(
    "div",
    {},
    held ? h("p", {}, h("strong", {}, named(held.body)), ` ${size(held.body, tools.units)}. `, clear(held, tools)) : null,
    held && live ? h("div", { class: "live" }, changes(live)) : null,
  );
  if (place.firstChild) morph(place.firstChild, fresh);
  else place.append(fresh);
}

const named = (body) => `${body.name[0].toUpperCase()}${body.name.slice(1)}`;

function size(body, units) {
  return `${showSize(body.w, units)} wide, ${body.list === "openings" ? `${showSize(body.top - body.bottom, units)} high` : `${showSize(body.d, units)} deep`}`;
}

function clear({ widths }, tools) {
  const told = widths.filter(({ mm }) => mm > 0.5);
  if (!told.length) return "";
  const words = told.map(({ side, mm, name }) => `${showSize(mm, tools.units)} ${SIDES[side]} to ${name}`);
  return `Clear: ${words.join("; ")}.`;
}

function changes(live) {
  if (live.said) return h("p", { class: "trouble" }, live.said);
  const count = `Here ${live.short} ${live.short === 1 ? "finding falls" : "findings fall"} short; before the move, ${live.was}.`;
  return [
    h("p", { class: "small" }, count),
    h(
      "ul",
      { class: "plain" },
      live.changes.map((one, i) =>
        h("li", { key: i }, h("span", { class: `verdict ${one.verdict.toLowerCase().replace(" ", "-")}` }, one.verdict), " ", one.said),
      ),
    ),
    live.more ? h("p", { class: "small" }, `and ${live.more} more`) : null,
  ];
}
