// Photos dropped or picked: each is copied into the job's folder and becomes a piece; and what suits it to choose from.

import { ask, write } from "/static/api.js";
import { keyOf } from "/static/findings.js";
import { change, choose, edit, job, on } from "/static/job.js";
import { keepDraft, save } from "/static/disk.js";

const SVG = "http://www.w3.org/2000/svg";
/** Keys of a piece that a choice settles; a new one takes the old one's away. */
const SETTLED = ["frame", "turn", "image", "border", "opening", "paper", "mat_supply"];
/** Keys with which a piece has another mat than the one that its frame comes with. */
const OTHER_MAT = ["image", "border", "opening", "mat", "mat_supply", "aperture"];

export function beginRoom({ drop, input, list, told }) {
  for (const name of ["dragenter", "dragover"]) {
    document.addEventListener(name, (event) => {
      if (![...event.dataTransfer.types].includes("Files")) return;
      event.preventDefault();
      drop.classList.add("over");
    });
  }
  document.addEventListener("dragleave", (event) => event.relatedTarget === null && drop.classList.remove("over"));
  document.addEventListener("drop", (event) => {
    if (!event.dataTransfer.files.length) return;
    event.preventDefault();
    drop.classList.remove("over");
    take([...event.dataTransfer.files]);
  });
  input.addEventListener("change", () => {
    if (!job.opened) return; // the page is not ready: it asks again once it is
    take([...input.files]);
    input.value = "";
  });
  on("chosen", offer);
  on("answer", offer);

  /** Copy the photos, one piece each, and frame each as suits it best. */
  async function take(files) {
    const first = !job.saved.there;
    const refused = [];
    for (const [number, file] of files.entries()) {
      told.textContent = `Copying ${file.name}${files.length > 1 ? ` (${number + 1} of ${files.length})` : ""} …`;
      const { status, body } = await write(`/api/photo?name=${encodeURIComponent(file.name)}`, file);
      if (status !== 200) {
        const { text } = body.errors[0];
        refused.push(`Not taken: ${text.includes(file.name) ? "" : `${file.name}, `}${text}.`);
        continue;
      }
      await add(file.name, body);
      told.textContent = "";
    }
    if (first && job.text) await save();
    else keepDraft();
    if (refused.length) told.textContent = refused.join(" ");
  }

  async function add(file, { photo }) {
    const names = Object.entries(job.values).filter(([key]) => /^piece\[\d+\]\.name$/.test(key)).map(([, name]) => name);
    const stem = file.replace(/\.[^.]*$/, "").replaceAll("_", " ").trim() || "Photo";
    let name = stem;
    for (let number = 2; names.includes(name); number += 1) name = `${stem} ${number}`;
    const offered = await offers(photo);
    const keys = offered[0]?.keys ?? { image: { width: "20 cm" }, border: "50 mm" };
    const answer = await ask("/api/edit", { text: job.text, edits: [{ key: `piece[${names.length + 1}]`, value: { name, photo, ...keys } }] });
    if (answer.status !== 200) {
      told.textContent = answer.body.errors[0].text;
      return;
    }
    change(answer.body.text);
    await settled();
    const piece = job.pieces.find((each) => each.name === name);
    if (piece) choose({ piece: piece.file, document: null });
  }

  let shown = "";

  /** Show what suits the photo of the chosen piece. */
  async function offer() {
    const piece = job.pieces.find((each) => each.file === job.chosen.piece);
    const photo = piece && job.values[`${keyOf(piece)}.photo`];
    drop.classList.toggle("empty", !job.pieces.length);
    list.hidden = !photo;
    if (!photo) {
      shown = "";
      return;
    }
    const mark = JSON.stringify([photo, Object.entries(job.values).filter(([key]) => /^(frame|paper|units|step)/.test(key))]);
    if (mark === shown) return marked(piece);
    shown = mark;
    const found = await offers(photo);
    list.replaceChildren(...found.map((choice) => button(choice, photo)));
    marked(piece);
  }

  function button(choice, photo) {
    const made = document.createElement("button");
    made.type = "button";
    made.dataset.role = "choice";
    made.dataset.frame = choice.keys.frame;
    made.dataset.turned = String(choice.keys.turn === true);
    made.dataset.ownMat = String(choice.own_mat);
    made.append(sketch(choice, photo));
    const title = document.createElement("strong");
    title.textContent = `${choice.title}${choice.own ? ", your own" : ""}${choice.own_mat ? ", with its mat" : ""}`;
    const print = document.createElement("span");
    print.textContent = choice.print;
    made.append(title, print);
    made.title = choice.why;
    made.addEventListener("click", () => pick(choice));
    return made;
  }

  async function pick(choice) {
    const piece = job.pieces.find((each) => each.file === job.chosen.piece);
    if (!piece) return;
    const at = keyOf(piece);
    await edit([
      ...[...SETTLED, ...(choice.own_mat ? ["mat"] : [])].filter((name) => !(name in choice.keys)).map((name) => ({ key: `${at}.${name}`, value: null })),
      ...Object.entries(choice.keys).map(([name, value]) => ({ key: `${at}.${name}`, value })),
    ]);
    keepDraft();
  }

  function marked(piece) {
    const at = keyOf(piece);
    const frame = job.values[`${at}.frame`];
    const turned = String(job.values[`${at}.turn`] === true);
    const mats = [...list.children].filter(({ dataset }) => dataset.frame === frame && dataset.turned === turned);
    const other = Object.keys(job.values).some((key) => OTHER_MAT.includes(key.startsWith(`${at}.`) && key.slice(at.length + 1).split(/[.[]/)[0]));
    const own = String(!other && mats.some(({ dataset }) => dataset.ownMat === "true"));
    for (const each of list.children) each.ariaPressed = String(mats.includes(each) && each.dataset.ownMat === own);
  }
}

async function offers(photo) {
  const { status, body } = await ask("/api/choices", { text: job.text, photo });
  return status === 200 ? body.choices : [];
}

const settled = () => new Promise((done) => {
  if (!job.waiting) return done();
  const seen = on("waiting", () => job.waiting || done());
  return seen;
});

/** A small picture of a choice: frame, mat and photo in their proportions. */
function sketch({ blank, opening, left, top }, photo) {
  const svg = document.createElementNS(SVG, "svg");
  const rim = Math.max(...blank) * 0.04;
  svg.setAttribute("viewBox", `${-rim} ${-rim} ${blank[0] + 2 * rim} ${blank[1] + 2 * rim}`);
  svg.setAttribute("aria-hidden", "true");
  const box = (x, y, wide, high, name) => {
    const part = document.createElementNS(SVG, name === "photo" ? "image" : "rect");
    for (const [key, value] of Object.entries({ x, y, width: wide, height: high })) part.setAttribute(key, value);
    part.classList.add(name);
    svg.append(part);
    return part;
  };
  box(-rim, -rim, blank[0] + 2 * rim, blank[1] + 2 * rim, "rim");
  box(0, 0, ...blank, "board");
  const picture = box(left, top, ...opening, "photo");
  picture.setAttribute("href", `/api/thumbnail?photo=${encodeURIComponent(photo)}`);
  picture.setAttribute("preserveAspectRatio", "xMidYMid slice");
  return svg;
}
