// Hands: parts of a drawing that are taken with the pointer or moved with the arrow keys; the job's text follows.
//
// A hand has two figures, as the text has them: `read` returns them, `write` the edits that say new ones (figures, where
// it was dropped, by how much it moved, the same where the arrow keys moved it). `place` draws
// figures to what is near, `show` shows them while the pointer holds it, and `hide` takes that away.

import { edit, job, rest, settled } from "/static/job.js";

const STILL = 3; // pixels that a pointer may tremble
const REACH = 12; // pixels round a grip's middle that it is taken in
const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const SVG = "http://www.w3.org/2000/svg";

let held = null;
let after = null;
const hands = new Map(); // what each hand does now, by its id
const listening = new WeakSet();
let line = Promise.resolve(); // presses are answered one after another

/** Whether a hand is held now; `then` is called when it is let go. */
export function holding(then) {
  if (held) after = then;
  return held !== null;
}

/** Make a part of a drawing a hand. `upward` is -1 where its second figure counts down, `step` what one arrow moves. */
export function hand({ part, id, label, ...about }) {
  const one = { upward: 1, place: (figures) => figures, keys: {}, ...about, part, id };
  part.dataset.hand = id;
  part.tabIndex = 0;
  part.setAttribute("role", "button");
  part.setAttribute("aria-label", label);
  part.classList.add("hand");
  part.dataset.role ??= "hand";
  hands.set(id, one);
  if (!listening.has(part)) {
    listening.add(part);
    part.addEventListener("pointerdown", (event) => drag(event, hands.get(id)));
    part.addEventListener("keydown", (event) => press(event, hands.get(id)));
  }
  return part;
}

function press(event, one) {
  const own = !event.ctrlKey && !event.metaKey && !event.altKey && one.keys[event.key];
  const way = WAYS[event.key];
  if (!own && (!way || event.ctrlKey || event.metaKey || event.altKey)) return;
  event.preventDefault();
  if (own) {
    line = line.then(settled).then(() => edit(hands.get(one.id).keys[event.key](event)));
    return;
  }
  const steps = (one.step ?? job.plan.step) * (event.shiftKey ? 10 : 1);
  nudge(one, [way[0] * steps, way[1] * steps * one.upward]);
}

const owed = new Map();

/** Move a hand by so much; presses that come while the text is being answered are made up for together. */
async function nudge({ id }, by) {
  const sum = owed.get(id);
  owed.set(id, sum ? sum.map((figure, axis) => figure + by[axis]) : by);
  if (sum) return;
  line = line.then(settled);
  await line;
  const whole = owed.get(id);
  const one = hands.get(id);
  owed.delete(id);
  const figures = one.read().map((figure, axis) => figure + whole[axis]);
  const edits = one.write(figures, null, whole, whole);
  if (edits.length) await edit(edits, { joined: `hand ${one.id}` });
  one.told.textContent = one.say(figures, null);
}

function drag(event, one) {
  if (event.button || held) return;
  event.preventDefault();
  one.part.focus({ preventScroll: true });
  const from = [event.clientX, event.clientY];
  const start = one.read();
  const per = one.perPixel();
  let at = null;
  held = one;
  const move = (moving) => {
    const by = [moving.clientX - from[0], (from[1] - moving.clientY) * one.upward];
    if (!at && Math.hypot(...by) < STILL) return;
    const far = start.map((figure, axis) => figure + by[axis] * per);
    at = { figures: one.place(far, moving), drop: one.dropped?.(far, moving) ?? null };
    one.show(at.figures, at.drop);
    one.told.textContent = one.say(at.figures, at.drop);
  };
  const end = async (ending) => {
    for (const [name, listener] of listeners) window.removeEventListener(name, listener, true);
    if (at && ending.type === "pointerup") {
      const by = at.figures.map((figure, axis) => figure - start[axis]);
      const edits = one.write(at.figures, at.drop, by);
      if (edits.length) await edit(edits);
      rest();
    } else one.told.textContent = "";
    held = null;
    await settled(); // what was shown stays until the drawing follows
    one.hide();
    after?.();
    after = null;
  };
  const escape = (key) => {
    if (key.key !== "Escape") return;
    key.stopPropagation();
    end(key);
  };
  const listeners = [["pointermove", move], ["pointerup", end], ["pointercancel", end], ["keydown", escape]];
  for (const [name, listener] of listeners) window.addEventListener(name, listener, true);
}

/** Return a part to draw over a drawing. */
export function shape(name, about, classes = "") {
  const part = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(about)) part.setAttribute(key, value);
  if (classes) part.setAttribute("class", classes);
  return part;
}

/** Return a grip that is as large on the screen at any size of the drawing: a dot, or with `square` a square. */
export function grip([x, y], square = false) {
  const group = shape("g", {}, square ? "grip square" : "grip");
  group.append(shape("circle", { cx: x, cy: y, r: 1 }, "reach"));
  for (const name of ["rim", "core"]) group.append(shape("path", { d: `M${x} ${y}h0.001` }, name));
  return group;
}

/** Make what grips reach as large on the screen as it was, after the drawing has another size. */
export function reached(svg) {
  const perPixel = 1 / (svg.getScreenCTM()?.a ?? 1);
  for (const reach of svg.querySelectorAll(".reach")) reach.setAttribute("r", REACH * perPixel);
}

/** Show one shape over a drawing in place of the one before; without a shape none. */
export function ghost(svg, part = null) {
  svg.querySelector(".hand-ghost")?.remove();
  if (!part) return;
  part.classList.add("hand-ghost");
  svg.append(part);
}
