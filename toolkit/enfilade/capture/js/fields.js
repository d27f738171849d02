import { h } from "./dom.js";
import { choiceControl, describedBy, echoOf, idOf, keyOf, optionsOf, textControl, tickControl } from "./controls.js";
import { chosenOnes, stateButtons, ticks, wordsByField } from "./several.js";

const CHOICES = new Set(["choice", "ref", "yes-no"]);
const GROUPS = { choices: ticks, refs: chosenOnes, "by field": wordsByField };
const OWN = "the studio's own";
const WIDE = 26;
const WITH_UNIT = new Set(["number", "whole", "money"]);

/** A field with its label, help and error. `tools.lists` holds the lists that fields choose from by name. */
export function field(spec, path, tools) {
  const one = path ? { ...spec, path } : spec;
  const id = idOf(one.path, tools);
  if (one.kind === "record") return recordField(one, id, tools);
  if (one.kind === "one-of") return waysField(one, id, tools);
  if (one.kind === "records") return rows(one, null, tools);
  if (one.kind in GROUPS) {
    return h("fieldset", { ...frame(one), key: keyOf(one.path), "aria-describedby": describedBy(one, id, tools) },
      h("legend", {}, one.label), GROUPS[one.kind](one, id, tools), about(one, id, tools));
  }
  const unit = one.unit && WITH_UNIT.has(one.kind) ? ` (${one.unit})` : "";
  const label = h("div", { class: "labelled" }, h("label", { for: id }, `${one.label}${unit}`), echo(one, id, tools));
  if (one.kind === "yes-no" && !one.unknown) {
    return h("div", { ...frame(one), key: keyOf(one.path) }, h("div", { class: "tick" }, tickControl(one, id, tools), label), about(one, id, tools));
  }
  const control = CHOICES.has(one.kind) ? choiceControl(one, id, tools) : textControl(one, id, tools);
  return h("div", { ...frame(one, tools), key: keyOf(one.path) }, label, control, about(one, id, tools));
}

/** How it was read stands beside the label, where its coming and going moves nothing. */
function echo(spec, id, tools) {
  const words = echoOf(spec, tools);
  return words ? h("span", { class: "echo", id: `${id}-echo` }, words) : null;
}

/** How wide a field stands follows from what it holds. */
function frame(spec, tools) {
  const options = tools ? optionsOf(spec, tools) : [];
  const long = options.some((one) => one.label.length > WIDE) || (spec.kind === "text" && String(spec.shown).length > WIDE);
  return { class: `field as-${spec.kind.replace(" ", "-")}${long ? " wide" : ""}`, "data-path": keyOf(spec.path) };
}

/** Several fields beside each other, where there is room. */
export function fields(list, tools) {
  return h("div", { class: "columns" }, list.map((one) => field(one, null, tools)));
}

function about(spec, id, tools) {
  // Who may be told a field is said only where it is nobody: that is what one must be sure of while writing.
  const own = spec.told === OWN && !(spec.help || "").includes(OWN) ? OWN : "";
  const help = [spec.help, own].filter(Boolean).join("; ");
  return [
    help ? h("p", { class: "help", key: "help", id: `${id}-help` }, help[0].toUpperCase() + help.slice(1)) : null,
    spec.error ? h("p", { class: "error", key: "error", id: `${id}-error` }, spec.error) : null,
  ];
}

/** A record in a field: it may be unknown or none, and begins with what it must have. */
function recordField(spec, id, tools) {
  // One element in every state, so that who types its last part is not disturbed when it begins.
  const words = { none: ": none", unknown: ": not known", value: "" }[spec.state];
  const open = spec.state === "value" || spec.fields.some((one) => one.typed !== undefined) || null;
  return h("details", { class: "field inner", key: keyOf(spec.path), "data-path": keyOf(spec.path), open },
    h("summary", {}, `${spec.label}${words}`), about(spec, id, tools), fields(spec.fields, tools), stateButtons(spec, tools));
}

/** One of several records, told apart by how it stands. */
function waysField(spec, id, tools) {
  const choice = { ...spec, kind: "choice", options: spec.ways };
  return h("fieldset", { class: "field inner ways", key: keyOf(spec.path) }, h("legend", {}, spec.label),
    h("div", { class: "field" }, h("div", { class: "labelled" }, h("label", { for: id }, "How it stands"), echo(spec, id, tools)), choiceControl(choice, id, tools), about(spec, id, tools)),
    fields(spec.fields, tools));
}

/** Records that repeat: each is opened on its own, and can be moved and taken out. */
export function rows(spec, path, tools) {
  const one = path ? { ...spec, path } : spec;
  const id = idOf(one.path, tools);
  return h("fieldset", { class: "field rows", "data-path": keyOf(one.path), key: keyOf(one.path), id },
    h("legend", {}, one.label), about(one, id, tools),
    one.rows.map((row, index) => rowOf(one, row, index, tools)),
    one.rows.length ? null : stateButtons(one, tools),
    one.add.length ? adding(one, id, tools) : null);
}

function rowOf(spec, row, index, tools) {
  const key = keyOf(row.path);
  const move = (words, by) => {
    const click = async (_, el) => {
      await tools.send({ do: "move row", path: row.path, by });
      if (el.isConnected) el.focus();
    };
    return h("button", { type: "button", class: "act", key: words, "aria-label": `${words}: ${row.title}`, on: { click } }, words);
  };
  const open = tools.local.begun === key || row.fields.some((one) => one.error) || null;
  return h("details", { class: "row", key, open, id: idOf(row.path, tools) },
    h("summary", {}, row.title), fields(row.fields, tools),
    spec.fixed ? null : h("div", { class: "acts" }, index ? move("Move up", -1) : null, index < spec.rows.length - 1 ? move("Move down", 1) : null),
    spec.fixed ? null : removing(row.path, row.title, "fieldset.rows", tools));
}

/** Take a record out; what still names it is told first. `around` is where the focus goes on. */
export function removing(path, title, around, tools) {
  const key = keyOf(path);
  const asked = (tools.local.asked ??= {});
  const act = (words, click) => h("button", { type: "button", class: "act", key: words, "aria-label": `${words}: ${title}`, on: { click } }, words);
  const remove = (along) => async (_, el) => {
    const list = el.closest(around);
    const answer = await tools.send({ do: "remove row", path, along });
    asked[key] = answer.ask || (answer.ok ? "" : answer.say);
    tools.redraw();
    const next = answer.ok && !answer.ask && list ? list.querySelector("summary, input, textarea, select, button") : null;
    if (next) next.focus();
  };
  const keep = () => {
    delete asked[key];
    tools.redraw();
  };
  if (!asked[key]) return h("div", { class: "acts", key: "removing" }, act("Remove", remove(false)));
  return h("div", { class: "trouble", key: "removing" }, h("p", {}, asked[key]), h("div", { class: "acts" }, act("Remove all the same", remove(true)), act("Keep it", keep)));
}

function adding(spec, id, tools) {
  const add = async (_, el) => {
    const root = el.getRootNode();
    const answer = await tools.send({ do: "add row", path: spec.path });
    if (!answer.ok) return;
    tools.local.begun = keyOf(answer.path);
    tools.redraw();
    const row = root.getElementById(idOf(answer.path, tools));
    const first = row && row.querySelector("input, textarea, select");
    if (row) row.open = true;
    if (first) first.focus();
  };
  const words = `Add ${/^[aeiou]/.test(spec.one) ? "an" : "a"} ${spec.one}`;
  const begun = spec.add.some((one) => one.typed !== undefined && one.typed !== "") || null;
  return h("details", { class: "adding", key: "adding", open: begun }, h("summary", {}, words), fields(spec.add, tools), h("button", { type: "button", class: "act", on: { click: add } }, "Write it down"));
}

/** Fields have no section of their own: they stand in those of others. */
export function view() {
  return h("div", {});
}
