// Shows one section after the other, each for as many seconds as it says. Nothing is made or thrown away while it
// runs, so that it can run for days. Space or a touch holds the page; the arrow keys go back and forth.
"use strict";
(function () {
  const pages = Array.from(document.querySelectorAll("main > section"));
  let at = 0;
  let held = false;
  let timer = 0;

  function wait() {
    clearTimeout(timer);
    if (!held) {
      timer = setTimeout(step, Number(pages[at].dataset.seconds) * 1000, 1);
    }
  }

  function step(by) {
    pages[at].classList.remove("shown");
    at = (at + by + pages.length) % pages.length;
    pages[at].classList.add("shown");
    wait();
  }

  function hold() {
    held = !held;
    document.body.classList.toggle("held", held);
    wait();
  }

  // A screen that goes dark shows nothing. Where the browser can keep it on, ask; where not, the gym's settings count.
  function stayOn() {
    if (navigator.wakeLock && document.visibilityState === "visible") {
      navigator.wakeLock.request("screen").catch(function () {});
    }
  }

  document.addEventListener("keydown", function (event) {
    if (event.key === "ArrowRight") {
      step(1);
    } else if (event.key === "ArrowLeft") {
      step(-1);
    } else if (event.key === " ") {
      hold();
    }
  });
  document.addEventListener("pointerdown", hold);
  document.addEventListener("visibilitychange", stayOn);
  stayOn();
  wait();
})();
