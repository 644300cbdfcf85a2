// The job in view: its text is the truth; the plan, the faults and the drawings follow from it.
//
// Everything that changes the job goes through `change`. Listeners are told by name: "text" (the text has changed),
// "answer" (plan, faults and drawings of the newest text are here), "sheets" (the search for sheets has ended),
// "chosen" (another piece, wall or document is looked at), "waiting".

import { ask, get } from "/static/api.js";

const teller = new EventTarget();

export const job = {
  text: "",
  revision: 0,
  plan: null,
  pieces: [], // as the plan has them, in the order of the job
  walls: [],
  errors: [],
  pictures: new Map(), // the newest drawing of each name
  looked: new Map(), // the text that each drawing was asked for last
  sums: {}, // of each piece, by its file
  documents: {}, // the drawings of each piece: their names in the pack and what they are
  sheets: [], // the layouts of stock sheets, once they are found: { file, title, about }
  values: {}, // what the text says, by key: { "piece[1].image.width": "24 cm" }
  lines: {}, // the line of each key
  chosen: { piece: null, document: null, at: null }, // files; the place in the text of a piece that has no picture
  from: null, // the part of the page that made the last change
  waiting: false,
};

export const on = (name, listener) => teller.addEventListener(name, (event) => listener(event.detail));
export const tell = (name, detail) => teller.dispatchEvent(new CustomEvent(name, { detail }));

const past = [];
const future = [];
const MOST = 500;

/** Take a new text. `joined` names a kind of edit whose steps count as one for undo (a drag, typing in one field). */
export function change(text, { joined = null, from = null } = {}) {
  if (text === job.text) return;
  const last = past.at(-1);
  if (!joined || !last || last.joined !== joined) {
    past.push({ text: job.text, joined });
    if (past.length > MOST) past.shift();
  }
  future.length = 0;
  taken(text, from);
}

export const canUndo = () => past.length > 0;
export const canRedo = () => future.length > 0;

export function undo() {
  const step = past.pop();
  if (!step) return;
  future.push({ text: job.text, joined: null });
  taken(step.text);
}

export function redo() {
  const step = future.pop();
  if (!step) return;
  past.push({ text: job.text, joined: null });
  taken(step.text);
}

/** End a run of joined edits: the next one is a step of its own. */
export function rest() {
  const last = past.at(-1);
  if (last) last.joined = null;
}

/** Begin with a text that is not a step to undo. */
export function begin(text) {
  past.length = future.length = 0;
  taken(text);
}

function taken(text, from = null) {
  job.text = text;
  job.from = from;
  tell("text", { from });
  answered();
}

let line = Promise.resolve();

/** Change keys of the job: `edits` are [{ key, value }], a value as one writes it in the job, null to take it away. */
export function edit(edits, about) {
  line = line.then(() => edited(edits, about)); // one after another, so that none is lost
  return line;
}

/** Wait until every edit is made and answered: `values` are of the text then. */
export async function settled() {
  await line;
  while (job.waiting) await new Promise((told) => teller.addEventListener("waiting", told, { once: true }));
}

async function edited(edits, { joined = null, from = null } = {}) {
  const answer = await ask("/api/edit", { text: job.text, edits });
  if (answer.status !== 200) {
    tell("refused", { edits, errors: answer.body.errors });
    return false;
  }
  change(answer.body.text, { joined, from });
  return true;
}

// One request at a time: while one is under way, only the newest text waits for its turn.
let under = false;
let again = false;

async function answered(walls = false) {
  if (under) {
    again = true;
    return;
  }
  under = true;
  job.waiting = true;
  tell("waiting");
  do {
    again = false;
    const text = job.text;
    const names = walls ? wallsWanted() : wanted();
    const answer = await ask(`/api/plan?${query(names)}`, text);
    if (answer.body.revision) for (const name of names) job.looked.set(name, text);
    const { piece } = job.chosen;
    takeIn(answer);
    again ||= piece !== null && job.chosen.piece !== piece; // its picture is not here yet
    walls = false; // what waits for its turn wants what is in view
  } while (again);
  under = false;
  job.waiting = false;
  tell("waiting");
  if (!again && wallsWanted().some(old)) await answered(true);
  else sheets(job.revision);
}

/** Whether a drawing is missing, or of an earlier text. */
const old = (name) => !job.pictures.has(name) || job.looked.get(name) !== job.text;

function query(names) {
  const asked = new URLSearchParams();
  asked.set("since", String(job.revision));
  for (const name of names) asked.append("show", name);
  return asked;
}

/** The drawings in view, which are drawn first; before any piece is known, the first one's. */
function wanted() {
  const { piece, document: name } = job.chosen;
  return piece ? [...new Set([name, `front/${piece}.svg`].filter(Boolean))] : ["front/first"];
}

/** The walls, which are drawn once the hands rest. */
const wallsWanted = () => job.walls.map((wall) => `wall/${wall.file}.svg`);

function takeIn({ status, body }) {
  const place = job.pieces.findIndex(({ file }) => file === job.chosen.piece);
  if (body.revision) {
    job.revision = body.revision;
    if (body.values) job.values = body.values;
    if (body.plan) merge(body.plan, body.order_of_pieces, status !== 200);
    if (body.lines) job.lines = body.lines;
    Object.assign(job.sums, body.sums);
    Object.assign(job.documents, body.documents);
    for (const [name, svg] of Object.entries(body.pictures)) job.pictures.set(name, { svg, revision: body.revision });
  }
  job.errors = body.errors ?? [];
  job.sound = status === 200;
  if (!job.pieces.some((piece) => piece.file === job.chosen.piece)) {
    const next = job.pieces[Math.max(place, 0)] ?? job.pieces.at(-1); // it has another name, or what follows is looked at
    job.chosen = { piece: next?.file ?? null, document: null, at: null };
  }
  tell("answer");
}

function merge(part, order, faulty) {
  const { pieces, walls, ...rest } = part;
  job.plan = { ...(job.plan ?? {}), ...rest };
  const known = new Map([...job.pieces, ...pieces].map((piece) => [piece.file, piece]));
  job.pieces = (faulty ? withFaulty("piece", job.pieces, order) : order).map((file) => known.get(file)).filter(Boolean);
  if (!walls) return;
  const hung = new Map([...job.walls, ...walls].map((wall) => [wall.file, wall]));
  const files = walls.map(({ file }) => file);
  job.walls = (faulty ? withFaulty("wall", job.walls, files) : files).map((file) => hung.get(file));
}

/** A piece or a wall with a fault keeps its place and its last picture, so that nothing jumps under the hands. */
function withFaulty(kind, before, order) {
  const name = new RegExp(`^${kind}\\[\\d+\\]\\.name$`);
  const named = new Set(Object.entries(job.values).filter(([key]) => name.test(key)).map(([, value]) => value));
  const kept = before.filter((each) => order.includes(each.file) || named.has(each.name)).map(({ file }) => file);
  return [...new Set([...kept, ...order])];
}

async function sheets(revision) {
  await new Promise((rested) => setTimeout(rested, 300));
  while (revision === job.revision && job.sound) {
    const answer = await get(`/api/stock?revision=${revision}`);
    if (revision !== job.revision) return;
    if (answer.status === 202) continue;
    if (answer.body.plan) {
      const { pieces, ...rest } = answer.body.plan;
      job.plan = { ...job.plan, ...rest };
    }
    if (answer.body.errors?.length) job.errors = answer.body.errors;
    const { body } = await get(`/api/documents?revision=${revision}`);
    if (revision !== job.revision) return;
    job.files = body.documents ?? [];
    job.sheets = job.files.filter(({ file }) => file.startsWith("sheets/") || file.startsWith("sticks/"));
    for (const { file } of job.sheets) job.pictures.delete(file);
    tell("sheets");
    return;
  }
}

/** Take a drawing that needs the search for sheets. */
async function fetched(name) {
  if (job.pictures.has(name)) return;
  const { status, body } = await get(`/api/document?revision=${job.revision}&file=${encodeURIComponent(name)}`);
  if (status !== 200) return;
  job.pictures.set(name, { svg: await body.text(), revision: job.revision });
  tell("chosen");
}

/** Look at a piece, or at a document by its name in the pack. */
export function choose({ piece = job.chosen.piece, document: name = job.chosen.document, at = null }) {
  job.chosen = { piece, document: name, at };
  tell("chosen");
  if (name && job.sheets.some(({ file }) => file === name)) fetched(name);
  else if (wanted().some(old)) answered();
}
