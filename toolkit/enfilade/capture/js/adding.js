import { h } from "./dom.js";
import { act, choice, entry, wrongAt } from "./entry.js";

/** Add to the room: what, where, how wide; what was added is selected on the plan. */
export function view(state, tools) {
  if (state.nothing) return h("div", {}, h("h2", {}, "Add to this room"), h("p", {}, state.nothing));
  const local = tools.local;
  // What was typed before the page was loaded again comes a moment later; it stands until something is typed here.
  if (!local.typed) local.sheet = { ...state.sheet };
  const sheet = local.sheet;
  const kinds = state.groups.flatMap((group) => group.kinds);
  const kind = kinds.find((one) => one.value === sheet.what);
  const wheres = kind ? placesOf(kind, state) : [];
  if (!wheres.some(([value]) => value === sheet.where)) sheet.where = wheres.length ? wheres[0][0] : "";
  const errors = local.errors;
  const keep = (name, now) => (_, el) => {
    // Another thing has its own best place and size.
    if (name === "what") Object.assign(sheet, { where: "", width: "", seats: "", offset: "" });
    sheet[name] = el.value;
    local.errors = [];
    local.typed = true;
    tools.later("adding", { do: "adding", sheet }, now);
    if (now) tools.redraw();
  };
  const enter = { keydown: (event) => event.key === "Enter" && (event.preventDefault(), add(state, tools)) };
  const opening = kind && kind.value.startsWith("openings/");
  return h(
    "div",
    {},
    h("h2", { id: tools.id("title"), tabindex: "-1" }, "Add to this room"),
    h(
      "div",
      { class: "columns" },
      what(state, tools, keep("what", true), wrongAt(errors, "what")),
      kind ? choiceWrong(tools, { name: "where", label: "Where", value: sheet.where, options: wheres, on: { change: keep("where", true) } }, wrongAt(errors, "where")) : null,
      kind ? entry(tools, { name: "width", label: "Width", value: sheet.width, wrong: wrongAt(errors, "width"), help: `Left empty, ${kind.width} is assumed.`, on: { input: keep("width"), ...enter } }) : null,
      kind && kind.seats ? entry(tools, { name: "seats", label: "People who sit at it", value: sheet.seats, wrong: wrongAt(errors, "seats"), help: "Left empty, its usual size. Otherwise it is made large enough.", inputmode: "numeric", on: { input: keep("seats"), ...enter } }) : null,
      opening ? entry(tools, { name: "offset", label: "From the left end of the wall", value: sheet.offset, wrong: wrongAt(errors, "offset"), help: "As seen from inside the room. Left empty, in the middle of what is free.", on: { input: keep("offset"), ...enter } }) : null,
    ),
    local.said ? h("p", { class: "error", role: "alert", key: "said" }, local.said) : null,
    h("div", { class: "acts" }, act(kind ? `Add ${article(kind.label)}` : "Add", () => add(state, tools), { class: "act main" })),
  );
}

function what(state, tools, change, wrong) {
  const id = tools.id("what");
  const options = (group) => group.kinds.map((one) => h("option", { key: one.value, value: one.value }, one.label));
  return h(
    "div",
    { class: "field", key: "what" },
    h("label", { for: id }, "What"),
    h(
      "select",
      { id, value: tools.local.sheet.what, on: { change }, "aria-invalid": wrong ? "true" : null, "aria-describedby": wrong ? `${id}-error` : null },
      h("option", { value: "", key: "" }, "choose what to add"),
      state.groups.map((group) => h("optgroup", { label: group.title, key: group.title }, options(group))),
    ),
    wrong ? h("p", { class: "error", id: `${id}-error` }, `${wrong.what}; expected ${wrong.expected}`) : null,
  );
}

/** A choice that says what was refused of it. */
function choiceWrong(tools, spec, wrong) {
  const field = choice(tools, spec);
  if (!wrong) return field;
  const select = field.querySelector("select");
  select.setAttribute("aria-invalid", "true");
  select.setAttribute("aria-describedby", `${select.id}-error`);
  field.append(h("p", { class: "error", id: `${select.id}-error` }, wrong.expected ? `${wrong.what}; expected ${wrong.expected}` : wrong.what));
  return field;
}

/** Where a kind can go: its usual place first, then each wall, each thing that may carry it, the floor. */
function placesOf(kind, state) {
  const places = kind.usually ? [["", kind.usually]] : [];
  if (kind.wheres.includes("hosts")) {
    for (const [value, name, one] of state.hosts) if (kind.hosts.includes(one)) places.push([value, `${kind.way} the ${name}`]);
  }
  const way = kind.value.startsWith("openings/") ? "in" : "against";
  if (kind.wheres.includes("walls")) for (const [value, name] of state.walls) places.push([value, `${way} ${name}`]);
  if (kind.wheres.includes("floor")) places.push(["floor", "free on the floor"]);
  return places;
}

async function add(state, tools) {
  const local = tools.local;
  const sheet = local.sheet;
  const [list, kind, what] = sheet.what.split("/");
  const message = { do: list === "openings" ? "add opening" : "add thing", kind, what, where: sheet.where, width: sheet.width, seats: sheet.seats, offset: sheet.offset };
  const answer = await tools.send(message);
  local.errors = answer.errors;
  local.said = answer.ok || answer.errors.some((one) => one.place) ? "" : answer.say;
  if (answer.ok) Object.assign(sheet, { width: "", seats: "", offset: "" });
  tools.redraw();
  if (answer.ok) return;
  const wrong = answer.errors.find((one) => one.place);
  if (wrong) document.getElementById(tools.id(wrong.place))?.focus();
}

const article = (label) => {
  const word = label.toLowerCase();
  return `${"aeiou".includes(word[0]) ? "an" : "a"} ${word}`;
};
