import { busily } from "./busy.js";
import { h } from "./dom.js";
import { leading } from "./jump.js";
import { pictureOf } from "./pictures.js";

/** The shots: planned on demand, each with what its camera sees; the plans show from where. */
export function view(state, tools) {
  const plan = () => tools.local.busy || busily("Planning the shots", "Planning", { do: "plan shots" }, tools);
  if (state.number && tools.local.asked !== state.number) fetchDrawings(state.number, tools);
  const drawn = tools.local.drawn && tools.local.drawn.number === state.number ? tools.local.drawn : null;
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "Shots"),
    h("p", { class: "help", id: tools.id("help") }, "For every line a place is found from which the camera sees what the line shows. That takes some seconds, so it is done when it is asked for."),
    h("div", { class: "acts" },
      h("button", { type: "button", class: "act main", "aria-disabled": !state.can || tools.local.busy ? "true" : null, "aria-describedby": tools.id("help"), on: { click: () => state.can && plan() } }, state.number ? "Plan the shots again" : "Plan the shots"),
      tools.local.busy ? h("span", { class: "small", key: "busy" }, tools.local.busy) : null),
    state.can ? null : h("p", { class: "small" }, "Nothing is said yet that could be shown."),
    tools.local.said ? h("p", { class: "trouble", role: "alert", key: "said" }, tools.local.said) : null,
    state.number ? h("p", { key: "words" }, state.words, state.older ? h("strong", {}, " The record has changed since; the shots are older than it.") : null) : null,
    troubled(state.shots.filter((one) => one.trouble)),
    drawn && drawn.plans.length
      ? h("details", { key: "plans" }, h("summary", {}, `Plans with the positions (${drawn.plans.length})`),
          drawn.plans.map((one, i) => h("figure", { class: "positions", key: `plan ${i}` }, pictureOf(one.svg, one.words), h("figcaption", { class: "small" }, one.words))))
      : null,
    state.shots.length ? h("ol", { class: "plain storyboard", key: "board" }, state.shots.map((one) => shot(one, drawn, tools))) : null,
  );
}

/** The shots in trouble, before all others. */
function troubled(shots) {
  if (!shots.length) return null;
  return h("ul", { class: "plain troubled", key: "troubled", "aria-label": "Shots in trouble" }, shots.map((one) =>
    h("li", { key: one.key }, leading(`${one.number}. ${one.room}: ${one.title}`, `[data-shot="${CSS.escape(one.key)}"] h3`), h("p", { class: "note wrong" }, one.trouble))));
}

async function fetchDrawings(number, tools) {
  tools.local.asked = number;
  const answer = await tools.send({ do: "shot pictures" }, [], true);
  if (answer.ok) tools.local.drawn = answer;
  tools.redraw();
}

function shot(one, drawn, tools) {
  const svg = drawn && drawn.pictures[one.key];
  const ask = (words, what) => h("button", { type: "button", class: "act", key: what, "aria-label": `${words}: shot ${one.number}, ${one.title}`, on: { click: async (_, el) => {
    const item = el.closest("li");
    await tools.send({ do: what, path: one.path });
    const next = item && item.querySelector(".act");
    if (next && !el.isConnected) next.focus();
  } } }, words);
  return h(
    "li",
    { key: one.key, "data-shot": one.key },
    h("div", { class: "frame", key: "frame" }, svg ? pictureOf(svg, drawn.alts[one.key]) : h("span", { class: "small" }, one.picture ? "" : "No picture: the camera can stand nowhere.")),
    h("h3", { tabindex: "-1" }, `${one.number}. ${one.title}`),
    h("p", { class: "small" }, `${one.room}. ${one.said}`),
    one.how ? h("p", { class: "small", key: "how" }, `${one.how[0].toUpperCase()}${one.how.slice(1)}.`) : null,
    one.where ? h("p", { class: "small", key: "where" }, one.where) : null,
    one.also ? h("p", { class: "small", key: "also" }, one.also) : null,
    one.note ? h("p", { class: "small", key: "note" }, one.note) : null,
    one.trouble ? h("p", { class: "note wrong", key: "trouble" }, one.trouble) : null,
    one.path
      ? h("div", { class: "acts small", key: "acts" },
          one.fixed ? [h("span", { class: "small", key: "fixed" }, "The camera’s place is fixed."), ask("Find it again", "find again")] : one.here ? ask("Stand here", "stand here") : null)
      : null,
  );
}
