// The wall by hand, on the pack's own views: what is moved there is written into the job's text, and the views follow.

import { write as send } from "/static/api.js";
import { keepDraft } from "/static/disk.js";
import { drawn } from "/static/drawing.js";
import { holding, reached, shape } from "/static/hands.js";
import { framesByHand } from "/static/hung.js";
import { edit, job, on, settled } from "/static/job.js";
import { cornersByHand, cornersSaid, photographed } from "/static/photograph.js";
import { tabsOf } from "/static/picture.js";
import { planeOf } from "/static/plane.js";
import { thingsByHand } from "/static/things.js";

const ROOM = 4; // mm of paper round a wall
const SIDES = [["", "none"], ["right", "right"], ["left", "left"], ["below", "below"]];

export function wallRoom({ figure, photo, tabs, tools, wrong, told }) {
  let at = 0;
  const texts = new Map(); // the text that each drawing's hands were made for
  const sizes = new ResizeObserver((all) => all.forEach(({ target }) => reached(target)));
  on("answer", show);
  tools.labels.append(...SIDES.map(([value, text]) => new Option(text, value)));
  tools.labels.addEventListener("change", ({ target: { value } }) => settled().then(() => edit(labelled(value))));
  tools.pick.addEventListener("click", () => tools.file.click());
  tools.file.addEventListener("change", take);

  function show() {
    if (holding(show)) return;
    const any = job.walls.length > 0;
    for (const part of [figure, tools.whole, wrong.wall]) part.hidden = !any;
    if (!any) {
      photo.whole.hidden = true;
      tabs.replaceChildren();
      return;
    }
    at = Math.min(at, job.walls.length - 1);
    const several = job.walls.length > 1 ? job.walls : [];
    tabsOf(tabs, several.map(({ name }, number) => ({ id: number, text: name })), at, (number) => {
      at = number;
      show();
    });
    const wall = job.walls[at];
    const here = wallKey();
    const faults = job.errors.filter(({ where }) => where === here || where?.startsWith(`${here}.`));
    const ofPhoto = (one) => one.where.startsWith(`${here}.photo`);
    tell(wrong.wall, faults.find((one) => !ofPhoto(one)), "The wall");
    tell(wrong.photo, faults.find(ofPhoto), "The photograph");
    const hasLabels = Object.keys(job.values).some((key) => key.startsWith(`${here}.labels`));
    tools.side.hidden = !hasLabels && !wall.frames.some(({ piece }) => labelOf(piece));
    tools.labels.value = hasLabels ? (job.values[`${here}.labels.side`] ?? "right") : "";
    tools.pick.textContent = job.values[`${here}.photo.file`] ? "Another photograph of this wall" : "A photograph of this wall";
    put(figure, `wall/${wall.file}.svg`, (svg, over) => {
      closely(svg);
      const about = { plane: planeOf(svg), wall, at: here, told, over };
      thingsByHand(about);
      framesByHand(about);
    });
    photo.whole.hidden = job.values[`${here}.photo.file`] === undefined || !job.pictures.has(`wall/${wall.file}-photo.svg`);
    if (photo.whole.hidden) return;
    photo.note.textContent = cornersSaid(here);
    put(photo.figure, `wall/${wall.file}-photo.svg`, (svg, over) => cornersByHand({ svg, at: here, told, over }));
  }

  function tell(place, fault, what) {
    place.textContent = fault ? `${fault.text}. ${what} is drawn as it was before; Undo takes the last step back.` : "";
  }

  /** Show a drawing, new only where it is another, and make its hands anew; the one in use keeps the focus. */
  function put(place, name, hands) {
    const picture = job.pictures.get(name);
    if (!picture) return;
    const focused = place.contains(document.activeElement) ? document.activeElement.dataset?.hand : null;
    if (place.dataset.drawing !== `${name} ${picture.revision}`) {
      if (place.firstElementChild) sizes.unobserve(place.firstElementChild);
      place.replaceChildren(drawn(picture.svg));
      place.dataset.drawing = `${name} ${picture.revision}`;
    } else if (texts.get(place) === job.text) return;
    texts.set(place, job.text);
    const svg = place.firstElementChild;
    svg.querySelector(".hands")?.remove();
    sizes.observe(svg);
    svg.setAttribute("role", "group");
    const over = shape("g", {}, "hands");
    svg.append(over);
    hands(svg, over);
    reached(svg);
    if (focused) [...svg.querySelectorAll("[data-hand]")].find(({ dataset }) => dataset.hand === focused)?.focus({ preventScroll: true });
  }

  /** The place of the wall in view in the job's text. */
  function wallKey() {
    const found = Object.entries(job.values).find(([key, value]) => /^wall\[\d+\]\.name$/.test(key) && value === job.walls[at].name);
    return found ? found[0].replace(/\.name$/, "") : `wall[${at + 1}]`;
  }

  /** Return the words on the wall beside a piece. */
  function labelOf(piece) {
    const key = Object.entries(job.values).find(([name, value]) => /^piece\[\d+\]\.name$/.test(name) && value === piece)?.[0];
    return key && job.values[key.replace(/name$/, "label")];
  }

  function labelled(side) {
    const key = `${wallKey()}.labels`;
    if (!side) return [{ key, value: null }];
    const up = side === "below" && job.values[`${key}.up`] !== undefined ? [{ key: `${key}.up`, value: null }] : [];
    return [...up, { key: `${key}.side`, value: side }];
  }

  /** Copy a photograph of the wall into the job's folder, and set its corners to begin with. */
  async function take() {
    const [file] = tools.file.files;
    if (!file) return;
    told.textContent = `Copying ${file.name} …`;
    const { status, body } = await send(`/api/photo?name=${encodeURIComponent(file.name)}`, file);
    tools.file.value = "";
    if (status !== 200) {
      told.textContent = `${file.name}: ${body.errors[0].text}`;
      return;
    }
    await settled();
    await edit(photographed(wallKey(), body));
    keepDraft();
  }
}

/** Show of a wall's drawing the wall with its figures alone: tables and title block stand in the documents. */
function closely(svg) {
  const boxes = [...svg.querySelectorAll("#wall, .dimension, .running")].map((part) => part.getBBox());
  const [left, top] = ["x", "y"].map((from) => Math.min(...boxes.map((box) => box[from])) - ROOM);
  const [right, bottom] = [["x", "width"], ["y", "height"]].map(([from, long]) => Math.max(...boxes.map((box) => box[from] + box[long])) + ROOM);
  svg.setAttribute("viewBox", `${left} ${top} ${right - left} ${bottom - top}`);
}
