import { h } from "./dom.js";
import { act, choice, tick, wrongAt } from "./entry.js";
import { stripDrawing } from "./strip.js";

/** Lay a run: the wall, the end at which it begins, its widths as they are typed, and what is read of them. */
export function view(state, tools) {
  const heading = h("h2", { id: tools.id("title"), tabindex: "-1" }, "Lay a run");
  if (state.nothing) return h("div", {}, heading, h("p", {}, state.nothing));
  const local = tools.local;
  // What was typed before the page was loaded again comes a moment later; it stands until something is typed here.
  if (local.room !== state.room || !local.typed) Object.assign(local, { room: state.room, sheet: { ...state.sheet }, typed: false, errors: local.errors || [] });
  const { sheet } = local;
  const reading = state.reading;
  const tell = (now) => ((local.errors = []), (local.typed = true), tools.later("laying", { do: "read run", room: state.room, sheet }, now));
  const chosen = (name) => (_, el) => {
    sheet[name] = el.value;
    if (name !== "stretch") sheet.stretch = "";
    if (name === "wall") sheet.replace = false;
    tell(true);
    tools.redraw();
  };
  const one = (name, label, options) => choice(tools, { name, label, value: sheet[name], options, on: { change: chosen(name) } });
  return h(
    "div",
    {},
    heading,
    h("p", {}, "Type the widths in order along the wall, with what each is. A width alone is a cabinet."),
    h(
      "div",
      { class: "columns" },
      one("wall", "Along", state.walls),
      one("row", "Cabinets", [["lower", "on the floor, with a counter"], ["upper", "hung on the wall"]]),
      one("from_end", "The first stands at", [["left", "the left end, seen from inside"], ["right", "the right end, seen from inside"]]),
      reading.stretches.length > 1 ? one("stretch", "Between", [["", "the first stretch from that end"], ...reading.stretches]) : null,
    ),
    typed(state, tools, tell),
    reading.strip ? stripDrawing(reading.strip, strip(reading), tools) : null,
    h("p", { class: "left", role: "status", key: "left" }, [reading.trouble, reading.words].filter(Boolean).join(" ")),
    reading.rows.length ? table(reading) : null,
    reading.proposals.length ? ways(reading, tools, tell) : null,
    reading.there.length || sheet.replace
      ? tick(tools, { name: "replace", label: reading.there.length ? `Take out what stands there: ${reading.there.join(", ")}` : "Take out what stands against this wall", checked: sheet.replace, change: (_, el) => ((sheet.replace = el.checked), tell(true)) })
      : null,
    local.said ? h("p", { class: "error", role: "alert", key: "said" }, local.said) : null,
    h("div", { class: "acts" }, act("Lay the run", () => lay(state, tools), { class: "act main" })),
  );
}

function typed(state, tools, tell) {
  const id = tools.id("text");
  const { sheet } = tools.local;
  const refused = wrongAt(tools.local.errors, "text");
  const faults = state.reading.faults;
  const told = [`${id}-help`, (faults.length || refused) && `${id}-error`].filter(Boolean).join(" ");
  return h(
    "div",
    { class: "field widths", key: "text" },
    h("label", { for: id }, "Widths, in order"),
    h("textarea", { id, rows: 2, spellcheck: "false", autocomplete: "off", value: sheet.text, "aria-invalid": faults.length || refused ? "true" : null, "aria-describedby": told, on: { input: (_, el) => ((sheet.text = el.value), tell()) } }),
    faults.length || refused
      ? h(
          "div",
          { id: `${id}-error`, key: "error" },
          refused && !faults.length ? h("p", { class: "error" }, refused.expected ? `${refused.what}; expected ${refused.expected}` : refused.what) : null,
          faults.map((one) => h("p", { class: "error", key: one.no }, one.words, " ", act("Go to it", () => show(id, one), { "aria-label": `Go to no. ${one.no}` }))),
        )
      : null,
    h("p", { class: "help", id: `${id}-help` }, `Such as ${state.example}. A plain number is in ${state.unit}; commas part one from the next.`),
  );
}

/** Put the cursor on what cannot be read. */
function show(id, { start, end }) {
  const box = document.getElementById(id);
  box.focus();
  box.setSelectionRange(start, end);
}

function table(reading) {
  return h(
    "table",
    { class: "run", key: "table" },
    h("caption", { class: "unseen" }, "What is read, in order"),
    h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "No."), h("th", { scope: "col" }, "What"), h("th", { scope: "col", class: "number" }, "Width"))),
    h("tbody", {}, reading.rows.map((row) => h("tr", { key: row.no }, h("th", { scope: "row" }, String(row.no)), h("td", {}, row.what), h("td", { class: "number" }, row.width)))),
  );
}

function ways(reading, tools, tell) {
  const take = (way) => {
    tools.local.sheet.text = way.text;
    // The typed text stands in a box that may have the focus, and then keeps what it has.
    const box = document.getElementById(tools.id("text"));
    if (box) box.value = way.text;
    tell(true);
    tools.redraw();
    box?.focus();
  };
  return h(
    "div",
    { key: "ways" },
    h("h3", {}, "Ways to make it fit"),
    h("ul", { class: "plain" }, reading.proposals.map((way) => h("li", { key: way.text }, act(way.words, () => take(way))))),
  );
}

function strip(reading) {
  const run = reading.rows.map((row) => `${row.no}, ${row.what}, ${row.width}`).join("; ");
  return `The wall from inside, to scale. ${run ? `The run: ${run}. ` : ""}${reading.words}`;
}

async function lay(state, tools) {
  const local = tools.local;
  const answer = await tools.send({ do: "lay run", room: state.room, sheet: local.sheet });
  local.errors = answer.errors;
  local.said = answer.ok || answer.errors.some((one) => one.place === "text") ? "" : answer.say;
  if (answer.ok) {
    Object.assign(local.sheet, { text: "", replace: false, stretch: "" });
    local.typed = true;
    const box = document.getElementById(tools.id("text"));
    if (box) box.value = "";
  }
  tools.redraw();
  if (!answer.ok) document.getElementById(tools.id("text"))?.focus();
}
