import { h } from "./dom.js";

// One control for each way in which a field is typed. What is typed goes to Python as it is; Python reads it.

const SEVERAL_LINES = new Set(["longtext", "texts", "point list"]);
const NUMERIC = new Set(["number", "whole", "money"]);
const ECHO_MS = 4000;
const READ_BACK = new Set(["length", "lengths", "number", "numbers", "whole", "money", "day", "point", "colour"]);

export const keyOf = (path) => path.join("/");
export const idOf = (path, tools) => tools.id(keyOf(path));

/** Return the names of what describes a field: its help, how it was read, and what is wrong. */
export function describedBy(spec, id, tools) {
  const names = [spec.help || spec.told === "the studio's own" ? `${id}-help` : null, echoOf(spec, tools) ? `${id}-echo` : null, spec.error ? `${id}-error` : null];
  return names.filter(Boolean).join(" ") || null;
}

export const echoOf = (spec, tools) => keptBy(tools).echoes[keyOf(spec.path)];

/** Send what was typed; say how it was read, and what changed beside it. */
export function take(spec, typed, now, tools) {
  const key = keyOf(spec.path);
  const { echoes, sent, waits } = keptBy(tools);
  sent[key] = JSON.stringify(typed);
  const mine = (waits[key] = { typed });
  const turn = tools.say.turn;
  mine.answered = tools.set(spec.path, typed, now).then((answer) => {
    if (waits[key] === mine) delete waits[key];
    const read = READ_BACK.has(spec.kind) && answer.ok && typeof answer.shown === "string" && answer.shown !== typed ? `Read as ${answer.shown}` : "";
    const words = [read, answer.ok ? answer.say : ""].filter(Boolean).join(". ");
    if (words) echoes[key] = words;
    else delete echoes[key];
    const said = now ? answer.say || read : "";
    if (said) tools.say(said);
    else if (answer.ok && tools.say.turn === turn) tools.say(""); // what was said of an earlier value is past
    tools.redraw();
    return answer;
  });
  return mine.answered;
}

const keptBy = (tools) => ({ echoes: (tools.local.echoes ??= {}), sent: (tools.local.sent ??= {}), waits: (tools.local.waits ??= {}) });

/** What stands in a field: what was just typed, until Python has answered; what it could not take; what it shows. */
export function typedOf(spec, tools) {
  const waiting = keptBy(tools).waits[keyOf(spec.path)];
  if (waiting) return waiting.typed;
  return spec.typed !== undefined && spec.typed !== null ? spec.typed : spec.shown;
}

function left(spec, value, tools) {
  const key = keyOf(spec.path);
  const { echoes, sent, waits } = keptBy(tools);
  if (sent[key] !== undefined && sent[key] !== JSON.stringify(value)) take(spec, value, true, tools).then(() => fade(key, tools));
  // What was typed last is still on its way: how it is read is said once that is known.
  else if (waits[key]) waits[key].answered.then((answer) => (answer.ok ? told(key, tools) : tools.say(answer.say)));
  else if (spec.error) tools.say(spec.error);
  else told(key, tools);
  setTimeout(tools.redraw); // once it is left, it shows what the house says
}

function told(key, tools) {
  const words = keptBy(tools).echoes[key];
  if (words) tools.say(words);
  fade(key, tools);
}

/** The echo stays a while: what is pressed next must not move away under the pointer. */
function fade(key, tools) {
  const { echoes } = keptBy(tools);
  const words = echoes[key];
  setTimeout(() => {
    if (!words || echoes[key] !== words) return;
    delete echoes[key];
    tools.redraw();
  }, ECHO_MS);
}

const asText = (value) =>
  Array.isArray(value) ? value.map((one) => (Array.isArray(one) ? one.join(", ") : one)).join("\n") : String(value ?? "");

/** A line of text, or several; lengths, amounts and days are typed as text too. */
export function textControl(spec, id, tools) {
  const value = spec.kind === "point" ? [].concat(typedOf(spec, tools)).join(", ") : asText(typedOf(spec, tools));
  const shared = {
    id,
    value,
    "aria-describedby": describedBy(spec, id, tools),
    "aria-invalid": spec.error ? "true" : null,
    "aria-required": spec.required ? "true" : null,
    on: {
      input: (_, el) => take(spec, el.value, false, tools),
      change: (_, el) => left(spec, el.value, tools),
    },
  };
  if (SEVERAL_LINES.has(spec.kind)) return h("textarea", { ...shared, rows: 2 });
  const inputmode = NUMERIC.has(spec.kind) ? "decimal" : null;
  const line = h("input", { type: "text", ...shared, inputmode, autocomplete: "off", placeholder: spec.kind === "day" ? "2026-03-31" : null, class: spec.kind === "text" ? null : "short" });
  if (spec.kind !== "colour") return line;
  const pick = { type: "color", value: spec.shown || "#ffffff", "aria-label": `Choose ${spec.label.toLowerCase()} by eye`, on: { input: (_, el) => take(spec, el.value, false, tools) } };
  return h("div", { class: "colour" }, line, h("input", pick));
}

export function optionsOf(spec, tools) {
  return Array.isArray(spec.options) ? spec.options : (tools.lists || {})[spec.options] || [];
}

/** One of several, by name; rooms head the long lists. */
export function choiceControl(spec, id, tools) {
  const value = String(typedOf(spec, tools) ?? "");
  const options = spec.kind === "yes-no" ? [{ value: "yes", label: "yes" }, { value: "no", label: "no" }] : optionsOf(spec, tools);
  const beside = [];
  const unsaid = spec.kind === "ref" ? "not said" : "not known";
  if (spec.unknown || value === "") beside.push({ value: "", label: spec.unknown ? unsaid : "choose" });
  if (spec.none) beside.push({ value: "none", label: "none" });
  if (value && ![...beside, ...options].some((one) => one.value === value)) beside.push({ value, label: "what is not there any more" });
  const props = {
    id,
    value,
    "aria-describedby": describedBy(spec, id, tools),
    "aria-invalid": spec.error ? "true" : null,
    "aria-required": spec.required ? "true" : null,
    on: { change: (_, el) => take(spec, el.value, true, tools) },
  };
  return h("select", props, beside.map(option), inGroups(options));
}

const option = (one) => h("option", { key: one.value, value: one.value }, one.label);

export function inGroups(options) {
  const groups = new Map();
  for (const one of options) groups.set(one.group || "", [...(groups.get(one.group || "") || []), one]);
  if (groups.size < 2) return options.map(option);
  return [...groups].map(([name, group]) => (name ? h("optgroup", { key: name, label: name }, group.map(option)) : group.map(option)));
}

/** Yes or no, where one of them holds when nothing is said. */
export function tickControl(spec, id, tools) {
  const props = {
    id,
    type: "checkbox",
    checked: typedOf(spec, tools) === "yes" || typedOf(spec, tools) === true,
    "aria-describedby": describedBy(spec, id, tools),
    "aria-invalid": spec.error ? "true" : null,
    on: { change: (_, el) => take(spec, el.checked, true, tools) },
  };
  return h("input", props);
}
