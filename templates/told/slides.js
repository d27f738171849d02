"use strict";
// Shows one slide at a time, or all of them small; without it the page is a document that scrolls.
(() => {
  const root = document.documentElement;
  const slides = [...document.querySelectorAll(".slide")];
  const by = (id) => document.getElementById(id);
  const wide = matchMedia("(min-width: 50rem)");
  let here = 0;
  let mode = "present";
  let asked = false;

  const number = () => {
    const found = /^#slide-(\d+)$/.exec(location.hash);
    return found ? Math.min(Math.max(Number(found[1]), 1), slides.length) - 1 : null;
  };
  const say = () => {
    by("said").textContent = `slide ${here + 1} of ${slides.length}`;
  };
  const set = (wanted) => {
    mode = wanted;
    root.classList.toggle("present", mode === "present");
    root.classList.toggle("overview", mode === "overview");
    by("stage").media = mode === "flow" ? "print" : "all";
    by("all").setAttribute("aria-pressed", String(mode === "overview"));
    by("flow").setAttribute("aria-pressed", String(mode === "flow"));
    for (const one of slides) one.inert = false;
    go(here, false);
  };
  const go = (index, focus = true) => {
    here = Math.min(Math.max(index, 0), slides.length - 1);
    slides.forEach((one, n) => one.classList.toggle("here", n === here));
    by("back").disabled = here === 0;
    by("next").disabled = here === slides.length - 1;
    const hash = `#slide-${here + 1}`;
    if (location.hash !== hash) history.replaceState(null, "", hash);
    if (mode === "present") {
      if (focus) slides[here].focus({ preventScroll: true });
      scrollTo(0, 0);
    } else {
      slides[here].scrollIntoView({ block: mode === "overview" ? "nearest" : "start" });
    }
    say();
  };
  const notes = (open) => {
    for (const one of document.querySelectorAll(".notes")) one.open = open;
    by("notes").setAttribute("aria-pressed", String(open));
  };
  const noted = () => by("notes").getAttribute("aria-pressed") === "true";
  const all = () => set(mode === "overview" ? "present" : "overview");

  const keys = {
    ArrowRight: () => go(here + 1),
    ArrowDown: () => go(here + (mode === "overview" ? 4 : 1)),
    PageDown: () => go(here + 1),
    ArrowLeft: () => go(here - 1),
    ArrowUp: () => go(here - (mode === "overview" ? 4 : 1)),
    PageUp: () => go(here - 1),
    Home: () => go(0),
    End: () => go(slides.length - 1),
    Escape: all,
    n: () => notes(!noted()),
    N: () => notes(!noted()),
  };
  addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || mode === "flow") return;
    const button = event.target.closest("button, summary");
    const opens = mode === "overview" && event.key === "Enter" && !button;
    const forward = mode === "present" && event.key === " " && !button;
    const act = opens ? () => set("present") : forward ? () => go(here + (event.shiftKey ? -1 : 1)) : keys[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  });
  by("deck").addEventListener("click", (event) => {
    if (mode === "flow" || event.target.closest(".notes, a, button") || String(getSelection())) return;
    if (mode === "overview") {
      const slide = event.target.closest(".slide");
      if (slide) {
        here = slides.indexOf(slide);
        set("present");
      }
      return;
    }
    go(here + (event.clientX < innerWidth / 4 ? -1 : 1));
  });
  let start = null;
  addEventListener("touchstart", (event) => {
    start = event.touches.length === 1 ? event.touches[0] : null;
  }, { passive: true });
  addEventListener("touchend", (event) => {
    if (!start || mode !== "present") return;
    const [x, y] = [event.changedTouches[0].clientX - start.clientX, event.changedTouches[0].clientY - start.clientY];
    if (Math.abs(x) > 40 && Math.abs(x) > 2 * Math.abs(y)) go(here + (x < 0 ? 1 : -1));
  });
  by("back").addEventListener("click", () => go(here - 1, false));
  by("next").addEventListener("click", () => go(here + 1, false));
  by("all").addEventListener("click", all);
  by("notes").addEventListener("click", () => notes(!noted()));
  by("flow").addEventListener("click", () => {
    asked = true;
    set(mode === "flow" ? "present" : "flow");
  });
  addEventListener("hashchange", () => {
    const wanted = number();
    if (wanted !== null && wanted !== here) go(wanted);
  });
  // A narrow window, or one in which text is made large, reads better as a page.
  const fit = () => {
    if (!asked && mode !== "overview") set(wide.matches ? "present" : "flow");
  };
  wide.addEventListener("change", fit);
  document.querySelector(".bar").hidden = false;
  here = number() ?? 0;
  fit();
  if (mode !== "flow" || location.hash) go(here, false);
})();
