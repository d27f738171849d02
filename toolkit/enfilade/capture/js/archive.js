import { lookOnce, sentences } from "./archived.js";
import { busily } from "./busy.js";
import { h } from "./dom.js";
import { act, choice, entry } from "./entry.js";

/** The archive: keeping the house as it is now, and every version of it, the newest first. */
export function view(state, tools) {
  lookOnce(state, tools);
  const busy = tools.local.busy;
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1", id: tools.id("title") }, "The archive"),
    h("p", {}, "A version is the whole house as it stands: its record, its photographs and what was found. It never changes, and any of them can be brought back."),
    !state.looked ? h("p", { class: "small", role: "status", key: "looking" }, busy || "Looking into the archive.") : null,
    state.closed ? trouble(state.closed) : null,
    state.apart ? apart(state.apart, state, tools) : null,
    state.closed || state.apart ? null : keeping(state, tools),
    state.looked ? versions(state, tools) : null,
    state.looked ? where(state, tools) : null,
  );
}

function trouble(one) {
  return h("div", { class: "trouble", key: "trouble" }, h("p", {}, h("strong", {}, `${capital(one.words)}.`)), one.do ? h("p", {}, `${capital(one.do)}.`) : null);
}

// An address begins as it is written.
const capital = (words) => (/^\w+:\/\//.test(words) ? words : words.charAt(0).toUpperCase() + words.slice(1));

// Keeping

function keeping(state, tools) {
  const local = tools.local;
  const can = state.looked && !state.closed && !state.released && !local.busy;
  const keep = async () => {
    if (!can) return;
    const answer = await busily("Keeping this state", "Keeping", { do: "keep version", who: local.who ?? state.who, why: local.why ?? "" }, tools);
    if (!answer.ok) return;
    if (answer.apart) return focus(tools.id("apart"));
    local.why = "";
    tools.redraw();
  };
  const typing = (name) => ({
    input: (_, el) => { local[name] = el.value; },
    change: (_, el) => { local[name] = el.value; },
    keydown: (event) => event.key === "Enter" && !event.isComposing && keep(),
  });
  return h(
    "section",
    { class: "keeping", key: "keeping", "aria-labelledby": tools.id("keeping") },
    h("h3", { id: tools.id("keeping") }, "Keep this state"),
    state.standing ? h("p", { class: "small", key: "standing" }, state.standing) : null,
    state.released ? h("p", { class: "small", key: "released" }, "This archive holds copies for students alone; no house can be kept in it. Choose another archive below.") : null,
    h("div", { class: "columns" },
      entry(tools, { name: "why", label: "Why it is kept", help: "Such as: before the tender, after the client’s second visit.", value: local.why ?? "", on: typing("why") }),
      entry(tools, { name: "who", label: "Who keeps it", value: local.who ?? state.who, on: typing("who") })),
    h("div", { class: "acts" },
      act("Keep this state", keep, { class: "act main", "aria-disabled": can ? null : "true" }),
      local.busy ? h("span", { class: "small", key: "busy" }, local.busy) : null),
    local.said ? h("p", { class: "trouble", role: "alert", key: "said" }, local.said) : null,
  );
}

// Kept meanwhile by somebody else

function apart(one, state, tools) {
  const title = tools.id("apart");
  const lost = one.lost ? `Your house was made from version ${one.lost}, which this archive does not hold any more: it may have been put back from an earlier copy.` : "";
  const from = one.base === null ? lost || "Nothing says which version your house was made from."
    : lost ? `${lost} It goes on from version ${one.base}.` : `Your house was made from version ${one.base}.`;
  const onTop = one.base === one.newest;
  const nothing = one.base === null || onTop;
  const by = [one.who ? `by ${one.who}` : "", one.when].filter(Boolean).join(", ");
  const choose = (key, side) => tools.send({ do: "choose apart", key, side });
  const together = async () => {
    const answer = await busily("Bringing both together", "Bringing both together", { do: "bring together" }, tools);
    if (answer.ok) tools.local.why = "";
    tools.redraw();
  };
  return h(
    "section",
    { class: "apart", key: "apart", "aria-labelledby": title },
    h("h3", { id: title, tabindex: "-1" }, lost ? `The archive ends with version ${one.newest}` : `Meanwhile version ${one.newest} was kept`),
    h("p", {}, `Version ${one.newest} was kept ${by}${one.why ? `: ${one.why}` : ""}. ${from} Nothing was written over either.`),
    one.base === null ? madeFrom(one, tools) : null,
    nothing ? null : h("h4", { key: "there" }, "What changed there"),
    nothing ? null : one.changed.length ? sentences(one.changed, [], "") : h("p", { class: "small" }, "Nothing in the record."),
    one.more ? h("p", { class: "small", key: "more" }, `and ${one.more} more`) : null,
    one.lines.length ? h("h4", { key: "asked" }, one.lines.length === 1 ? "Both changed one thing" : `Both changed ${one.lines.length} things`) : null,
    one.lines.length
      ? h("ul", { class: "plain asked", key: "lines" }, one.lines.map((line) =>
          h("li", { key: line.key },
            h("h5", {}, line.about),
            line.why ? h("p", { class: "small" }, line.why) : null,
            h("dl", {}, h("dt", {}, "Here"), h("dd", {}, line.mine), h("dt", {}, `In version ${one.newest}`), h("dd", {}, line.theirs)),
            h("div", { class: "acts" },
              act("Keep mine", () => choose(line.key, "mine"), { "aria-label": `Keep mine: ${line.about}, ${line.mine}` }),
              act("Take theirs", () => choose(line.key, "theirs"), { "aria-label": `Take theirs: ${line.about}, ${line.theirs}` })))))
      : null,
    one.settled.length ? h("h4", { key: "chosen" }, "Chosen") : null,
    one.settled.length
      ? h("dl", { key: "settled" }, one.settled.flatMap((line) => [
          h("dt", { key: `${line.key} about` }, line.about),
          h("dd", { key: line.key }, `${line.side === "mine" ? "Yours" : "Theirs"}: ${line.value} `,
            act("Choose again", () => choose(line.key, ""), { "aria-label": `Choose again: ${line.about}` }))]))
      : null,
    tools.local.busy ? h("p", { class: "small", key: "busy", role: "status" }, tools.local.busy) : null,
    tools.local.said ? h("p", { class: "trouble", role: "alert", key: "said" }, tools.local.said) : null,
    h("div", { class: "acts", key: "acts" },
      one.base === null ? null : one.lines.length
        ? [act("Keep all of mine", () => choose("", "mine"), { key: "mine" }), act("Take all of theirs", () => choose("", "theirs"), { key: "theirs" })]
        : act(onTop ? `Keep it on top of version ${one.newest}` : "Bring both together and keep them", together, { class: "act main", key: "together" }),
      act("Leave it for now", () => tools.send({ do: "leave apart" }), { key: "leave" })),
  );
}

function madeFrom(one, tools) {
  const options = one.bases.map((each) => [String(each.number), `Version ${each.number}, ${each.when}${each.why ? `: ${each.why}` : ""}`]);
  const say = (_, el) => tools.send({ do: "made from", version: Number(el.closest("div.from").querySelector("select").value) });
  return h("div", { class: "from", key: "from" },
    choice(tools, { name: "base", label: one.lost ? "Which version does it go on from?" : "Which version was it made from?", value: options[one.lost ? options.length - 1 : 0][0], options }),
    h("div", { class: "acts" }, act(one.lost ? "Go on from this one" : "It was made from this one", say)));
}

// Versions

function versions(state, tools) {
  if (state.closed) return null;
  if (!state.versions.length) {
    return h("p", { key: "none" }, state.there ? "No version of this house is kept here yet." : "There is no archive here yet. It is made when something is kept.");
  }
  const earlier = () => busily("Reading earlier versions", "Reading", { do: "show earlier versions" }, tools);
  return h(
    "section",
    { key: "versions", class: "versions", "aria-labelledby": tools.id("versions") },
    h("h3", { id: tools.id("versions") }, "Versions of this house"),
    h(
      "table",
      {},
      h("thead", {}, h("tr", {}, ["Version", "Why", "What changed since the one before", "Back"].map((word) => h("th", { scope: "col", key: word }, word)))),
      h("tbody", {}, state.versions.map((one) => row(one, tools))),
    ),
    state.earlier ? h("div", { class: "acts", key: "earlier" }, act(`Show earlier versions (${state.earlier})`, earlier)) : null,
  );
}

function row(one, tools) {
  const words = `version ${one.number}, of ${one.when}`;
  const back = () => busily("Bringing it back", "Bringing back", { do: "go back to version", version: one.number }, tools);
  return h(
    "tr",
    { key: one.number },
    h("th", { scope: "row" }, h("span", { class: "narrow" }, "Version "), String(one.number), h("span", { class: "small" }, one.when), one.who ? h("span", { class: "small", key: "who" }, one.who) : null),
    h("td", {}, one.why || h("span", { class: "small" }, "No reason was given.")),
    h("td", {}, one.note ? h("p", { class: "small", key: "note" }, one.note) : null, sentences(one.changed, one.more, `${one.more.length} more`)),
    h("td", {}, act("Bring it back", back, { "aria-label": `Bring it back: ${words}` })),
  );
}

// Where it is

function where(state, tools) {
  const local = tools.local;
  const use = async () => {
    const answer = await tools.send({ do: "use archive", where: local.where ?? "" });
    local.refused = answer.ok ? null : { what: answer.say };
    if (answer.ok) local.where = "";
    tools.redraw();
    if (!answer.ok) focus(tools.id("where"));
  };
  const on = {
    input: (_, el) => { local.where = el.value; },
    change: (_, el) => { local.where = el.value; },
    keydown: (event) => event.key === "Enter" && !event.isComposing && use(),
  };
  return h(
    "section",
    { class: "where", key: "where" },
    h("p", { class: "small" }, "The archive is at ", h("span", { class: "address" }, state.where || "an address that cannot be read"), state.given ? " for this page alone." : "."),
    h(
      "details",
      { key: "another", open: local.refused || state.closed ? true : null },
      h("summary", {}, "Use another archive on this page"),
      h("div", { class: "folded" },
        entry(tools, { name: "where", label: "Path of its file, or postgresql://USER@HOST/DATABASE", value: local.where ?? "", wrong: local.refused, help: "No password here: PostgreSQL’s own password file keeps it. Left empty, the usual archive is used again.", on }),
        h("div", { class: "acts" }, act("Use this archive", use), act("Look again", () => tools.send({ do: "look at archive", again: true })))),
    ),
  );
}

function focus(id) {
  setTimeout(() => document.getElementById(id)?.focus(), 50);
}
