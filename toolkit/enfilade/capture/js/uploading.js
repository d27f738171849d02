// Files on their way to the project, one after the other, in pieces that a connection can carry.

import { h } from "./dom.js";

const megabytes = (bytes) => `${(bytes / 1048576).toFixed(1)} MB`;
const newName = () => Math.random().toString(36).slice(2) + Date.now().toString(36);

/** Return what is said of files on their way, and of those that were refused. */
export function taking(tools) {
  const { now, refused = [] } = tools.local;
  const clear = () => {
    tools.local.refused = [];
    tools.redraw();
  };
  return h(
    "div",
    { class: "taking", key: "taking" },
    now ? h("p", {}, `Taking ${now.number} of ${now.of}: ${now.name}, ${megabytes(now.sent)} of ${megabytes(now.size)}.`) : null,
    refused.length
      ? h(
          "div",
          { class: "trouble" },
          h("p", {}, refused.length === 1 ? "One file was not taken:" : `${refused.length} files were not taken:`),
          h("ul", {}, refused.map((one, i) => h("li", { key: i }, `${one.name}: ${one.why}.`))),
          h("button", { type: "button", class: "act", on: { click: clear } }, "I have read this"),
        )
      : null,
  );
}

/** Take files into the room that is looked at now; more may be given while others are on their way. */
export async function take(files, state, tools) {
  const local = tools.local;
  const waiting = (local.waiting ??= []);
  waiting.push(...files.map((file) => ({ file, room: state.room })));
  local.of = (local.of || 0) + files.length;
  if (local.now || !files.length) return tools.redraw();
  const batch = newName();
  let added = 0;
  const before = (local.refused ??= []).length;
  const stay = (event) => event.preventDefault();
  window.addEventListener("beforeunload", stay); // the browser asks before what is on its way is lost
  tools.say(`Taking ${local.of === 1 ? waiting[0].file.name : `${local.of} photographs`}`);
  for (let number = 1; waiting.length; number++) {
    const { file, room } = waiting.shift();
    local.now = { name: file.name, size: file.size, sent: 0, number, of: local.of };
    const why = await sent(file, { batch, room }, state, tools);
    if (why) local.refused = [...local.refused, { name: file.name, why }];
    else added += 1;
  }
  window.removeEventListener("beforeunload", stay);
  local.now = null;
  local.of = 0;
  const missed = local.refused.slice(before);
  tools.redraw();
  tools.say(
    [
      added === 1 ? "One photograph added." : added ? `${added} photographs added.` : "",
      ...missed.map((one) => `${one.name} was not taken: ${one.why}.`),
    ].join(" "),
  );
}

/** Send one file; return why it was refused, or nothing. */
async function sent(file, { batch, room }, state, tools) {
  if (file.size > state.largest) return `it has ${megabytes(file.size)}; at most ${state.largest_words} can be taken`;
  const upload = newName();
  for (let index = 0; ; index++) {
    const start = index * state.piece;
    const end = Math.min(file.size, start + state.piece);
    const last = end >= file.size;
    let piece;
    try {
      piece = await file.slice(start, end).arrayBuffer();
    } catch {
      return "it cannot be read any more";
    }
    const answer = await tools.send({ do: "photograph chunk", batch, room, upload, index, last }, [piece], true);
    if (!answer.ok) return answer.say;
    tools.local.now.sent = end;
    tools.redraw();
    if (last) return "";
  }
}
