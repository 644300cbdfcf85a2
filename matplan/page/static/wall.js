// The wall by hand: frames are dragged on the pack's own view, and stay where they were put as pins of the job.

import { drawn } from "/static/drawing.js";
import { edit, job, on, rest } from "/static/job.js";
import { asLength } from "/static/lengths.js";
import { boxOf } from "/static/sums.js";

const NEAR = 12; // pixels within which a frame snaps

export function wallRoom({ figure, tabs, wrong, told }) {
  let at = 0;
  on("answer", show);

  function show() {
    figure.hidden = wrong.hidden = !job.walls.length;
    if (!job.walls.length) return;
    at = Math.min(at, job.walls.length - 1);
    tabs.replaceChildren(
      ...(job.walls.length > 1 ? job.walls : []).map((wall, number) => {
        const tab = document.createElement("button");
        tab.type = "button";
        tab.role = "tab";
        tab.textContent = wall.name;
        tab.ariaSelected = String(number === at);
        tab.addEventListener("click", () => {
          at = number;
          show();
        });
        return tab;
      }),
    );
    const here = wallKey();
    const fault = job.errors.find(({ where }) => where === here || where?.startsWith(`${here}.`));
    wrong.textContent = fault ? `${fault.text}. The wall is drawn as it was before; Undo takes the last step back.` : "";
    const name = `wall/${job.walls[at].file}.svg`;
    const picture = job.pictures.get(name);
    if (!picture || figure.dataset.drawing === `${name} ${picture.revision}`) return;
    const focused = document.activeElement?.dataset?.role === "frame" ? document.activeElement : null;
    const again = focused && [focused.dataset.piece, focused.dataset.copy];
    const svg = drawn(picture.svg);
    svg.setAttribute("role", "group");
    figure.replaceChildren(svg);
    figure.dataset.drawing = `${name} ${picture.revision}`;
    for (const hung of svg.querySelectorAll(".hung")) ready(hung, svg);
    if (again) [...svg.querySelectorAll("[data-role=frame]")].find((one) => one.dataset.piece === again[0] && one.dataset.copy === again[1])?.focus({ preventScroll: true });
  }

  function ready(hung, svg) {
    hung.dataset.role = "frame";
    hung.tabIndex = 0;
    hung.setAttribute("role", "button");
    hung.setAttribute("aria-label", `${hung.dataset.piece}, copy ${hung.dataset.copy}: drag it, or move it with the arrow keys; Delete lets it go back into its row`);
    hung.addEventListener("pointerdown", (event) => drag(event, hung, svg));
    hung.addEventListener("keydown", (event) => {
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
      if (event.key === "Delete" || event.key === "Backspace") {
        event.preventDefault();
        edit([{ key: pinKey(hung), value: null }]);
      }
      if (!way) return;
      event.preventDefault();
      const step = job.plan.step * (event.shiftKey ? 10 : 1);
      const [left, bottom] = boxOf(hung);
      pin(hung, left + way[0] * step, bottom + way[1] * step, "nudge");
    });
  }

  function drag(event, hung, svg) {
    if (event.button) return;
    event.preventDefault();
    hung.focus({ preventScroll: true });
    const box = boxOf(hung);
    const wall = boxOf(svg.querySelector("#wall"));
    const outline = svg.querySelector("#wall").getBoundingClientRect();
    const perMm = outline.width / wall[2];
    const paperPerMm = perMm / svg.getScreenCTM().a;
    const others = [...svg.querySelectorAll(".hung")].filter((one) => one !== hung).map(boxOf);
    const from = [event.clientX, event.clientY];
    let place = null;
    const move = (moving) => {
      const left = box[0] + (moving.clientX - from[0]) / perMm;
      const bottom = box[1] - (moving.clientY - from[1]) / perMm;
      place = snapped([left, bottom, box[2], box[3]], others, job.walls[at], NEAR / perMm);
      hung.setAttribute("transform", `translate(${(place[0] - box[0]) * paperPerMm} ${(box[1] - place[1]) * paperPerMm})`);
      told.textContent = `${hung.dataset.piece}: ${asLength(place[0], job.plan.step, job.plan.units)} from the left, ${asLength(place[1], job.plan.step, job.plan.units)} up`;
    };
    const end = (ending) => {
      window.removeEventListener("pointermove", move);
      window.removeEventListener("pointerup", end);
      window.removeEventListener("pointercancel", end);
      if (place && ending.type === "pointerup") pin(hung, place[0], place[1], null);
      else hung.removeAttribute("transform");
    };
    window.addEventListener("pointermove", move);
    window.addEventListener("pointerup", end);
    window.addEventListener("pointercancel", end);
  }

  const quoted = (name) => (/^[A-Za-z0-9_-]+$/.test(name) ? name : `"${name.replaceAll('"', '\\"')}"`);
  const pinKey = (hung) => `${wallKey()}.at.${quoted(hung.dataset.piece)}`;

  /** The place of the wall in view in the job's text. */
  function wallKey() {
    const found = Object.entries(job.values).find(([key, value]) => /^wall\[\d+\]\.name$/.test(key) && value === job.walls[at].name);
    return found ? found[0].replace(/\.name$/, "") : `wall[${at + 1}]`;
  }

  /** Write a frame's place as a pin; of several copies each has its own. */
  async function pin(hung, left, bottom, joined) {
    const { step, units } = job.plan;
    const place = ([x, y]) => ({ left: asLength(Math.round(x / step) * step, step, units), bottom: asLength(Math.round(y / step) * step, step, units) });
    const copies = job.walls[at].frames.filter((frame) => frame.piece === hung.dataset.piece);
    const mine = Number(hung.dataset.copy);
    const value = copies.length > 1
      ? copies.map((frame) => place(frame.copy === mine ? [left, bottom] : [frame.left, frame.bottom]))
      : place([left, bottom]);
    const [, , wide, high] = boxOf(hung);
    hung.dataset.box = `${left} ${bottom} ${wide} ${high}`;
    await edit([{ key: pinKey(hung), value }], { joined: joined && `${joined} ${pinKey(hung)}` });
    if (!joined) rest();
  }
}

/** Return a frame's place, drawn to what is near: the eye line, the gap beside a neighbour, a neighbour's edges. */
function snapped([left, bottom, wide, high], others, wall, near) {
  const gap = Number(wall.gap ?? 60);
  const xs = others.flatMap(([x, , w]) => [x, x + w - wide, x + (w - wide) / 2, x + w + gap, x - gap - wide]);
  const ys = [wall.eye - high / 2, ...others.flatMap(([, y, , h]) => [y, y + h - high, y + (h - high) / 2, y + h + gap, y - gap - high])];
  return [nearest(left, xs, near), nearest(bottom, ys, near)];
}

function nearest(value, marks, near) {
  const best = marks.reduce((one, mark) => (Math.abs(mark - value) < Math.abs(one - value) ? mark : one), Infinity);
  return Math.abs(best - value) <= near ? best : value;
}
