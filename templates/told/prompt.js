"use strict";
// The text moves past the reading line as fast as it is spoken: where it stands follows from the time alone.
(() => {
  const root = document.documentElement;
  const by = (id) => document.getElementById(id);
  const bar = document.querySelector(".bar");
  if (!bar) return;
  const mark = document.querySelector(".mark");
  const own = Number(document.body.dataset.rate);
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let rate = own;
  let size = 1;
  let t = 0;
  let steps = [];
  let running = false;
  let last = 0;
  let put = -1;

  // Each step begins where the one before it ends; what takes no time is passed at once.
  const measure = () => {
    let start = 0;
    steps = [...document.querySelectorAll(".step")].filter((one) => !one.closest("[hidden]")).map((element) => {
      const seconds = Number(element.dataset.seconds);
      const box = element.getBoundingClientRect();
      const step = { element, start, seconds, top: box.top + scrollY, height: box.height };
      start += seconds;
      return step;
    });
  };
  const whole = () => (steps.length ? steps[steps.length - 1].start + steps[steps.length - 1].seconds : 0);
  const index = () => {
    let found = 0;
    for (let n = 0; n < steps.length; n += 1) if (steps[n].seconds > 0 && steps[n].start <= t) found = n;
    return found;
  };
  const place = () => {
    const step = steps[index()];
    if (!step) return 0;
    const share = step.seconds ? Math.min(Math.max((t - step.start) / step.seconds, 0), 1) : 0;
    let past = share * step.height;
    if (still.matches) {
      const line = parseFloat(getComputedStyle(step.element).lineHeight) || step.height;
      past = Math.min(Math.floor(past / line), Math.max(0, Math.ceil(step.height / line) - 1)) * line;
    }
    return Math.max(0, step.top + past - mark.getBoundingClientRect().top);
  };
  const beginning = () => (steps.length ? Math.max(0, steps[0].top - mark.getBoundingClientRect().top) : 0);
  const timeAt = (y) => {
    const at = y + mark.getBoundingClientRect().top;
    const timed = steps.filter((one) => one.seconds > 0);
    let found = timed[0];
    for (const one of timed) if (one.top <= at) found = one;
    return found ? found.start + Math.min(Math.max((at - found.top) / found.height, 0), 1) * found.seconds : 0;
  };
  const clock = (seconds) => {
    const all = Math.round(seconds);
    return `${Math.floor(all / 60)}:${String(all % 60).padStart(2, "0")}`;
  };
  const show = () => {
    const pace = own / rate;
    by("time").textContent = `${clock(t * pace)} of ${clock(whole() * pace)}`;
    by("rate").textContent = `${rate} words a minute`;
    by("run").textContent = running ? "Pause" : "Start";
    // The head, which is read in silence, has no reading line across it.
    mark.classList.toggle("early", scrollY < beginning() - 2);
    root.classList.toggle("running", running);
  };
  const move = () => {
    put = place();
    scrollTo({ top: put, behavior: "instant" });
    put = scrollY;
  };
  const frame = (now) => {
    if (!running) return;
    t = Math.min(t + ((now - last) / 1000) * (rate / own), whole());
    last = now;
    move();
    if (t >= whole()) running = false;
    show();
    if (running) requestAnimationFrame(frame);
  };
  const run = (on) => {
    running = on && steps.length > 0;
    if (running) {
      if (t >= whole()) t = 0;
      last = performance.now();
      requestAnimationFrame(frame);
    }
    show();
  };
  const to = (seconds) => {
    t = Math.min(Math.max(seconds, 0), whole());
    move();
    show();
  };
  const line = (by_) => {
    const spoken = steps.filter((one) => one.seconds > 0);
    const here = spoken.findIndex((one) => one === steps[index()]);
    to(spoken[Math.min(Math.max(here + by_, 0), spoken.length - 1)].start);
  };
  const pace = (by_) => {
    rate = Math.min(Math.max(rate + by_, 60), 300);
    show();
  };
  const again = () => {
    measure();
    t = Math.min(t, whole());
    // Until it is begun the head stands there: which issue it is, what changed, what is undecided.
    if (t > 0) move();
    show();
  };
  const scaled = (by_) => {
    size = Math.min(Math.max(size * by_, 0.5), 2.5);
    root.style.setProperty("--size", size.toFixed(3));
    again();
  };
  const pressed = (id, act) => by(id).addEventListener("click", () => {
    const on = by(id).getAttribute("aria-pressed") !== "true";
    by(id).setAttribute("aria-pressed", String(on));
    act(on);
  });

  by("run").addEventListener("click", () => run(!running));
  by("slower").addEventListener("click", () => pace(-5));
  by("faster").addEventListener("click", () => pace(5));
  by("smaller").addEventListener("click", () => scaled(1 / 1.15));
  by("larger").addEventListener("click", () => scaled(1.15));
  pressed("mirror", (on) => root.classList.toggle("mirrored", on));
  pressed("dark", (on) => root.classList.toggle("dark", on));
  pressed("line", (on) => mark.classList.toggle("unmarked", !on));
  for (const box of document.querySelectorAll("[data-shows]")) {
    box.addEventListener("change", () => {
      by(box.dataset.shows).hidden = !box.checked;
      again();
    });
  }
  by("text").addEventListener("click", () => {
    if (!String(getSelection())) run(!running);
  });
  const keys = {
    " ": () => run(!running),
    ArrowUp: () => line(-1),
    ArrowDown: () => line(1),
    ArrowLeft: () => pace(-5),
    ArrowRight: () => pace(5),
    Home: () => to(0),
    End: () => to(whole()),
  };
  addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target.closest("button, summary, input")) return;
    const act = keys[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  });
  // Who scrolls by hand goes on from there.
  addEventListener("scroll", () => {
    if (Math.abs(scrollY - put) > 2) {
      t = timeAt(scrollY);
      put = scrollY;
      show();
    }
  }, { passive: true });
  addEventListener("resize", again);
  for (const pause of document.querySelectorAll(".pause")) pause.style.height = `${Math.min(Math.max(Number(pause.dataset.seconds), 0.5), 8)}em`;

  bar.hidden = false;
  mark.hidden = false;
  root.classList.add("driven");
  document.fonts.ready.then(again);
  again();
})();
