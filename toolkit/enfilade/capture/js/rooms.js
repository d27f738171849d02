import { h } from "./dom.js";
import { act, choice, entry, tick, wrongAt } from "./entry.js";

/** The rooms of the house, and what can be done with the one that is on the page. */
export function view(state, tools) {
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "Rooms"),
    state.rooms.length
      ? h("ul", { class: "plain listed" }, state.rooms.map((room) => h("li", { key: room.id }, act(room.name, () => tools.send({ do: "room", space: room.id }), { "aria-current": room.here ? "true" : null }), h("span", { class: "small" }, `${room.use}, ${room.area}`))))
      : h("p", {}, "No room is drawn yet."),
    state.measuring && h(
      "div",
      { class: "acts" },
      act("Draw a room by its walls", () => open("draw room", "survey", tools), { class: state.rooms.length ? "act" : "act main" }),
      act("Draw a room over a scanned plan", () => open("draw over plan", "scan", tools)),
    ),
    state.present ? present(state, tools) : null,
  );
}

async function open(what, part, tools) {
  await tools.send({ do: what });
  const title = document.querySelector(`.enfilade .${part} h2`);
  if (title) title.focus();
}

function present(state, tools) {
  const room = state.present;
  const local = tools.local;
  if (local.room !== room.id) Object.assign(local, { room: room.id, form: { ...room.typed }, typed: false, errors: [], said: "" });
  else if (!local.typed) local.form = { ...room.typed };
  return h(
    "div",
    { key: room.id },
    room.overlaps.length ? h("p", { class: "trouble" }, `${room.name} stands on the floor of ${room.overlaps.join(", ")}.`) : null,
    folded("walls", `Walls of ${room.name}, taped again`, retaping(room, state, tools)),
    room.others.length ? folded("place", `Where ${room.name} stands`, [joining(room, state, tools), moving(room, state, tools)]) : null,
    folded("out", `Take ${room.name} out of the house`, removing(room, tools)),
  );
}

function folded(key, words, inside) {
  return h("details", { key }, h("summary", {}, words), h("div", { class: "folded" }, inside));
}

function retaping(room, state, tools) {
  const keeps = (tools.local.keeps ??= "left");
  const tape = async (wall, el) => {
    const answer = await tools.send({ do: "tape wall", wall: wall.id, typed: el.value, keeps: tools.local.keeps });
    if (answer.ok) el.value = "";
  };
  const row = (wall) =>
    h(
      "tr",
      { key: wall.id },
      h("th", { scope: "row" }, wall.name),
      h("td", {}, wall.length),
      h(
        "td",
        {},
        entry(tools, {
          name: `again-${wall.id}`,
          label: `Taped again, ${wall.name}`,
          unseen: true,
          value: wall.typed || "",
          wrong: wall.error ? { what: wall.error } : null,
          on: {
            input: (_, el) => tools.later(`again ${wall.id}`, { do: "keep wall", wall: wall.id, typed: el.value }),
            change: (_, el) => tape(wall, el),
          },
        }),
      ),
    );
  return [
    room.lining ? h("p", { class: "small" }, "Lengths here are from finished face to finished face, not to the framing.") : null,
    h("p", { class: "small" }, `The wall beyond the end that moves goes along in parallel, and the wall across takes the same length. A plain number is in ${state.unit}.`),
    choice(tools, { name: "keeps", label: "Seen from inside, what stays is each wall's", value: keeps, options: [["left", "left end"], ["right", "right end"]], on: { change: (_, el) => ((tools.local.keeps = el.value), tools.redraw()) } }),
    h("table", { class: "taping" }, h("thead", {}, h("tr", {}, ["Wall", "Length", "Taped again"].map((words) => h("th", { scope: "col", key: words }, words)))), h("tbody", {}, room.walls.map(row))),
    room.assumed ? act("All of it is measured now", () => tools.send({ do: "all walls taped" })) : null,
    room.lining ? lining(room, tools) : null,
  ];
}

// What is typed about the room and not done yet; it is kept as it is typed.
function typing(tools, name) {
  const { form, room } = tools.local;
  return { input: (_, el) => ((form[name] = el.value), (tools.local.typed = true), tools.later(`place ${room}`, { do: "keep place", space: room, typed: form })) };
}

function lining(room, tools) {
  const local = tools.local;
  const give = async () => answered(await tools.send({ do: "lining taped", typed: local.form.lining }), tools, ["lining"]);
  return h(
    "div",
    { key: "lining" },
    h("p", {}, `Taped to bare framing; ${room.lining.size} of lining is taken off each wall${room.lining.assumed ? ", which is assumed" : ""}.`),
    entry(tools, { name: "lining", label: "Lining as measured on site", value: local.form.lining, wrong: wrongAt(local.errors, "lining"), on: typing(tools, "lining") }),
    act("Take this lining", give),
  );
}

function answered(answer, tools, done = []) {
  if (answer.ok) done.forEach((name) => (tools.local.form[name] = ""));
  tools.local.errors = answer.ok ? [] : answer.errors;
  tools.local.said = answer.ok || answer.errors.some((one) => one.place) ? "" : answer.say;
  tools.redraw();
}

function joining(room, state, tools) {
  const local = tools.local;
  const typed = local.form;
  const wall = room.walls.some((one) => one.id === typed.wall) ? typed.wall : room.walls[0].id;
  const beyond = room.others.some((one) => one.id === typed.beyond) ? typed.beyond : room.others[0].id;
  const give = async () => answered(await tools.send({ do: "join room", wall, beyond, offset: typed.offset, thickness: typed.thickness }), tools, ["wall", "beyond", "offset", "thickness"]);
  const change = (name) => ({ change: (_, el) => (typing(tools, name).input(_, el), tools.redraw()) });
  return h(
    "fieldset",
    { key: "join" },
    h("legend", {}, "Set it behind a wall of another room, so that a door can join them"),
    h(
      "div",
      { class: "columns" },
      choice(tools, { name: "own", label: `Wall of ${room.name}`, value: wall, options: room.walls.map((one) => [one.id, one.name]), on: change("wall") }),
      choice(tools, { name: "beyond", label: "is the other face of", value: beyond, options: room.others.map((one) => [one.id, one.name]), on: change("beyond") }),
      entry(tools, { name: "offset", label: "From the left end of that wall", value: typed.offset, wrong: wrongAt(local.errors, "offset"), help: "Seen from inside the other room. Empty: end to end.", on: typing(tools, "offset") }),
      entry(tools, { name: "thickness", label: "Thickness of the wall between", value: typed.thickness, wrong: wrongAt(local.errors, "thickness"), help: "From finished face to finished face.", on: typing(tools, "thickness") }),
    ),
    act("Set it there", give),
    local.said ? h("p", { class: "error", role: "alert" }, local.said) : null,
  );
}

function moving(room, state, tools) {
  const local = tools.local;
  const typed = local.form;
  const give = async () => answered(await tools.send({ do: "move room", right: typed.right, up: typed.up }), tools, ["right", "up"]);
  return h(
    "fieldset",
    { key: "move" },
    h("legend", {}, "Or move it on the plan, with all that stands in it"),
    h(
      "div",
      { class: "columns" },
      entry(tools, { name: "right", label: "To the right", value: typed.right, wrong: wrongAt(local.errors, "right"), help: "With a minus, to the left.", on: typing(tools, "right") }),
      entry(tools, { name: "up", label: "Up the plan", value: typed.up, wrong: wrongAt(local.errors, "up"), help: "With a minus, down the plan.", on: typing(tools, "up") }),
    ),
    act("Move it", give),
  );
}

function removing(room, tools) {
  const local = tools.local;
  const give = async () => {
    const answer = await tools.send({ do: "take room out", all: !!local.all });
    local.all = false;
    answered(answer, tools);
    if (answer.ok) document.querySelector(".enfilade .rooms h2")?.focus();
  };
  return [
    h("p", {}, room.holds.length ? `It holds ${room.holds.join(", ")}. A door to another room stays with that room.` : "It is empty."),
    room.holds.length ? tick(tools, { name: "all", label: "with everything in it", checked: local.all, change: (_, el) => (local.all = el.checked) }) : null,
    act(`Take ${room.name} out`, give),
    local.said ? h("p", { class: "error", role: "alert" }, local.said) : null,
  ];
}
