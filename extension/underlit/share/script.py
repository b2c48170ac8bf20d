"""How the page moves: pressing lights the card, the slider walks through the steps.

The script never changes: what belongs to a card stands in the page's elements (`data-...`), so that
no text of a maker can become code.
"""

from __future__ import annotations

SCRIPT = """
"use strict";

const by = (id) => document.getElementById(id);
document.documentElement.classList.add("with-script");

/* ---- pressing ---------------------------------------------------------------------------- */

const card = by("card"), press = by("press"), keep = by("keep"), state = by("state");
let held = false;

function show() {
  const lit = held || keep.checked;
  card.classList.toggle("lit", lit);
  document.documentElement.classList.toggle("lit", lit);
  if (press) press.setAttribute("aria-pressed", String(lit));
  const words = lit ? state.dataset.lit : state.dataset.dark;
  if (state.textContent !== words) state.textContent = words;
}

function hold(on) {
  held = on;
  show();
}

function turn() {
  keep.checked = !keep.checked;
  show();
}

function listenToHand() {
  let handled = false;
  press.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    handled = true;
    press.setPointerCapture(event.pointerId);
    hold(true);
  });
  for (const end of ["pointerup", "pointercancel", "lostpointercapture"])
    press.addEventListener(end, () => hold(false));
  press.addEventListener("contextmenu", (event) => event.preventDefault());
  press.addEventListener("keydown", (event) => {
    if (event.key !== " " && event.key !== "Enter") return;
    event.preventDefault();
    handled = true;
    if (!event.repeat) hold(true);
  });
  press.addEventListener("keyup", () => hold(false));
  press.addEventListener("blur", () => hold(false));
  window.addEventListener("blur", () => hold(false));
  document.addEventListener("visibilitychange", () => hold(false));
  /* A click that came from no finger, mouse or key: a reader's software pressed it. */
  press.addEventListener("click", () => {
    if (!handled) turn();
    handled = false;
  });
}

if (keep) {
  keep.addEventListener("change", show);
  if (press && press.dataset.way === "hold") listenToHand();
  else if (press) press.addEventListener("click", turn);
  show();
}

/* ---- steps ------------------------------------------------------------------------------- */

const slider = by("slider");
const steps = Array.from(document.querySelectorAll("#steps > li"));
const ids = (step) => (step.dataset.new || "").split(" ").filter(Boolean);
const firstIn = new Map();
steps.forEach((step, at) => ids(step).forEach((id) => {
  if (!firstIn.has(id)) firstIn.set(id, at);
}));

function walk(to) {
  const at = Math.min(Math.max(to, 0), steps.length - 1);
  slider.value = String(at + 1);
  slider.setAttribute("aria-valuetext", steps[at].querySelector("h3").textContent);
  by("before").setAttribute("aria-disabled", String(at === 0));
  by("after").setAttribute("aria-disabled", String(at === steps.length - 1));
  steps.forEach((step, i) => { step.hidden = i !== at; });
  if (by("circuit")) draw(at);
}

function draw(at) {
  const fresh = new Set(ids(steps[at])), own = steps[at].dataset.own;
  for (const thing of document.querySelectorAll("#circuit .thing")) {
    const since = firstIn.get(thing.id);
    const is = fresh.has(thing.id) ? "new" : since < at ? "done" : "later";
    thing.setAttribute("class", "thing " + is);
  }
  by("circuit").dataset.shows = own ? by(own).dataset.kind : "";
  for (const group of document.querySelectorAll("#circuit .own"))
    group.classList.toggle("on", group.id === own);
}

if (slider) {
  const here = () => Number(slider.value) - 1;
  slider.addEventListener("input", () => walk(here()));
  by("before").addEventListener("click", () => walk(here() - 1));
  by("after").addEventListener("click", () => walk(here() + 1));
  walk(0);
}
"""
