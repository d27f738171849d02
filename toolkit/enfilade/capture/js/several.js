import { h } from "./dom.js";
import { describedBy, inGroups, optionsOf, take, typedOf } from "./controls.js";

// Fields that hold several at once.

const listOf = (spec, tools) => [typedOf(spec, tools)].flat().filter((one) => one && one !== "none");

/** Not known, or known to be nothing: where a field may be so. */
export function stateButtons(spec, tools) {
  const button = (words, typed, state) =>
    h("button", { type: "button", class: "act", "aria-pressed": String(spec.state === state), "aria-label": `${spec.label}: ${words.toLowerCase()}`, on: { click: () => take(spec, typed, true, tools) } }, words);
  const buttons = [spec.none ? button("None", "none", "none") : null, spec.unknown ? button("Not known", "", "unknown") : null].filter(Boolean);
  return buttons.length ? h("div", { class: "acts", key: "state" }, buttons) : null;
}

/** Some of a few words, each with a box to tick. */
export function ticks(spec, id, tools) {
  const chosen = listOf(spec, tools);
  const change = (_, el) => {
    const boxes = [...el.closest("fieldset").querySelectorAll("input[type=checkbox]")];
    take(spec, boxes.filter((box) => box.checked).map((box) => box.name), true, tools);
  };
  return [
    optionsOf(spec, tools).map((one) =>
      h("div", { class: "tick", key: one.value }, [
        h("input", { type: "checkbox", id: `${id}-${one.value}`, name: one.value, checked: chosen.includes(one.value), on: { change } }),
        h("label", { for: `${id}-${one.value}` }, one.label),
      ]),
    ),
    stateButtons(spec, tools),
  ];
}

/** Records by name: those that are chosen, and a list to add from. */
export function chosenOnes(spec, id, tools) {
  const chosen = listOf(spec, tools);
  const options = optionsOf(spec, tools);
  const label = (value) => {
    const found = options.find((one) => one.value === value);
    if (!found) return "what is not there any more";
    // Here no heading says the room.
    const alike = options.some((one) => one !== found && one.label === found.label);
    return alike && found.group ? `${found.label}, ${found.group}` : found.label;
  };
  const out = (value) => () => take(spec, chosen.filter((one) => one !== value), true, tools);
  const add = (_, el) => {
    if (el.value) take(spec, [...chosen, el.value], true, tools);
    el.value = "";
  };
  const rest = options.filter((one) => !chosen.includes(one.value));
  return [
    h("ul", { class: "plain chosen" }, chosen.map((value) =>
      h("li", { key: value }, h("span", {}, label(value)), h("button", { type: "button", class: "act", "aria-label": `Take out ${label(value)}`, on: { click: out(value) } }, "Take out")),
    )),
    rest.length
      ? h("select", { id, value: "", "aria-label": `Add to ${spec.label.toLowerCase()}`, "aria-describedby": describedBy(spec, id, tools), on: { change: add } },
          h("option", { value: "" }, chosen.length ? "add another" : "add"), inGroups(rest))
      : null,
  ];
}

/** A word for single fields that are known otherwise than the rest. */
export function wordsByField(spec, id, tools) {
  const said = spec.shown || {};
  const pick = (tools.local.picked ??= {});
  const names = [...Object.keys(said), ...(pick[id] && !(pick[id] in said) ? [pick[id]] : [])];
  const label = (name) => (spec.per.find((one) => one.value === name) || { label: name }).label;
  const inner = (name) => ({ ...spec, path: [...spec.path, name] });
  const choose = (name) => (_, el) => {
    delete pick[id];
    take(inner(name), el.value, true, tools);
  };
  const begin = (_, el) => {
    pick[id] = el.value;
    el.value = "";
    tools.redraw();
  };
  const rest = spec.per.filter((one) => !names.includes(one.value));
  return [
    names.map((name) =>
      h("div", { class: "pair", key: name }, h("label", { for: `${id}-${name}` }, label(name)),
        h("select", { id: `${id}-${name}`, value: typedOf({ ...inner(name), typed: undefined, shown: said[name] || "" }, tools), on: { change: choose(name) } },
          h("option", { value: "" }, "as the rest"), spec.options.map((one) => h("option", { key: one.value, value: one.value }, one.label)))),
    ),
    h("select", { id, value: "", "aria-label": `${spec.label}: add a field`, "aria-describedby": describedBy(spec, id, tools), on: { change: begin } },
      h("option", { value: "" }, "add a field"), rest.map((one) => h("option", { key: one.value, value: one.value }, one.label))),
  ];
}
