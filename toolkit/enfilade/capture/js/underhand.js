// Under the plan: what is chosen, its clear widths to be typed exactly, and what changes while it is moved.

import { h, morph } from "./dom.js";
import { showSize } from "./lengths.js";

const SIDES = { front: "In front", back: "Behind", left: "To its left", right: "To its right" };

/** Write what is under the hand: `{body, widths}` from here, `{live}` from Python; null when nothing is. */
export function underHand(place, news, tools) {
  if (!place) return;
  const local = tools.local;
  if (!news) Object.assign(local, { held: null, live: null });
  else if (news.body) {
    if (!local.held || local.held.body.id !== news.body.id) Object.assign(local, { live: null, wrong: null });
    local.held = news;
    // Let go, the findings themselves tell the rest.
    if (news.settled) local.live = null;
  } else local.live = news.live;
  const { held, live } = local;
  const again = () => underHand(place, local.held, tools);
  const fresh = h(
    "div",
    {},
    held ? h("p", { key: held.body.id }, h("strong", {}, named(held.body)), ` ${size(held.body, tools.units)}.`) : null,
    held && held.widths.length ? clear(held, tools, again) : null,
    held && live ? h("div", { class: "live", key: "live" }, changes(live)) : null,
  );
  if (place.firstChild) morph(place.firstChild, fresh);
  else place.append(fresh);
}

const named = (body) => `${body.name[0].toUpperCase()}${body.name.slice(1)}`;

function size(body, units) {
  const other = body.list === "openings" ? `${showSize(body.top - body.bottom, units)} high` : `${showSize(body.d, units)} deep`;
  return `${showSize(body.w, units)} wide, ${other}`;
}

// The clear width before each side: read while it moves, and typed where it must be exact.
function clear({ body, widths }, tools, again) {
  const typed = body.list === "things" && !body.host;
  return h(
    "div",
    { class: "clears", key: "clears", role: "group", "aria-label": `Clear widths of ${body.name}` },
    widths.map(({ side, mm, name }) => {
      const id = tools.id(`clear ${side}`);
      const label = `${SIDES[side]}, clear to the ${name.replace(/^the /, "")}`;
      const shown = showSize(mm, tools.units);
      if (!typed) return h("p", { key: side, class: "small" }, `${label}: ${shown}`);
      const wrong = tools.local.wrong && tools.local.wrong.side === side ? tools.local.wrong.words : "";
      return h(
        "div",
        { class: "field", key: side },
        h("label", { for: id }, label),
        h("input", {
          id,
          value: shown,
          autocomplete: "off",
          "aria-invalid": wrong ? "true" : null,
          "aria-describedby": wrong ? `${id}-error` : null,
          on: { change: (_, el) => put(body, side, el, shown, tools, again) },
        }),
        wrong ? h("p", { class: "error", id: `${id}-error` }, wrong) : null,
      );
    }),
  );
}

async function put(body, side, el, shown, tools, again) {
  tools.local.wrong = null;
  if (el.value.trim() === shown) return;
  const answer = await tools.send({ do: "clear", list: body.list, id: body.id, side, typed: el.value });
  const said = answer.errors.map((one) => `${one.what}${one.expected ? `; expected ${one.expected}` : ""}`).join("; ");
  if (!answer.ok) tools.local.wrong = { side, words: said || answer.say };
  again();
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
