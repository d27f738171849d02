// Round the page: links between the acts, a word when what it speaks to has gone, and the end of what was left.
(() => {
  const ASK_MS = 1500;
  const OPENED_LATE_MS = 45000;
  const GONE = [
    "This page has come loose from the house",
    "The program behind it has ended. Everything up to your last change is saved. Load the page again to go on.",
  ];
  const CLOSED = [
    "enfilade is no longer running",
    "It was ended where it was started, so that nothing more can be written here. Everything up to your last change is " +
      "saved. Start enfilade open again, and use the new address that it writes.",
  ];
  const LATE = ["The page takes long to open", "Load it again. Nothing that was written is lost."];

  const base = () => document.body.dataset.baseUrl.replace(/voila\/$/, "");
  const kernel = () => {
    const config = document.getElementById("jupyter-config-data");
    return config ? JSON.parse(config.textContent).kernelId : null;
  };

  // Whoever follows a link to another act stays in the same room, and may still go in.
  const carry = (event) => {
    const link = event.target.closest && event.target.closest("nav a");
    if (link) link.search = location.search;
  };
  for (const type of ["pointerdown", "focusin", "click", "contextmenu"]) document.addEventListener(type, carry, true);
  document.addEventListener("enfilade-room", ({ detail }) => {
    const here = new URL(location.href);
    if (detail) here.searchParams.set("room", detail);
    else here.searchParams.delete("room");
    history.replaceState(history.state, "", here);
  });
  document.addEventListener("enfilade-title", ({ detail }) => {
    document.title = `${detail} – ${document.querySelector("nav [aria-current]").textContent}`;
  });

  // voila ends a kernel before the page could send what was typed last; here the page sends it first.
  window.addEventListener("beforeunload", (event) => event.stopImmediatePropagation(), true);
  window.addEventListener("pagehide", (event) => {
    const id = kernel();
    if (!id || event.persisted) return;
    const form = new FormData();
    const cookie = document.cookie.match("\\b_xsrf=([^;]*)\\b");
    form.append("_xsrf", cookie ? cookie[1] : "");
    navigator.sendBeacon(`${base()}left/${id}`, form);
  });
  window.addEventListener("pageshow", (event) => event.persisted && location.reload());

  let word = null;
  const make = (tag, words, more) => Object.assign(document.createElement(tag), { textContent: words, ...more });
  const tell = (words) => {
    if (words === word) return;
    const gone = words === GONE || words === CLOSED;
    word = words;
    const place = document.getElementById("word");
    place.replaceChildren();
    place.hidden = !words;
    document.getElementById("cells").inert = gone;
    if (!words) return;
    place.append(make("h1", words[0]), make("p", words[1]));
    if (words !== CLOSED) place.append(make("button", "Load the page again", { type: "button", onclick: () => location.reload() }));
    if (gone) document.dispatchEvent(new CustomEvent("enfilade-gone"));
  };

  let missed = 0;
  const ask = async () => {
    const id = kernel();
    if (!id) return;
    try {
      const answer = await fetch(`${base()}alive/${id}`, { cache: "no-store" });
      missed = 0;
      const { alive } = answer.ok ? await answer.json() : { alive: false };
      if (!alive) tell(GONE);
      else if (word === CLOSED) tell(null);
    } catch {
      if (++missed > 1) tell(CLOSED);
    }
  };

  const opened = () => {
    const starting = document.getElementById("starting");
    if (starting) starting.remove();
    if (word === LATE) tell(null);
  };
  setTimeout(() => document.getElementById("starting") && document.getElementById("cells") && tell(LATE), OPENED_LATE_MS);
  document.addEventListener("DOMContentLoaded", () => {
    const cells = document.getElementById("cells");
    const watching = new MutationObserver(() => {
      if (!cells.querySelector(".enfilade, .trouble")) return;
      watching.disconnect();
      opened();
    });
    watching.observe(cells, { childList: true, subtree: true });
    if (cells.querySelector(".trouble")) opened();
    const asking = async () => {
      await ask();
      if (word !== GONE) setTimeout(asking, ASK_MS);
    };
    asking();
  });
})();
