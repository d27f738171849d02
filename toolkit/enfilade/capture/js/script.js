import { h } from "./dom.js";
import { fields } from "./fields.js";
import { line } from "./line.js";
import { pictureOf } from "./pictures.js";

/** The script: part after part, room after room, line after line. */
export function view(state, tools) {
  if (state.nothing) return h("div", {}, h("h2", { tabindex: "-1" }, "The script"), h("p", { class: "small" }, state.nothing));
  const own = { ...tools, lists: state.lists, forms: state.forms };
  // A line is written through the script, which also knows those that were only begun.
  own.set = (path, typed, now) => tools.later(JSON.stringify(path), { do: "say line", path, typed }, now);
  const draft = () => tools.send({ do: "draft" });
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "The script"),
    h("p", {}, state.words),
    h("div", { class: "acts" }, h("button", { type: "button", class: "act main", "aria-describedby": tools.id("draft"), on: { click: draft } }, "Draft what is missing")),
    h("p", { class: "help", id: tools.id("draft") }, "What the record says of each room is written as sentences. Lines that were written or changed by hand stay as they are; one undo takes the draft back. Figures in braces, such as {width of island}, say what the record says now."),
    notes(state.notes),
    state.parts.map((part) => (part.id ? titled(part, own, tools) : part.stops.map((one) => stop(one, own, tools)))),
    state.untold.map((one) => untold(one, own, tools)),
  );
}

function titled(part, own, tools) {
  return h(
    "section",
    { key: `part ${part.id}`, class: "talk", "aria-label": part.title || "A part" },
    h("h3", {}, h("span", {}, part.title || "A part without a title"), h("span", { class: "time" }, part.time)),
    joining(part.recap, "Recap: what was told before", own),
    part.stops.map((one) => stop(one, own, tools)),
    joining(part.lead_in, "Lead-in: what comes next", own),
  );
}

function joining(list, words, own) {
  return h("section", { class: "stop joining", key: list.path.join("/"), "aria-label": list.title }, h("h4", {}, words), lines(list, own));
}

function stop(one, own, tools) {
  return h(
    "section",
    { class: "stop", key: `stop ${one.id}`, "aria-label": one.name, "data-stop": one.id },
    h("h4", {}, h("span", {}, one.name), h("span", { class: "time" }, one.time)),
    one.way ? h("p", { class: "small way", key: "way" }, one.way) : null,
    notes(one.notes),
    lines(one, own),
    room(one, own, tools),
  );
}

function untold(one, own) {
  return h("section", { class: "stop", key: `room ${one.space}`, "aria-label": one.name }, h("h4", {}, one.name), notes(one.notes), lines(one, own));
}

function lines(list, own) {
  const begin = (after) => async (_, el) => {
    const place = el.closest("section");
    const answer = await own.send({ do: "begin line", path: list.path, after });
    if (!answer.ok || !place) return;
    const made = place.querySelector(`[data-key="${CSS.escape(answer.path.join("/"))}"] textarea`);
    if (made) made.focus();
  };
  return [
    h("ol", { class: "plain lines", key: "lines" }, list.lines.map((one) => line(one, begin, own))),
    list.lines.length
      ? null
      : h("div", { class: "acts", key: "first" }, h("button", { type: "button", class: "act", "aria-label": `Write a line: ${list.title}`, on: { click: begin("") } }, "Write a line")),
  ];
}

/** What is found about the script, in plain words. */
function notes(list) {
  return list.map((one) => h("p", { class: "note wrong", key: one.id }, one.words));
}

/** The page of the room as far as it is told here: its story, and perspectives. */
function room(one, own, tools) {
  const id = tools.id(`room ${one.id}`);
  const drawn = (tools.local.drawn ??= {});
  const toggle = () => own.send({ do: "open room", space: one.space, open: !one.open }, [], true);
  const ask = (message) => async () => {
    const answer = await own.send(message);
    if (answer.pictures) drawn[one.space] = answer.pictures;
    tools.redraw();
  };
  const fieldTools = { ...own, set: tools.set };
  return h(
    "div",
    { class: "room", key: "room" },
    h("button", { type: "button", class: "act", "aria-expanded": String(one.open), "aria-controls": one.open ? id : null, "aria-label": `Page of this room: ${one.name}`, on: { click: toggle } }, "Page of this room"),
    h("span", { class: "small" }, one.views),
    one.open
      ? h("div", { id, class: "form", key: "form" },
          fields(one.fields, fieldTools),
          h("div", { class: "acts" },
            h("button", { type: "button", class: "act", on: { click: ask({ do: "add view", space: one.space }) } }, "Add a perspective as a person sees it"),
            h("button", { type: "button", class: "act", on: { click: ask({ do: "perspectives", space: one.space }) } }, "Draw the perspectives")),
          (drawn[one.space] || []).map((picture, i) => h("figure", { key: `p${i}` }, pictureOf(picture.svg, picture.words), h("figcaption", { class: "small" }, picture.words))))
      : null,
  );
}
