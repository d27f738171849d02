import { h } from "./dom.js";
import { diagonals } from "./diagonals.js";
import { act, choice, entry, focusOn, tick, wrongAt } from "./entry.js";
import { walkDrawing } from "./walk.js";

const HEADINGS = { north: "up the plan, to the north", east: "to the right, to the east", south: "down the plan, to the south", west: "to the left, to the west" };
const plainNumber = (state) => `A plain number is in ${state.unit}.`;
const TURNS = [["right", "right, square"], ["left", "left, square"], ["angle", "another angle"]];

/** A room drawn by its walls: one line a wall, the walk beside it, and what is still open in words. */
export function view(state, tools) {
  const local = tools.local;
  if (local.opened !== state.opened) Object.assign(local, { opened: state.opened, sheet: structuredClone(state.sheet), errors: [], said: "" });
  const sheet = local.sheet;
  const walk = state.walk;
  const tell = (now) => {
    Object.assign(local, { errors: [], said: "" });
    return tools.later("survey", { do: "survey", opened: local.opened, sheet }, now);
  };
  const typed = (name) => (_, el) => ((sheet[name] = el.value), tell());
  const chosen = (name) => (_, el) => ((sheet[name] = el.value), tell(true), tools.redraw());
  const wrong = (place) => wrongAt(local.errors, place) || wrongAt(walk.faults, place);
  return h(
    "div",
    { class: "measuring" },
    h("h2", { id: tools.id("title"), tabindex: "-1" }, "Draw a room by its walls"),
    h("p", {}, "Stand at any corner and go round the room once, wall by wall, with the tape."),
    h(
      "div",
      { class: "columns" },
      entry(tools, { name: "name", label: "Name of the room", value: sheet.name, wrong: wrong("name"), on: { input: typed("name") } }),
      choice(tools, { name: "use", label: "Used as", value: sheet.use, options: state.uses, on: { change: chosen("use") } }),
      entry(tools, { name: "ceiling", label: "Floor to ceiling", value: sheet.ceiling, wrong: wrong("ceiling"), help: "Left empty, it stays unknown.", on: { input: typed("ceiling") } }),
      choice(tools, { name: "measured_to", label: "The tape is held against", value: sheet.measured_to, options: [["finish", "finished walls"], ["framing", "bare framing"]], on: { change: chosen("measured_to") } }),
      sheet.measured_to === "framing" ? entry(tools, { name: "lining", label: "Lining that will go on each wall", value: sheet.lining, wrong: wrong("lining"), help: `Left empty, ${state.usual} is assumed, to be verified on site.`, on: { input: typed("lining") } }) : null,
    ),
    quick(state, tools, tell),
    h(
      "div",
      { class: "beside" },
      h(
        "div",
        { key: "sheet" },
        h(
          "div",
          { class: "columns" },
          choice(tools, { name: "heading", label: "The first wall runs", value: sheet.heading, options: Object.entries(HEADINGS), on: { change: chosen("heading") } }),
          choice(tools, { name: "hand", label: "Going along it, the room is on the", value: sheet.hand, options: [["right", "right hand"], ["left", "left hand"]], on: { change: (_, el) => otherHand(el.value, sheet, tell, tools) } }),
        ),
        walls(state, tools, tell, wrong),
        diagonals(state, tools, tell),
      ),
      h(
        "div",
        { key: "walk", class: "shown" },
        walkDrawing(walk, `The walls so far. ${walk.words}`, tools),
        h("p", { class: "closing", role: "status" }, [walk.trouble && `${walk.trouble}.`, walk.words, walk.area && !walk.trouble ? `Floor between the walls: ${walk.area}.` : ""].filter(Boolean).join(" ")),
        sheet.spread || (!walk.open && !walk.closes) ? tick(tools, { name: "spread", label: "Spread the closing error over the walls", checked: sheet.spread, change: (_, el) => ((sheet.spread = el.checked), tell(true)) }) : null,
      ),
    ),
    local.said ? h("p", { class: "error", role: "alert", key: "said" }, local.said) : null,
    h("div", { class: "acts" }, act("Make this room", () => make(tools), { class: "act main" }), act("Put it away", () => leave(tools)), act("Empty the sheet", () => tools.send({ do: "clear survey" }))),
  );
}

function quick(state, tools, tell) {
  const sheet = tools.local.sheet;
  const use = async () => {
    const turn = sheet.hand;
    const lengths = ["north", "south"].includes(sheet.heading) ? [sheet.deep, sheet.wide] : [sheet.wide, sheet.deep];
    sheet.walls = [...lengths, ...lengths].map((length) => ({ length, turn, angle: "" }));
    sheet.follows = false;
    await tell(true);
    tools.redraw();
    tools.say("Four walls are filled in");
  };
  const enter = (event) => event.key === "Enter" && (event.preventDefault(), use());
  return h(
    "fieldset",
    { class: "quick", key: "quick" },
    h("legend", {}, "A plain room of four square walls"),
    entry(tools, { name: "wide", label: "Wide, left to right", value: sheet.wide, help: plainNumber(state), on: { input: (_, el) => ((sheet.wide = el.value), tell()), keydown: enter } }),
    entry(tools, { name: "deep", label: "Deep, up the plan", value: sheet.deep, help: plainNumber(state), on: { input: (_, el) => ((sheet.deep = el.value), tell()), keydown: enter } }),
    act("Fill in its walls", use),
  );
}

function walls(state, tools, tell, wrong) {
  const sheet = tools.local.sheet;
  const walk = state.walk;
  const last = sheet.walls.length - 1;
  const add = (i) => {
    if (i === sheet.walls.length - 1) sheet.walls.push({ length: "", turn: sheet.hand, angle: "" });
    tell(true);
    tools.redraw();
    focusOn(tools.id(`wall-${i + 1}`));
  };
  const drop = (i) => {
    sheet.walls.splice(i, 1);
    if (!sheet.walls.length) sheet.walls.push({ length: "", turn: sheet.hand, angle: "" });
    tell(true);
    tools.redraw();
    focusOn(tools.id(`wall-${Math.min(i, sheet.walls.length - 1)}`));
  };
  const enter = (i) => (event) => {
    if (event.key !== "Enter" || !sheet.walls[i].length.trim()) return;
    event.preventDefault();
    add(i);
  };
  const row = (wall, i) => {
    const read = walk.walls[i];
    const set = (name) => (_, el) => ((wall[name] = el.value), tell());
    return h(
      "tr",
      { key: i },
      h("th", { scope: "row" }, String(i + 1)),
      h(
        "td",
        {},
        entry(tools, { name: `wall-${i}`, label: `Length of wall ${i + 1}`, unseen: true, value: wall.length, wrong: wall.length.trim() || i < last ? wrong(`walls/${i}/length`) : null, inputmode: "text", enterkeyhint: "next", on: { input: set("length"), keydown: enter(i) } }),
        read && wall.length.trim() ? h("p", { class: "echo" }, read.drawn ? `${read.reads}, drawn ${read.drawn}` : read.reads) : null,
      ),
      h(
        "td",
        {},
        choice(tools, { name: `turn-${i}`, label: `At the end of wall ${i + 1}, turn`, unseen: true, value: wall.turn, options: TURNS, on: { change: (_, el) => ((wall.turn = el.value), tell(true), tools.redraw()) } }),
        wall.turn === "angle" ? entry(tools, { name: `angle-${i}`, label: "Inside angle, degrees", value: wall.angle, wrong: wrong(`walls/${i}/angle`), inputmode: "decimal", on: { input: set("angle"), keydown: enter(i) } }) : null,
      ),
      h("td", { class: "away" }, act("Take away", () => drop(i), { "aria-label": `Take away wall ${i + 1}` })),
    );
  };
  const shown = sheet.follows ? walk.walls.length : -1;
  return h(
    "div",
    { key: "walls" },
    h(
      "table",
      { class: "taping" },
      h("caption", {}, `Walls, in order. Enter goes on to the next one. A plain number is in ${state.unit}; 4.2 m and 12' 6" are read too.`),
      h("thead", {}, h("tr", {}, ["Wall", "Length", "At its end, turn", ""].map((words, i) => h("th", { scope: "col", key: i }, words || h("span", { class: "unseen" }, "Take away"))))),
      h(
        "tbody",
        {},
        sheet.walls.map(row),
        sheet.follows ? h("tr", { key: "follows" }, h("th", { scope: "row" }, shown > 0 ? String(shown) : ""), h("td", {}, shown > 0 && walk.walls[shown - 1] ? `${walk.walls[shown - 1].reads}, follows` : "follows"), h("td", {}, "back to the start"), h("td", {}, "")) : null,
      ),
    ),
    h("div", { class: "acts" }, act("Add a wall", () => add(last))),
    tick(tools, { name: "follows", label: "The last wall is not taped; it follows from the others", checked: sheet.follows, change: (_, el) => ((sheet.follows = el.checked), tell(true), tools.redraw()) }),
  );
}

function otherHand(hand, sheet, tell, tools) {
  // Whoever goes round the other way turns the other way at each square corner.
  const other = { right: "left", left: "right", angle: "angle" };
  if (hand !== sheet.hand) sheet.walls.forEach((wall) => (wall.turn = other[wall.turn]));
  sheet.hand = hand;
  tell(true);
  tools.redraw();
}

async function make(tools) {
  const local = tools.local;
  const answer = await tools.send({ do: "make room", opened: local.opened, sheet: local.sheet });
  if (answer.ok) {
    local.opened = null;
    return setTimeout(() => document.querySelector(".enfilade .plan .sheet, .enfilade .rooms h2")?.focus(), 0);
  }
  local.errors = answer.errors;
  local.said = answer.errors.some((one) => one.place) ? "" : answer.say;
  tools.redraw();
  const place = (answer.errors.find((one) => one.place) || {}).place || "";
  const id = place.replace(/^walls\/(\d+)\/length$/, "wall-$1").replace(/^walls\/(\d+)\/angle$/, "angle-$1");
  if (id) focusOn(tools.id(id));
}

async function leave(tools) {
  tools.local.opened = null;
  await tools.send({ do: "leave survey" });
  document.querySelector(".enfilade .rooms h2")?.focus();
}
