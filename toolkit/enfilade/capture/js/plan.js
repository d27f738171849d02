import { h } from "./dom.js";
import { Handled } from "./handled.js";

const TOUCHED =
  "Touch a thing to choose it, then drag it; touch again for what lies under it. Anywhere else a finger scrolls.";
const HINT =
  "Drag what stands in the room, or choose it and use the arrow keys: one coarse step each, a fine one with Shift. " +
  "R turns it by a quarter, Shift R by 15 degrees, Page Up and Page Down choose the next thing, Delete takes it away, " +
  "Escape lets go.";

/** The plan of the room, to be handled; with nothing drawn yet, a sentence. */
export function view(state, tools) {
  if (state.nothing) return h("div", {}, h("h2", {}, "Plan"), h("p", {}, state.nothing));
  const local = tools.local;
  local.state = state;
  local.zoom ??= 1;
  if (!local.handled) local.handled = new Handled(tools);
  setTimeout(() => local.handled.show(state), 0);
  const chosen = state.selected ? `${state.selected[0]}/${state.selected[1]}` : "";
  const hint = tools.id("hint");
  return h(
    "div",
    {},
    h("h2", {}, `Plan of ${state.room}`),
    h(
      "div",
      { class: "handling" },
      h("label", { for: tools.id("chosen") }, "On this plan"),
      h(
        "select",
        { id: tools.id("chosen"), value: chosen, on: { change: (_, el) => choose(el.value, tools) } },
        h("option", { value: "" }, "choose what to handle"),
        ...groups(state),
      ),
      h(
        "div",
        { class: "acts" },
        act("Closer", () => zoomed(tools, 1.5)),
        act("Whole room", () => zoomed(tools, 0)),
        h(
          "label",
          { class: "tick", for: tools.id("fine") },
          h("input", {
            type: "checkbox",
            id: tools.id("fine"),
            checked: !!local.fine,
            on: { change: (_, el) => (local.fine = el.checked) },
          }),
          tools.units === "metric" ? "fine steps, 1 mm (else 10 mm)" : 'fine steps, 1/16" (else 1")',
        ),
        h(
          "label",
          { class: "tick", for: tools.id("marks") },
          h("input", {
            type: "checkbox",
            id: tools.id("marks"),
            checked: !local.unmarked,
            on: { change: (_, el) => ((local.unmarked = !el.checked), tools.redraw()) },
          }),
          "findings drawn",
        ),
      ),
    ),
    h("div", {
      class: `sheet ${local.unmarked ? "unmarked" : ""}`,
      key: "sheet",
      own: true,
      tabindex: "0",
      role: "application",
      "aria-roledescription": "plan",
      "aria-label": `Plan of ${state.room}`,
      "aria-describedby": hint,
      "data-plan": tools.id("plan"),
    }),
    h("div", { class: "underhand", key: "underhand", own: true, "data-live": "" }),
    h("p", { class: "small", id: hint }, matchMedia("(pointer: coarse)").matches ? TOUCHED : HINT),
    state.names.length
      ? h(
          "details",
          { key: "names" },
          h("summary", {}, "What the numbers and letters on the plan stand for"),
          h("ul", { class: "plain names" }, state.names.map(([tag, name]) => h("li", { key: tag }, h("strong", {}, tag), ` ${name}`))),
        )
      : null,
    state.notes.length ? h("p", { class: "small" }, state.notes.join(" ")) : null,
  );
}

function act(words, click) {
  return h("button", { type: "button", class: "act", on: { click } }, words);
}

function choose(value, tools) {
  const [list, ...id] = value.split("/");
  tools.send({ do: "select", list, id: value ? id.join("/") : null });
}

function zoomed(tools, by) {
  tools.local.zoom = by ? Math.min(tools.local.zoom * by, 5) : 1;
  tools.local.handled.fit(true);
}

function groups(state) {
  const count = {};
  const name = (body) => {
    const words = `${body.name[0].toUpperCase()}${body.name.slice(1)}`;
    if (body.tag) return `${words} ${body.tag}`;
    count[words] = (count[words] || 0) + 1;
    return count[words] > 1 ? `${words}, the ${count[words]}${["st", "nd", "rd"][count[words] - 1] || "th"}` : words;
  };
  const one = (records, label, list) =>
    records.length
      ? h(
          "optgroup",
          { label, key: label },
          [...records]
            .sort((a, b) => a.name.localeCompare(b.name))
            .map((body) => h("option", { value: `${list}/${body.id}`, key: body.id }, name(body))),
        )
      : null;
  const here = state.bodies.filter((body) => !body.beyond);
  return [
    one(here.filter((body) => body.list === "things"), "Things", "things"),
    one(here.filter((body) => body.list === "openings"), "Openings", "openings"),
    one(state.walls.filter((wall) => !wall.beyond), "Walls", "walls"),
  ];
}
