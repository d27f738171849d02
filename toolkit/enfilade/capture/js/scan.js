import { h } from "./dom.js";
import { act, choice, entry, focusOn, tick, wrongAt } from "./entry.js";
import { scannedPlan } from "./scanned.js";

/** A room drawn over a scanned plan: the picture, two points and their distance, then the corners in order. */
export function view(state, tools) {
  const local = tools.local;
  if (local.opened !== state.opened || !local.sheet) Object.assign(local, { opened: state.opened, sheet: structuredClone(state.sheet), errors: [], said: "" });
  if (!local.sheet.plan && state.sheet.plan) local.sheet = structuredClone(state.sheet);
  const plan = state.plan;
  if (plan && (!local.picture || local.picture.plan !== plan.id)) fetchPicture(plan, tools);
  return h(
    "div",
    { class: "measuring" },
    h("h2", { tabindex: "-1" }, "Draw a room over a scanned plan"),
    picking(state, tools),
    plan ? (state.scaled ? corners(state, tools) : scaling(state, tools)) : null,
    state.trouble ? h("p", { class: "error" }, state.trouble) : null,
    local.said ? h("p", { class: "error", role: "alert" }, local.said) : null,
    h("div", { class: "acts" }, act("Put the plan away", () => leave(tools))),
  );
}

const tell = (tools, now) => tools.later("scan", { do: "plan marks", opened: tools.local.opened, sheet: tools.local.sheet }, now);

function picking(state, tools) {
  const local = tools.local;
  const input = tools.id("file");
  const again = (id) => ((local.sheet = { ...local.sheet, plan: id, marks: [], corners: [], again: false }), tell(tools, true), tools.redraw());
  return h(
    "div",
    { key: "picking", class: "columns" },
    h(
      "div",
      { class: "field", key: "file" },
      h("label", { for: input }, state.plan ? "Another plan" : "Picture of the plan"),
      h("input", { id: input, type: "file", accept: "image/png,image/jpeg,image/webp", "aria-describedby": `${input}-help`, on: { change: (_, el) => el.files.length && add(el.files[0], state, tools) } }),
      h("p", { class: "help", id: `${input}-help` }, local.taking || "PNG, JPEG or WebP. It stays in the studio: no client page shows it."),
    ),
    state.plans.length > 1 || (state.plans.length && !state.plan) ? choice(tools, { name: "plan", label: "Or one that is here", value: local.sheet.plan, options: [["", "choose"], ...state.plans.map((one) => [one.id, one.name])], on: { change: (_, el) => again(el.value) } }) : null,
  );
}

async function add(file, state, tools) {
  const local = tools.local;
  const upload = Math.random().toString(36).slice(2);
  for (let index = 0, at = 0; ; index++) {
    const end = Math.min(file.size, at + state.piece);
    local.taking = `Taking ${file.name}, ${Math.round((100 * at) / file.size)} %`;
    tools.redraw();
    const answer = await tools.send({ do: "add plan", opened: local.opened, called: file.name, upload, index, last: end >= file.size, sheet: local.sheet }, [await file.slice(at, end).arrayBuffer()]);
    if (!answer.ok) local.said = answer.say;
    at = end;
    if (!answer.ok || at >= file.size) break;
  }
  local.taking = "";
  if (!local.said) local.sheet = null;
  tools.redraw();
  if (local.sheet === null || !local.said) focusOn(tools.id("cross"));
}

function fetchPicture(plan, tools) {
  const local = tools.local;
  local.picture = { plan: plan.id, source: "" };
  tools.send({ do: "plan picture", plan: plan.id }, [], true).then((answer) => {
    if (answer.ok) local.picture = { plan: plan.id, source: answer.picture };
    else local.said = answer.say;
    tools.redraw();
  });
}

function scaling(state, tools) {
  const { local } = tools;
  const sheet = local.sheet;
  const mark = (point) => {
    sheet.marks = sheet.marks.length > 1 ? [point] : [...sheet.marks, point];
    tell(tools, true);
    tools.redraw();
    tools.say(sheet.marks.length > 1 ? "Second point marked. Type their distance." : "First point marked. Mark the second one.");
    if (sheet.marks.length > 1) focusOn(tools.id("distance"));
  };
  const give = async () => {
    const answer = await tools.send({ do: "scale plan", opened: local.opened, sheet });
    heard(answer, tools);
    if (answer.ok) local.told = answer.say;
    if (answer.ok) sheet.again = false;
    tools.redraw();
    if (answer.ok) focusOn(tools.id("cross"));
  };
  const enter = (event) => event.key === "Enter" && (event.preventDefault(), give());
  return h(
    "div",
    { key: "scaling" },
    h("p", {}, "Mark two points whose distance you know, such as the ends of a long wall: the farther apart, the better."),
    scannedPlan(state, tools, { marks: sheet.marks, mark, words: "Plan to be set to scale" }),
    wrongAt(local.errors, "marks") ? h("p", { class: "error" }, wrongAt(local.errors, "marks").what) : null,
    entry(tools, { name: "distance", label: "Distance of the two points", value: sheet.distance, wrong: wrongAt(local.errors, "distance"), help: `A plain number is in ${state.unit}.`, on: { input: (_, el) => ((sheet.distance = el.value), tell(tools)), keydown: enter } }),
    tick(tools, { name: "level", label: "Turn the picture until the line between them is level or upright", checked: sheet.level, change: (_, el) => ((sheet.level = el.checked), tell(tools, true)) }),
    act("Set to scale", give, { class: "act main" }),
  );
}

function corners(state, tools) {
  const { local } = tools;
  const sheet = local.sheet;
  const changed = (words) => (tell(tools, true).then(tools.redraw), tools.redraw(), tools.say(words));
  const mark = (point) => {
    sheet.corners = [...sheet.corners, point];
    changed(`Corner ${sheet.corners.length} marked`);
  };
  const back = () => {
    sheet.corners = sheet.corners.slice(0, -1);
    changed(`${sheet.corners.length} corners marked`);
  };
  const make = async () => {
    const answer = await tools.send({ do: "room over plan", opened: local.opened, sheet });
    heard(answer, tools);
    if (answer.ok) local.sheet = null;
    tools.redraw();
    const wrong = answer.errors.find((one) => one.place);
    if (wrong) focusOn(tools.id(wrong.place));
  };
  const typed = (name) => (_, el) => ((sheet[name] = el.value), tell(tools));
  return h(
    "div",
    { key: "corners" },
    h("p", {}, local.told || state.scale),
    act("Set it to scale again", () => ((sheet.again = true), (sheet.marks = []), tell(tools, true), tools.redraw())),
    h("p", {}, "Mark the corners of one room in order, going round it once."),
    scannedPlan(state, tools, { marks: sheet.corners, mark, line: true, outline: state.outline, words: "Plan to be drawn over" }),
    h("p", { class: "closing", role: "status" }, state.walls.length ? `Walls: ${state.walls.join(", ")}.${state.area ? ` Floor: ${state.area}.` : ""}` : "No corner is marked yet."),
    h("div", { class: "acts" }, act("Take the last corner back", back, { disabled: !sheet.corners.length })),
    tick(tools, { name: "square", label: "Make walls square that nearly are", checked: sheet.square, change: (_, el) => ((sheet.square = el.checked), tell(tools, true)) }),
    h(
      "div",
      { class: "columns" },
      entry(tools, { name: "name", label: "Name of the room", value: sheet.name, wrong: wrongAt(local.errors, "name"), on: { input: typed("name") } }),
      choice(tools, { name: "use", label: "Used as", value: sheet.use, options: state.uses, on: { change: typed("use") } }),
      entry(tools, { name: "ceiling", label: "Floor to ceiling", value: sheet.ceiling, wrong: wrongAt(local.errors, "ceiling"), help: "Left empty, it stays unknown.", on: { input: typed("ceiling") } }),
    ),
    act("Close the room and make it", make, { class: "act main" }),
  );
}

function heard(answer, tools) {
  tools.local.errors = answer.errors;
  tools.local.said = answer.ok || answer.errors.some((one) => one.place) ? "" : answer.say;
}

async function leave(tools) {
  Object.assign(tools.local, { opened: null, sheet: null });
  await tools.send({ do: "leave plan" });
  document.querySelector(".enfilade .rooms h2")?.focus();
}
