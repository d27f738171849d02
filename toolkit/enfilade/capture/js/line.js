import { h } from "./dom.js";
import { idOf, textControl } from "./controls.js";
import { choice } from "./entry.js";
import { fields } from "./fields.js";
import { figures } from "./figures.js";

const SIGNS = 78;

/** One line: its text, how it reads and sounds, what is found about it, and what is folded away. */
export function line(one, begin, tools) {
  const id = idOf(one.path, tools);
  const spec = { path: one.path, kind: "longtext", shown: one.shown, typed: one.typed, error: one.error, required: !one.begun, told: "", help: "" };
  const area = textControl(spec, id, tools);
  // Where a field does not grow by itself, it has room for what it holds.
  area.setAttribute("rows", String(Math.max(1, Math.ceil(String(one.typed ?? one.shown).length / SIGNS))));
  area.setAttribute("aria-describedby", [one.begun ? null : `${id}-meta`, one.error ? `${id}-error` : null].filter(Boolean).join(" "));
  return h(
    "li",
    { class: "line", key: one.key, "data-key": one.key, "data-line": one.at ? one.at.join("/") : null },
    h("label", { class: "unseen", for: id }, one.label),
    area,
    one.error ? h("p", { class: "error", id: `${id}-error`, key: "error" }, one.error) : null,
    one.begun ? begun(one, tools) : written(one, id, begin, tools),
  );
}

function begun(one, tools) {
  const leave = async (_, el) => {
    const place = el.closest("section");
    await tools.send({ do: "leave line", path: one.path });
    const next = place && place.querySelector("textarea, .act");
    if (next) next.focus();
  };
  return h("div", { class: "acts small", key: "begun" }, h("button", { type: "button", class: "act", on: { click: leave } }, "Leave it out"));
}

function written(one, id, begin, tools) {
  return [
    h("p", { class: "meta aside", id: `${id}-meta`, key: "meta" }, h("span", { class: "time" }, [one.time, one.pause].filter(Boolean).join(", ")), [one.whose, one.about].filter(Boolean).join("; ")),
    one.reads ? h("p", { class: "meta", key: "reads" }, `${one.reads === one.sounds ? "Reads and sounds" : "Reads"}: ${one.reads}`) : null,
    one.sounds && one.sounds !== one.reads ? h("p", { class: "meta", key: "sounds" }, `Sounds: ${one.sounds}`) : null,
    one.notes.map((note) => h("p", { class: note.wrong ? "note wrong" : "note", key: note.id }, note.words)),
    acts(one, id, begin, tools),
    one.open ? folded(one, id, tools) : null,
    tools.local.figuresAt === one.key ? figures(one, id, tools) : null,
  ];
}

function acts(one, id, begin, tools) {
  const last = one.at[one.at.length - 1];
  const open = () => tools.send({ do: "open line", path: one.at, open: !one.open }, [], true);
  const move = (by, off) => async (_, el) => {
    if (off) return;
    await tools.send({ do: "move line", path: one.at, by });
    if (el.isConnected) el.focus();
  };
  const out = async (_, el) => {
    const place = el.closest("section");
    const item = el.closest("li");
    const next = item.nextElementSibling || item.previousElementSibling;
    const answer = await tools.send({ do: "take line out", path: one.at });
    if (!answer.ok) return;
    const held = (next && next.isConnected ? next : place).querySelector("textarea, .act");
    if (held) held.focus();
  };
  const shown = tools.local.figuresAt === one.key;
  const look = async () => {
    tools.local.figuresAt = shown ? null : one.key;
    if (!shown) {
      const answer = await tools.send({ do: "figures", path: one.at }, [], true);
      tools.local.figures = answer.figures || [];
      tools.local.wanted = "";
    }
    tools.redraw();
    if (!shown) document.getElementById(`${id}-find`)?.focus();
  };
  const act = (words, click, more = {}) => h("button", { type: "button", class: "act", key: words, "aria-label": `${words}: ${one.label}`, on: { click }, ...more }, words);
  return h(
    "div",
    { class: "acts small", key: "acts" },
    act("Shows, shot, pause, who hears it", open, { "aria-expanded": String(one.open), "aria-controls": one.open ? `${id}-more` : null }),
    act("Put in a figure", look, { "aria-expanded": String(shown), "aria-controls": shown ? `${id}-figures` : null }),
    h("span", { class: "later", key: "later" },
      act("Add a line after", begin(last)),
      act("Up", move(-1, one.first), { "aria-disabled": one.first ? "true" : null }),
      act("Down", move(1, one.last), { "aria-disabled": one.last ? "true" : null }),
      act("Take out", out)),
  );
}

function folded(one, id, tools) {
  // A field of the line is typed as every field is.
  const own = { ...tools, set: (path, typed, now) => tools.later(JSON.stringify(path), { do: "set", path, typed }, now) };
  const put = (_, el) => tools.send({ do: "line to stop", path: one.at, stop: el.value });
  return h(
    "div",
    { id: `${id}-more`, class: "form", key: "form" },
    one.groups.map((group) => h("div", { role: "group", key: group.title, "aria-label": `${group.title}: ${one.label}` }, h("h5", {}, group.title), fields(group.fields, own))),
    one.stops.length ? choice(tools, { name: `stop of ${one.key}`, label: "Said in", value: one.at[1], options: one.stops.map((stop) => [stop.value, stop.label]), on: { change: put } }) : null,
  );
}
