// What is said between the page and Python: each message has a number, and is answered by it.
// What a person typed stays in this browser until it is answered, so that a kernel that died takes nothing along.

const TYPING_MS = 250;
const SILENCE_MS = 8000;

/**
 * Return how a page sends: `send` at once, `later` and `set` after a pause in typing, `flush` what still waits.
 * @param model the widget's model
 * @param say tells a screen reader; `say.turn` counts what was said
 * @param silence called with the number of messages that nobody answers; 0 when all are answered again
 */
export function messenger(model, say, silence) {
  let last = 0;
  let silent = false;
  const waiting = new Map();
  const typing = new Map();
  const kept = keptHere(() => model.get("project"));

  const heard = (message) => {
    if (message && message.progress !== undefined) return goesOn(message.progress);
    if (!message || message.reply === undefined) return;
    const asked = waiting.get(message.reply);
    if (!asked) return;
    waiting.delete(message.reply);
    clearTimeout(asked.late);
    if (silent && ![...waiting.values()].some((one) => one.isLate)) silence((silent = false));
    // What was said before a change is past once it is done; looking at the disk is no change.
    if (!asked.quiet && (message.say || (message.ok && !asked.looks && say.turn === asked.turn))) say(message.say);
    asked.resolve(message);
  };
  model.on("msg:custom", heard);

  // Who says what it is at is not silent, however long it takes.
  let told = null;
  const goesOn = (words) => {
    for (const asked of waiting.values()) lateAfter(asked);
    if (silent) silence((silent = false));
    if (told) told(words);
  };
  const lateAfter = (asked) => {
    clearTimeout(asked.late);
    asked.isLate = false;
    asked.late = setTimeout(() => {
      asked.isLate = true;
      silence((silent = true));
    }, SILENCE_MS);
  };
  /** Have a function called with what is being done, while a long answer is waited for; null for none. */
  const during = (listener) => (told = listener);

  const send = (message, buffers = [], quiet = false) => {
    const number = ++last;
    return new Promise((resolve) => {
      const asked = { resolve, quiet, isLate: false, looks: message.do === "look", turn: say.turn };
      lateAfter(asked);
      waiting.set(number, asked);
      model.send({ ...message, number }, undefined, buffers);
    });
  };

  const fire = (key) => {
    const one = typing.get(key);
    if (!one) return;
    typing.delete(key);
    clearTimeout(one.timer);
    send(one.message, [], true).then((answer) => {
      kept.drop(key, one.message);
      for (const resolve of one.resolves) resolve(answer);
    });
  };

  // Of what is said under one key before the pause is over, the last is sent.
  const later = (key, message, now = false) => {
    const one = typing.get(key) || { resolves: [] };
    clearTimeout(one.timer);
    one.message = message;
    kept.keep(key, message);
    const promise = new Promise((resolve) => one.resolves.push(resolve));
    one.timer = setTimeout(() => fire(key), TYPING_MS);
    typing.set(key, one);
    if (now) fire(key);
    return promise;
  };
  const set = (path, typed, now = false) => later(JSON.stringify(path), { do: "set", path, typed }, now);
  const flush = () => [...typing.keys()].forEach(fire);

  let asking = false;
  const look = () => {
    if (asking) return;
    asking = true;
    send({ do: "look" }).then(() => (asking = false));
  };

  /** Say again what nobody answered when the page was last open. */
  const restore = async () => {
    const typed = kept.all();
    for (const [key, message] of typed) await later(key, message, true);
    if (typed.length) say("What was typed before the page was loaded again has been put back.");
  };
  const close = () => model.off("msg:custom", heard);
  return { send: (message, buffers, quiet) => (flush(), send(message, buffers, quiet)), set, later, during, flush, look, restore, close };
}

// Typed text by its key, in the browser's own store for this project; without one, nowhere.
function keptHere(project) {
  const name = () => `enfilade typed ${project()}`;
  const read = () => {
    try {
      return JSON.parse(localStorage.getItem(name()) || "{}");
    } catch {
      return {};
    }
  };
  const write = (typed) => {
    try {
      if (Object.keys(typed).length) localStorage.setItem(name(), JSON.stringify(typed));
      else localStorage.removeItem(name());
    } catch {
      // A full or forbidden store: the message itself is on its way.
    }
  };
  return {
    keep: (key, message) => write({ ...read(), [key]: message }),
    drop: (key, message) => {
      const typed = read();
      if (JSON.stringify(typed[key]) !== JSON.stringify(message)) return; // typed on since
      delete typed[key];
      write(typed);
    },
    all: () => Object.entries(read()),
  };
}
