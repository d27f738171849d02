import { h } from "./dom.js";

/** The documents of the walkthrough: for whom, written on request, and opened beside this page. */
export function view(state, tools) {
  const chosen = (tools.local.audience ??= state.audience);
  const one = state.audiences.find((audience) => audience.value === chosen);
  const choose = (_, element) => {
    tools.local.audience = element.value;
    tools.redraw();
  };
  const write = async () => {
    tools.local.busy = true;
    tools.redraw();
    const answer = await tools.send({ do: "write documents", audience: chosen });
    tools.local.busy = false;
    tools.local.said = answer.ok ? "" : answer.say;
    tools.redraw();
  };
  return h(
    "div",
    {},
    h("h2", {}, "Documents"),
    h(
      "div",
      { class: "field" },
      h("label", { for: tools.id("audience") }, "Who is it for?"),
      h("select", { id: tools.id("audience"), value: chosen, "aria-describedby": tools.id("told"), on: { change: choose } }, state.audiences.map((each) => h("option", { value: each.value, key: each.value }, each.label))),
      h("p", { id: tools.id("told"), class: "help" }, `Told: ${one.told}. What they may not be told is left out before the page is made.`),
    ),
    h("p", {}, h("button", { type: "button", class: "act main", disabled: !state.can || !!tools.local.busy, on: { click: write } }, tools.local.busy ? "Writing the walkthrough" : "Write the walkthrough")),
    tools.local.said ? h("p", { class: "trouble", role: "alert" }, tools.local.said) : null,
    h(
      "ul",
      { class: "plain" },
      state.audiences.flatMap((each) =>
        each.pages.map((page) =>
          h(
            "li",
            { key: page.path },
            h("button", { type: "button", class: "act", on: { click: () => open(each.value, tools) } }, `Open the ${page.name} for ${each.label.toLowerCase()}`),
            h("span", { class: "small" }, page.path),
          ),
        ),
      ),
    ),
  );
}

// A browser lets no page from a server open a file; the page is handed over and opened from memory.
async function open(audience, tools) {
  const beside = window.open("", "_blank");
  const answer = await tools.send({ do: "read document", audience });
  if (!answer.ok || !beside) {
    if (beside) beside.close();
    tools.local.said = answer.ok ? "The browser kept the page from opening; open the file itself." : answer.say;
    return tools.redraw();
  }
  beside.opener = null;
  beside.location = URL.createObjectURL(new Blob([answer.html], { type: "text/html" }));
}
