// Diagonals of a survey: taped across the floor, and held against the walls.

import { h } from "./dom.js";
import { act, entry, focusOn, wrongAt, wrongWords } from "./entry.js";

/** The diagonals of a sheet, each with how far it is off. */
export function diagonals(state, tools, tell) {
  const sheet = tools.local.sheet;
  const words = (i) => (state.walk.diagonals || []).find((one) => one.row === i)?.words;
  const add = () => {
    sheet.diagonals.push({ a: "", b: "", length: "" });
    tools.redraw();
    focusOn(tools.id(`diagonal-${sheet.diagonals.length - 1}-a`));
  };
  const drop = (i) => (sheet.diagonals.splice(i, 1), tell(true), tools.redraw());
  const cell = (one, i, name, label) => entry(tools, { name: `diagonal-${i}-${name}`, label, value: one[name], on: { input: (_, el) => ((one[name] = el.value), tell()) } });
  return h(
    "div",
    { key: "diagonals" },
    h("h3", {}, "Diagonals, as a check"),
    sheet.diagonals.map((one, i) => {
      const odd = wrongAt(state.walk.faults, `diagonals/${i}`);
      return h(
        "div",
        { class: "diagonal", key: i, role: "group", "aria-label": `Diagonal ${i + 1}` },
        cell(one, i, "a", "From corner"),
        cell(one, i, "b", "To corner"),
        cell(one, i, "length", "Length"),
        act("Take away", () => drop(i), { "aria-label": `Take away diagonal ${i + 1}` }),
        h("p", { class: odd ? "error" : "echo" }, odd ? wrongWords(odd) : words(i) || ""),
      );
    }),
    act("Add a diagonal", add),
  );
}
