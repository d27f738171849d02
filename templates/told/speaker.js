"use strict";
// A clock that says how long one has spoken, and where one should be by then.
(() => {
  const by = (id) => document.getElementById(id);
  const clock = document.querySelector(".clock");
  if (!clock) return;
  const parts = [...document.querySelectorAll(".part")];
  const steps = [...document.querySelectorAll("[data-start]")].map((element) => ({
    element,
    part: Number(element.dataset.part),
    start: Number(element.dataset.start),
    end: Number(element.dataset.end),
  }));
  const shown = (seconds) => {
    const whole = Math.max(0, Math.floor(seconds));
    const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, String(whole % 60).padStart(2, "0")];
    return hours ? `${hours}:${String(minutes).padStart(2, "0")}:${rest}` : `${minutes}:${rest}`;
  };
  let part = 0;
  let gone = 0;
  let since = null;
  let now = null;

  const seconds = () => gone + (since === null ? 0 : (performance.now() - since) / 1000);
  const tick = () => {
    const t = seconds();
    const whole = Number(parts[part].dataset.seconds);
    by("time").textContent = shown(t);
    const found = steps.find((one) => one.part === part && one.start <= t && t < one.end);
    let words = `of ${shown(whole)}`;
    if (t > whole) words += `; ${shown(t - whole)} over`;
    else if (found) {
      const stop = found.element.closest(".stop");
      const name = stop ? stop.dataset.name : "";
      words += name ? `; you should be in: ${name}` : "";
    }
    by("where").textContent = words;
    const element = found && (since !== null || gone > 0) ? found.element : null;
    if (element === now) return;
    if (now) {
      now.classList.remove("now");
      now.removeAttribute("aria-current");
    }
    now = element;
    if (!now) return;
    now.classList.add("now");
    now.setAttribute("aria-current", "true");
    if (by("follow").checked) now.scrollIntoView({ block: "center" });
  };
  const run = (on) => {
    gone = seconds();
    since = on ? performance.now() : null;
    by("run").textContent = on ? "Pause" : "Start";
    tick();
  };
  by("run").addEventListener("click", () => run(since === null));
  by("zero").addEventListener("click", () => {
    gone = 0;
    since = since === null ? null : performance.now();
    tick();
  });
  const choice = by("part");
  if (choice) {
    choice.addEventListener("change", () => {
      part = Number(choice.value);
      gone = 0;
      since = since === null ? null : performance.now();
      tick();
      parts[part].scrollIntoView({ block: "start" });
    });
  }
  setInterval(tick, 250);
  clock.hidden = false;
  tick();
})();
