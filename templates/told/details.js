"use strict";
// What is folded is opened before it is printed, when a link leads into it, and all at once on request.
(() => {
  const folds = () => [...document.querySelectorAll("details")];
  let closed = [];
  addEventListener("beforeprint", () => {
    closed = folds().filter((one) => !one.open);
    for (const one of closed) one.open = true;
  });
  addEventListener("afterprint", () => {
    for (const one of closed) one.open = false;
    closed = [];
  });
  const reveal = () => {
    const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!target) return;
    for (let one = target.closest("details"); one; one = one.parentElement.closest("details")) one.open = true;
    target.scrollIntoView();
  };
  addEventListener("hashchange", reveal);
  reveal();
  const button = document.getElementById("unfold");
  button.hidden = folds().length === 0;
  button.addEventListener("click", () => {
    const open = button.getAttribute("aria-pressed") !== "true";
    for (const one of folds()) one.open = open;
    button.setAttribute("aria-pressed", String(open));
  });
})();
