"use strict";
// The hand to touch. It presses the same buttons as the form beside it; who cannot touch it loses nothing.
desk.hand = (() => {
  const figure = desk.one(".touch-hand"), spots = desk.one(".touch-spots"), caption = desk.one("figcaption", figure);

  function press(path, value) {
    const input = value && desk.one(`input[name="${path}"][value="${value}"]`);
    if (input && !input.checked) {
      input.checked = true;
      input.dispatchEvent(new Event("change", { bubbles: true }));
    }
  }

  function isPicked(spot) {
    const picked = desk.choices.picked;
    return ["finger", "place", "side"].every((path) => !spot[path] || spot[path] === picked(path)) && picked("finger") !== "";
  }

  function makeSpot(spot, left) {
    const button = desk.make("button", { type: "button", className: "touch-spot", tabIndex: -1 });
    button.style.left = `${left ? 100 - spot.x : spot.x}%`;
    button.style.top = `${spot.y}%`;
    button.classList.toggle("picked", isPicked(spot));
    button.addEventListener("click", () => {
      for (const path of ["finger", "place", "side"]) press(path, spot[path]);
      show();
    });
    return button;
  }

  function describe(injury, hand) {
    if (!hand) return desk.say("touch-hand");
    return `${desk.say("view", { hand: desk.say(`hand-${hand}`), view: injury.view })}. ${desk.say("touch")}`;
  }

  function show() {
    const injury = desk.chosen, hand = desk.choices.picked("hand");
    figure.hidden = !injury;
    if (!injury) return;
    figure.dataset.hand = hand;
    desk.all(".touch-view").forEach((view) => { view.hidden = view.dataset.view !== injury.drawing; });
    spots.replaceChildren(...(hand ? injury.spots.map((spot) => makeSpot(spot, hand === "left")) : []));
    caption.textContent = describe(injury, hand);
  }

  function start() {
    desk.byId("desk-form").addEventListener("change", (event) => {
      if (["protocol", "hand", "finger", "place", "side"].includes(event.target.name)) show();
    });
    show();
  }

  return { start, show };
})();
