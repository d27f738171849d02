import { h } from "./dom.js";

/** How long it takes: part by part and room by room, against what is asked for; and where to cut. */
export function view(state, tools) {
  if (state.nothing) return h("div", {}, h("h2", { tabindex: "-1" }, "Time"), h("p", { class: "small" }, state.nothing));
  return h(
    "div",
    {},
    h("h2", { id: tools.id("title"), tabindex: "-1" }, "Time"),
    h("p", { class: "whole" }, h("strong", {}, state.whole), ` ${state.against}`),
    h("p", { class: "small" }, [state.rate, state.hears].filter(Boolean).join(" ")),
    h(
      "table",
      { "aria-labelledby": tools.id("title") },
      h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Room"), ["Lines", "Said", "Silent", "Walk to it", "In all"].map((words) => h("th", { scope: "col", class: "number", key: words }, words)))),
      state.parts.map((part) => h("tbody", { key: part.key }, part.stops.map(row), total(part, state.parts.length > 1))),
    ),
    state.cuts.length || state.too_long ? cuts(state, tools) : null,
  );
}

function row(stop) {
  const cell = (label, words) => h("td", { class: "number", key: label, "data-label": label }, words);
  return h("tr", { key: stop.key }, h("th", { scope: "row" }, stop.name),
    cell("Lines", stop.lines), cell("Said", stop.said), cell("Silent", stop.silent), cell("Walk to it", stop.walk), cell("In all", stop.time));
}

function total(part, several) {
  if (!several) return null;
  const joins = part.joins ? h("span", { class: "small" }, ` with ${part.joins} of recap and lead-in`) : null;
  return h("tr", { class: "total", key: "total" }, h("th", { scope: "row", colspan: 5 }, part.title || "This part", joins), h("td", { class: "number", "data-label": "In all" }, part.time));
}

function cuts(state, tools) {
  const take = (cut) => async (_, el) => {
    const part = el.closest(".part");
    const answer = await tools.send({ do: "take line out", path: cut.path });
    if (!answer.ok || !part) return;
    const next = part.querySelector(".cuts .act");
    (next || part.querySelector("h2")).focus();
  };
  return h(
    "section",
    { key: "cuts", "aria-label": "Where to cut" },
    h("h3", {}, "Where to cut"),
    h("p", { class: "small" }, "The least important first. What is taken out stays out when the script is drafted again."),
    h("ol", { class: "plain cuts" }, state.cuts.map((cut) =>
      h("li", { key: cut.path.join("/") },
        h("p", {}, cut.words, h("span", { class: "small" }, ` ${cut.time}. ${cut.why}`)),
        h("div", { class: "acts" }, h("button", { type: "button", class: "act", "aria-label": `Take this line out: ${cut.words}`, on: { click: take(cut) } }, "Take this line out"))))),
    state.too_long ? h("p", { class: "trouble" }, state.too_long) : null,
  );
}
