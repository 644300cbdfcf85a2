// The frames of a wall by hand: where one is let go it is pinned; let go over others, it takes its place in their order.

import { hand, ghost, shape } from "/static/hands.js";
import { job } from "/static/job.js";
import { asLength, mmOf } from "/static/lengths.js";
import { groupsOf, joined, nearestPlace, placesFor, put, stepped } from "/static/order.js";
import { marksOf, nearest, overlap } from "/static/plane.js";
import { boxOf } from "/static/sums.js";
import { quoted } from "/static/values.js";

const ROWS = new Set(["centre-line", "flush-top", "flush-base", "stepped"]); // they go on round a frame that is pinned one way
const NEAR = 12; // pixels within which a frame goes to what is near

/** Make the frames of a wall's drawing hands; `at` is the wall's key. */
export function framesByHand({ plane, wall, at, told }) {
  const groups = groupsOf(at, wall);
  const parts = [...plane.svg.querySelectorAll(".hung, .keep-clear, .furniture")].map((part) => ({ part, box: boxOf(part) }));
  const levels = [...plane.svg.querySelectorAll(".eye-line")].map((line) => boxOf(line)[1]);
  for (const part of plane.svg.querySelectorAll(".hung")) {
    const number = wall.frames.findIndex(({ piece, copy }) => piece === part.dataset.piece && String(copy) === part.dataset.copy);
    if (number >= 0) ready(part, number);
  }

  function ready(part, number) {
    const frame = wall.frames[number];
    const said = `${at}.at.${quoted(frame.piece)}`;
    const key = `${at}.at.${quoted(frame.piece.replaceAll('"', '\\"'))}`;
    const box = [frame.left, frame.bottom, frame.width, frame.height];
    const copies = wall.frames.filter(({ piece }) => piece === frame.piece);
    let places = null;
    const others = () => parts.filter((one) => one.part !== part).map((one) => one.box);
    const gap = wall.groups[frame.group - 1]?.gap ?? wall.gap;
    const size = (figures) => [...figures, box[2], box[3]];
    const order = (edits) => [...edits, ...unpinned()];
    const turn = (way, event) => (groups ? (event.shiftKey ? joined : stepped)(number, way, groups, wall) : []);

    part.dataset.role = "frame";
    hand({
      part,
      told,
      id: `frame ${frame.piece} ${frame.copy}`,
      label: `${frame.piece}, copy ${frame.copy}: drag it, or move it with the arrow keys; over others it takes its place in their order, so do Page Up and Page Down, with Shift it stands above or beside its neighbour; Delete lets it go back into its row`,
      read: () => {
        const pin = pins()[frame.copy - 1] ?? {};
        return [mmOf(pin.left, job.plan.units) ?? frame.left, mmOf(pin.bottom, job.plan.units) ?? frame.bottom];
      },
      perPixel: plane.mmPerPixel,
      place: ([left, bottom]) => {
        const near = NEAR * plane.mmPerPixel();
        const ups = [...levels.map((level) => level - box[3] / 2), ...marksOf(1, box[3], others(), gap)];
        return [nearest(left, marksOf(0, box[2], others(), gap), near), nearest(bottom, ups, near)];
      },
      dropped: (figures, event) => (event.shiftKey ? null : placeOver(size(figures))),
      say: (figures, drop) => {
        const [left, up] = figures.map((figure) => asLength(figure, job.plan.step, job.plan.units));
        return drop ? `${frame.piece}: ${drop.says}` : `${frame.piece}: ${left} from the left, ${up} up`;
      },
      show: (figures, drop) => {
        const by = [(figures[0] - box[0]) * plane.perMm, (box[1] - figures[1]) * plane.perMm];
        part.setAttribute("transform", `translate(${by.join(" ")})`);
        ghost(plane.svg, drop && lineOf(drop.line));
      },
      hide: () => {
        part.removeAttribute("transform");
        ghost(plane.svg);
      },
      write: (figures, drop, _by, nudged) => (drop ? order(put(number, drop, groups, wall)) : [{ key, value: pinned(figures, nudged) }]),
      keys: {
        Delete: unpinned,
        Backspace: unpinned,
        PageUp: (event) => order(turn(-1, event)),
        PageDown: (event) => order(turn(1, event)),
      },
    });

    /** Return the place among others that a frame takes where it stands over one of them, or at the end of their row. */
    function placeOver(there) {
      const middle = [there[0] + there[2] / 2, there[1] + there[3] / 2];
      const near = NEAR * plane.mmPerPixel();
      const hung = wall.frames.filter((one, other) => other !== number && !one.pinned).map((one) => [one.left, one.bottom, one.width, one.height]);
      places ??= groups ? placesFor(number, groups, wall) : [];
      if (hung.some((one) => overlap(there, one))) return nearestPlace(middle, places);
      const beside = (one) => [one[0] + one[2] + gap, one[0] - gap - there[2]].some((left) => Math.abs(left - there[0]) <= near);
      const level = (one) => Math.abs(one[1] + one[3] / 2 - middle[1]) <= near;
      return hung.some((one) => beside(one) && level(one)) ? nearestPlace(middle, places.filter(({ trail, beside: with_ }) => !trail.length && with_ === null)) : null;
    }

    function lineOf([from, to]) {
      const [[x1, y1], [x2, y2]] = [plane.paper(from), plane.paper(to)];
      return shape("line", { x1, y1, x2, y2 }, "place");
    }

    /** Return the pins of all copies as the text has them. */
    function pins() {
      const says = (of) => {
        const found = Object.fromEntries(["left", "bottom"].map((name) => [name, job.values[`${of}.${name}`]]).filter(([, value]) => value !== undefined));
        return Object.keys(found).length ? found : null;
      };
      const one = says(said);
      return one ? [one] : copies.map((_, copy) => says(`${said}[${copy + 1}]`)).filter(Boolean);
    }

    /** Return the pins with this copy's at a new place. One that the arrow keys move along one way stays in its row,
     * which goes on round it; copies before it that have no pin stay where they hang. */
    function pinned(figures, nudged) {
      const { step, units } = job.plan;
      const whole = (mm) => asLength(Math.max(0, Math.round(mm / step) * step), step, units);
      const all = pins();
      const before = all[frame.copy - 1] ?? {};
      for (let copy = all.length; copy < frame.copy; copy += 1) {
        const { left, bottom } = copies[copy];
        all.push(inRow(copies[copy]) ? { bottom: whole(bottom) } : { left: whole(left), bottom: whole(bottom) });
      }
      const [left, bottom] = figures.map(whole);
      all[frame.copy - 1] = nudged && inRow(frame) ? { ...before, ...(nudged[0] ? { left } : {}), ...(nudged[1] ? { bottom } : {}) } : { left, bottom };
      return copies.length > 1 ? all : all[0];
    }

    function inRow(one) {
      const { arrange, tree } = groups?.[one.group - 1] ?? { tree: [] };
      return ROWS.has(arrange) && tree.includes(wall.frames.indexOf(one)) && !(one.pinned && one === frame);
    }

    function unpinned() {
      const all = pins();
      const left = all.toSpliced(frame.copy - 1, 1);
      if (left.length === all.length) return [];
      return [{ key, value: left.length ? left : null }];
    }
  }
}
