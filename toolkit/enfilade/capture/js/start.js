import { h } from "./dom.js";

const PAUSE_MS = 250;

/** Before there is a house: the three questions, houses that were open before, and the demo house. */
export function view(state, tools) {
  const typed = (tools.local.typed ??= { name: "", folder: state.given, units: state.units[0].value, open: "", ...kept() });
  return h(
    "div",
    {},
    h("h1", { tabindex: "-1" }, "Which house?"),
    tools.local.said ? h("p", { class: "trouble", role: "alert" }, tools.local.said) : null,
    state.before.length ? before(state, tools) : null,
    questions(state, typed, tools),
    h("h2", { id: tools.id("demo") }, "Look round first"),
    h("p", {}, "The demo house is invented. It is copied for you, so that nothing you do there can harm anything."),
    h("p", {}, act("Try the demo house", () => go({ do: "open demo" }, tools), tools)),
    h("h2", {}, "Another house that is kept on this machine"),
    text("open", "Its folder", "The folder that it was kept in.", typed, tools),
    h("p", {}, act("Open this folder", () => go({ do: "open project", folder: typed.open }, tools), tools)),
  );
}

function before(state, tools) {
  const open = (one) => () => go({ do: "open project", folder: one.folder }, tools);
  return h(
    "section",
    { key: "before", "aria-labelledby": tools.id("before") },
    h("h2", { id: tools.id("before") }, "Open before"),
    h(
      "ul",
      { class: "plain" },
      state.before.map((one) =>
        h("li", { key: one.folder }, act(one.name, open(one), tools, `Open ${one.name}`), h("span", { class: "small" }, `${one.folder}, last on ${one.on}`)),
      ),
    ),
  );
}

function questions(state, typed, tools) {
  const begin = (event) => {
    event.preventDefault();
    go({ do: "start project", name: typed.name, folder: typed.folder, units: typed.units }, tools);
  };
  const place = typed.folder ? "" : tools.local.place ? `Left empty, it is kept in ${tools.local.place}.` : `Left empty, it is kept in a folder of its own in ${state.documents}.`;
  return h(
    "form",
    { key: "questions", "aria-labelledby": tools.id("new"), novalidate: true, autocomplete: "off", on: { submit: begin } },
    h("h2", { id: tools.id("new") }, "A new house"),
    text("name", "What is the house called?", "As you call it among yourselves, such as Boathouse.", typed, tools, () => suggest(typed, tools)),
    text("folder", "Where will it be kept?", `A new folder on this machine. ${place}`, typed, tools),
    h(
      "fieldset",
      { class: "field", "aria-describedby": faulty("units", tools) ? tools.id("units-error") : null },
      h("legend", {}, "How are lengths written?"),
      state.units.map((one) =>
        h(
          "label",
          { class: "tick", key: one.value },
          h("input", { type: "radio", name: tools.id("units"), value: one.value, checked: typed.units === one.value, on: { change: () => keep(typed, "units", one.value) } }),
          one.label,
        ),
      ),
      error("units", tools),
    ),
    h("p", {}, h("button", { type: "submit", class: "act main", disabled: !!tools.local.busy }, "Begin this house")),
  );
}

function text(name, label, help, typed, tools, then) {
  const id = tools.id(name);
  const wrong = faulty(name, tools);
  const heard = (_, element) => {
    keep(typed, name, element.value);
    if (then) then();
  };
  return h(
    "div",
    { class: "field", key: name },
    h("label", { for: id }, label),
    h("input", { id, type: "text", value: typed[name], spellcheck: "false", "aria-invalid": wrong ? "true" : null, "aria-describedby": wrong ? `${id}-error ${id}-help` : `${id}-help`, on: { input: heard } }),
    error(name, tools),
    h("p", { id: `${id}-help`, class: "help" }, help),
  );
}

function act(words, click, tools, label) {
  return h("button", { type: "button", class: "act", disabled: !!tools.local.busy, "aria-label": label, on: { click } }, words);
}

const faulty = (name, tools) => (tools.local.errors || []).find((one) => one.place === name);

function error(name, tools) {
  const wrong = faulty(name, tools);
  if (!wrong) return null;
  return h("p", { id: `${tools.id(name)}-error`, class: "error" }, wrong.expected ? `${wrong.what}; expected ${wrong.expected}` : wrong.what);
}

async function go(message, tools) {
  tools.local.busy = true;
  tools.redraw();
  const answer = await tools.send(message);
  tools.local.busy = false;
  tools.local.errors = answer.errors;
  tools.local.said = !answer.ok && !(answer.errors || []).some((one) => one.place) ? answer.say : "";
  if (answer.ok) {
    sessionStorage.removeItem(KEPT);
    document.dispatchEvent(new CustomEvent("enfilade-title", { detail: answer.house }));
    setTimeout(arrive, 100);
  } else {
    tools.redraw();
    const wrong = (answer.errors || []).find((one) => one.place);
    if (wrong) document.getElementById(tools.id(wrong.place))?.focus();
  }
}

// Who follows with the keyboard or by ear goes on at the top of the house's page.
function arrive() {
  const top = document.querySelector(".enfilade h1, .enfilade h2");
  if (!top) return;
  top.setAttribute("tabindex", "-1");
  top.focus();
}

function suggest(typed, tools) {
  clearTimeout(tools.local.waiting);
  tools.local.waiting = setTimeout(async () => {
    const answer = await tools.send({ do: "suggest place", name: typed.name }, [], true);
    tools.local.place = answer.folder || "";
    tools.redraw();
  }, PAUSE_MS);
}

// What was typed here stays through a reload; there is no house yet to keep it in.
const KEPT = "enfilade-start";

function kept() {
  try {
    return JSON.parse(sessionStorage.getItem(KEPT)) || {};
  } catch {
    return {};
  }
}

function keep(typed, name, value) {
  typed[name] = value;
  sessionStorage.setItem(KEPT, JSON.stringify(typed));
}
